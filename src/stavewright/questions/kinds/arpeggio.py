"""Write the arpeggio of a tonic triad, or name the key of a written one."""

from __future__ import annotations

from random import Random
from typing import Annotated

from msgspec import Meta

from stavewright.questions.comparing import compare
from stavewright.questions.documents import Answer, NotesForm, Slip, Step, TextBlock, WordsForm
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.reading import read_words
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.picking import pick, pick_key
from stavewright.questions.setting.scales import DIRECTIONS, fitting_clefs, fitting_octave, spelled_notes
from stavewright.questions.showing.rows import empty_row, note_row
from stavewright.questions.showing.two_notes import notes_block
from stavewright.questions.solving.arpeggios import climb, tonic_names, turned
from stavewright.questions.solving.scales import as_written, names_of, octaves_on_the_stave
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.questions.written import ClefName, Direction, KeyText, LowOctave, ValueName
from stavewright.score.stave import Score
from stavewright.syllabus.scope import Scope
from stavewright.theory.duration import Duration
from stavewright.theory.key import Key, key_of, signature_text
from stavewright.theory.pitch import NoteName, Pitch

_WORDS = {"up": "ascending", "down": "descending", "both": "ascending and descending"}
_NAME_SHARE = 0.3
_MARKS = 2
_CHORD = (0, 2, 4, 7)


class Arpeggio(Facts, frozen=True, forbid_unknown_fields=True):
    """A key, the octave of its lower tonic, clef, direction and note value; whether its signature is printed.

    `ask` is "write" (the arpeggio) or "name" (the key of the written one).
    """

    clef: ClefName
    key: KeyText
    octave: LowOctave
    direction: Direction
    signature: bool
    value: ValueName = "crotchet"
    ask: Annotated[str, Meta(pattern=r"^(write|name)\Z", max_length=5)] = "write"


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    key = pick_key(scope, rng)
    clefs = fitting_clefs(key.tonic, scope) if key is not None else ()
    if key is None or not clefs:
        return None
    clef = pick(rng, clefs, scope.fresh.get("clefs", ()))
    octave = fitting_octave(key.tonic, clef, scope)
    if octave is None:
        return None
    direction = rng.choice(DIRECTIONS)
    signature = bool(key.fifths) and rng.random() < 0.5
    value = rng.choice(("semibreve", "minim", "crotchet", "crotchet"))
    ask = "name" if rng.random() < _NAME_SHARE else "write"
    facts = Arpeggio(clef, key.text, octave, direction, signature, value, ask)
    if ask == "name":
        return Draft(facts, key.text)
    scale = spelled_notes(key.tonic, "natural minor" if key.is_minor else "major", "up")
    names = [scale[degree] for degree in _CHORD]
    rows = {"up": names, "down": names[::-1], "both": [*names, *names[-2::-1]]}
    return Draft(facts, " ".join(rows[direction]))


def _key(facts: Arpeggio) -> Key:
    return Key.parse(facts.key)


def _fifths(facts: Arpeggio) -> int | None:
    return _key(facts).fifths if facts.signature else None


def _row(facts: Arpeggio, names: tuple[NoteName, ...] = (), octave: int | None = None) -> tuple[Pitch, ...]:
    """Four notes up from the lower tonic (or from the first of other names), turned as the question says."""
    start = facts.octave if octave is None else octave
    return turned(climb(names or tonic_names(_key(facts)), start, 4), facts.direction)


def _value(facts: Arpeggio, row: tuple[Pitch, ...]) -> Value:
    fifths = _fifths(facts)
    return Value(notes=as_written(row, facts.clef, fifths, facts.value), clef=facts.clef, signature=fifths)


def _pose(facts: Arpeggio, wording: Wording) -> Posed:
    fifths, direction = _fifths(facts), _WORDS[facts.direction]
    if facts.ask == "name":
        block = notes_block(note_row(_value(facts, _row(facts)), facts.clef, fifths))
        ask = "This is a tonic arpeggio. Name its key, major or minor."
        if wording.choosing:
            return Posed((TextBlock("This is a tonic arpeggio. Which key is it in?"), block))
        return Posed((TextBlock(ask), block), WordsForm("phrase"))
    if wording.choosing:
        return Posed((TextBlock(wording.say(f"Which is the tonic arpeggio of {facts.key}, {direction}?")),))
    how = "The key signature is there already." if facts.signature else "Use accidentals, not a key signature."
    notes = Duration(facts.value).name(plural=True)
    ask = f"Write the tonic arpeggio of {facts.key}, {direction}, one octave, in {notes}, beginning on the tonic."
    count = len(_row(facts))
    signature = f" and a key signature of {signature_text(fifths)}" if fifths is not None else ""
    alt = wording.say(f"An empty stave with the {facts.clef} clef{signature}, with room for {count} notes.")
    given = document_of(empty_row(facts.clef, count, fifths, facts.value))
    signs = how if _key(facts).fifths else ""
    return Posed((TextBlock(wording.say(f"{ask} {signs}".strip())),), NotesForm(given, count, (facts.value,), alt=alt))


def _solve(facts: Arpeggio) -> tuple[Answer, ...]:
    key = _key(facts)
    names = tonic_names(key)
    chord = ", ".join(name.text for name in names)
    if facts.ask == "name":
        why = f"The notes {chord} are the 1st, 3rd and 5th of {key.text}; {names[0].text} is lowest and highest."
        return (answer(Value(words=key.text), key.text, why),)
    text = names_of(_row(facts))
    why = f"The 1st, 3rd and 5th notes of {key.text} are {chord}, and the tonic again ends it."
    found = []
    for octave in octaves_on_the_stave(key.tonic, facts.clef, facts.octave):
        said, reason = text, why
        if octave != facts.octave:
            said = f"{text}, {abs(octave - facts.octave)} octave {'higher' if octave > facts.octave else 'lower'}"
            reason = "The question names no octave: any that keeps to the stave is right."
        found.append(answer(_value(facts, _row(facts, octave=octave)), said, reason))
    return tuple(found)


def _slips(facts: Arpeggio) -> tuple[Slip, ...]:
    return _named_wrong(facts) if facts.ask == "name" else _written_wrong(facts)


def _named_wrong(facts: Arpeggio) -> tuple[Slip, ...]:
    key = _key(facts)
    found: list[Slip] = []

    def add(name: str, wrong: Key, remedy: str) -> None:
        found.append(slip(name, Value(words=wrong.text), wrong.text, remedy))

    other = "minor" if key.mode == "major" else "major"
    if abs(key.tonic.fifths - (3 if other == "minor" else 0)) <= 7:
        hint = "Count the semitones from the lowest note to the next: four for major, three for minor."
        add(f"{other} for {key.mode}", Key(key.tonic, other), hint)
    add("relative key", key.relative, "The lowest note of a tonic arpeggio is its tonic.")
    third = tonic_names(key)[1]
    if abs(third.fifths) <= 7:
        add("named after the second note", Key(third, "major"), "The tonic is the note it starts from and ends on.")
    fifth = tonic_names(key)[2]
    if abs(fifth.fifths - (3 if key.is_minor else 0)) <= 7:
        add("named after the 5th", Key(fifth, key.mode), "The tonic is the note that comes twice, low and high.")
    return tuple(found)


def _written_wrong(facts: Arpeggio) -> tuple[Slip, ...]:
    key = _key(facts)
    first, third, fifth = tonic_names(key)
    found: list[Slip] = []

    def add(name: str, row: tuple[Pitch, ...], remedy: str, *, steady: bool = False) -> None:
        if all(abs(pitch.alter) <= 2 for pitch in row):
            found.append(slip(name, _value(facts, row), names_of(row), remedy, steady=steady))

    hint = f"An arpeggio has all three notes of the chord in turn: {first.text}, {third.text}, {fifth.text}."
    skipped = climb((first, fifth, first, third), facts.octave, 4)
    add("a chord note skipped", turned(skipped, facts.direction), hint)
    by = -1 if key.mode == "major" else 1
    other = NoteName(third.step, third.alter + by)
    mode = "minor" if key.mode == "major" else "major"
    size = "four" if key.mode == "major" else "three"
    add(f"{mode} 3rd", _row(facts, (first, other, fifth)), f"A {key.mode} 3rd is {size} semitones.", steady=True)
    if not facts.signature and any(name.alter for name in (first, third, fifth)):
        bare = tuple(pitch.altered(-pitch.alter) for pitch in _row(facts))
        add("signs left out", bare, "Say the sharps or flats of the key first.", steady=True)
    hint = f"The key is {key.text}: begin on {key.tonic.text}."
    add("arpeggio of the relative key", _row(facts, tonic_names(key.relative)), hint, steady=True)
    add("begun on the 3rd", _row(facts, (third, fifth, first)), hint, steady=True)
    fourth = Pitch.from_diatonic(7 * 4 + first.index + 3).step
    in_key = NoteName(fourth, key.alter_of(fourth))
    add("4th for 5th", _row(facts, (first, third, in_key)), "Leave out every other letter.")
    steps = [NoteName(step, key.alter_of(step)) for step in ("CDEFGAB" * 2)[first.index : first.index + 4]]
    add("scale steps for chord notes", _row(facts, tuple(steps)), "Leave out every other letter.", steady=True)
    if facts.direction != "both":
        add("wrong direction", _row(facts)[::-1], "Read again: up or down?", steady=True)
    return tuple(found)


def _neighbours(facts: Arpeggio) -> tuple[Value, ...]:
    """Keys a fifth away in the same mode, where a key is to be named."""
    key = _key(facts)
    if facts.ask != "name":
        return ()
    return tuple(Value(words=key_of(key.fifths + by, key.mode).text) for by in (-1, 1) if abs(key.fifths + by) <= 7)


def _work(facts: Arpeggio, method: str) -> tuple[Step, ...]:
    key = _key(facts)
    first, third, fifth = tonic_names(key)
    size = "a major 3rd, four semitones" if key.mode == "major" else "a minor 3rd, three semitones"
    short = f"{first.short} {third.short} {fifth.short}"
    if facts.ask == "name":
        ids = tuple(f"n{number}" for number in range(1, len(_row(facts)) + 1))
        return (
            Step(f"The note it begins and ends on is {first.text}: that is the tonic.", (ids[0], ids[-1]), first.short),
            Step(f"The three letters of the chord are {first.text}, {third.text}, {fifth.text}.", ids[1:3], short),
            Step(f"From {first.text} to {third.text} is {size}: the key is {key.text}.", ids[:2], key.short),
            Step(f"Check: {key.text} has {signature_text(key.fifths)}; do all signs of the notes agree?"),
        )
    count = signature_text(key.fifths)
    signs = ", ".join(sign.text for sign in key.signature)
    return (
        Step(f"{key.text} has {count}{': ' + signs if signs else ''}.", (), " ".join(s.short for s in key.signature)),
        Step(f"The 1st, 3rd and 5th notes are {first.text}, {third.text} and {fifth.text}.", (), short),
        Step(f"In turn, {_WORDS[facts.direction]}, with the upper tonic: {names_of(_row(facts))}.", (), ""),
        Step(f"Check: from {first.text} to {third.text} is {size}; no line or space is used twice running.", (), ""),
    )


def _faults(facts: Arpeggio, value: Value) -> int | None:
    """A wrong key is wrong altogether; other note values than those asked for are one fault of a written arpeggio."""
    if facts.ask != "name":
        if not any(note.type not in (None, facts.value) or note.dots for note in value.notes or ()):
            return None
        return 1 + min(compare(value, one.value[0], KIND.marking).faults for one in _solve(facts))
    return 0 if value.words is not None and read_words(value.words) == read_words(facts.key) else _MARKS


def _draw(facts: Arpeggio, value: Value) -> Score:
    fifths = _fifths(facts)
    written = _value(facts, _row(facts)) if value.notes is None else value
    return note_row(written, facts.clef, fifths, facts.value)


def _difficulty(facts: Arpeggio) -> float:
    """More signs, minor, coming down, own accidentals and the C clefs make it harder (common practice)."""
    key = _key(facts)
    return (
        -1.1
        + 0.15 * abs(key.fifths)
        + 0.3 * key.is_minor
        + 0.1 * (facts.direction != "up")
        + 0.1 * (not facts.signature)
        + 0.3 * (facts.clef in ("alto", "tenor"))
    )


def _pool(scope: Scope) -> int:
    """Keys in their clefs, three directions, three note values, written or named, with the signature or without."""
    return sum((36 if key.fifths else 18) * len(fitting_clefs(key.tonic, scope)) for key in scope.keys)


KIND = Kind(
    id="arpeggio",
    topic="chords",
    since=2,
    title="Arpeggios",
    facts=Arpeggio,
    forms={"written": "notes", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"arpeggio/{facts.ask} {_key(facts).mode}",
    pool=_pool,
    seconds=45,
    marking=Marking("minus-one-per-fault", besides=True),
    marks=_MARKS,
    draw=_draw,
    faults=_faults,
    neighbours=_neighbours,
    shows=lambda facts: frozenset({f"signature:{facts.key}"} if facts.signature and facts.ask == "write" else ()),
)
