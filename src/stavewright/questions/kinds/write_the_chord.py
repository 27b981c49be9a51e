"""Write a named chord of a key in its position, under the signature or with accidentals."""

from __future__ import annotations

from random import Random
from typing import Annotated

from msgspec import Meta

from stavewright.questions.documents import Answer, NotesForm, Slip, Step, TextBlock
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_document import Fifths
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.chord_places import close_chords
from stavewright.questions.setting.picking import pick_clef, pick_key
from stavewright.questions.showing.chords import written_chord
from stavewright.questions.showing.rows import empty_row
from stavewright.questions.showing.two_notes import spoken_signature
from stavewright.questions.solving.chords import counted_up
from stavewright.questions.solving.scales import as_written
from stavewright.questions.values import Value, WrittenNote
from stavewright.questions.wording import Wording
from stavewright.questions.written import ClefName, KeyText
from stavewright.score.stave import Score
from stavewright.score.writing import SIGN
from stavewright.syllabus.scope import Scope
from stavewright.theory.chord import ROMANS, ChordLabel, chord_notes
from stavewright.theory.clef import CLEFS
from stavewright.theory.degree import degree_name
from stavewright.theory.interval import ordinal
from stavewright.theory.key import Key, key_of
from stavewright.theory.pitch import NoteName, Pitch, pitch_at

_TRIES = 20
_VALUE = "semibreve"
_PARTS = ("root", "third", "fifth")
_POSITIONS = ("root position", "first inversion", "second inversion")
_SIX_FOUR = {"II": "IV", "IV": "II"}


class WriteTheChord(Facts, frozen=True, forbid_unknown_fields=True):
    """A key, a clef, the signature that is printed (None: the pupil writes accidentals), and the chord by its label."""

    clef: ClefName
    key: KeyText
    label: Annotated[str, Meta(pattern=r"^(I|II|III|IV|V|VI|VII)[bc]?\Z", max_length=4)]
    fifths: Fifths | None = None


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    if not scope.inversions or not scope.triads:
        return None
    for _ in range(_TRIES):
        clef, key = pick_clef(scope, rng), pick_key(scope, rng)
        label = ChordLabel(ROMANS.index(rng.choice(scope.triads)) + 1, rng.randrange(3))
        places = close_chords(scope, clef, key, label) if key is not None else ()
        if key is None or not places:
            continue
        fifths = key.fifths if key.fifths and rng.random() < 0.5 else None
        meant = []
        for pitch in rng.choice(places):
            given = fifths is not None and key.alter_of(pitch.step) == pitch.alter
            sign = None if given or (fifths is None and not pitch.alter) else SIGN[pitch.alter]
            meant.append(WrittenNote(pitch.step, octave=pitch.octave, type=_VALUE, accidental=sign))
        expected = Value(notes=tuple(meant), clef=clef, signature=fifths)
        return Draft(WriteTheChord(clef, key.text, label.text, fifths), expected)
    return None


def _pose(facts: WriteTheChord, wording: Wording) -> Posed:
    signature = spoken_signature(facts.fifths)
    if wording.choosing:
        under = ", under its key signature" if signature else ", without a key signature"
        under = under if _key(facts).fifths else ""
        return Posed((TextBlock(f"Which answer is chord {facts.label} of {facts.key}{under}?"),))
    how = "The key signature is printed." if signature else "There is no key signature: write the accidentals it needs."
    how = how if _key(facts).fifths else "Write any accidental it needs."
    ask = (
        f"Write chord {facts.label} of {facts.key} with three semibreves, one above the other, each note of the chord "
        f"once. {how}"
    )
    alt = f"An empty stave with the {facts.clef} clef{f' and {signature}' if signature else ''}."
    given = document_of(empty_row(facts.clef, 1, facts.fifths))
    form = NotesForm(given, count=3, values=(_VALUE,), free=True, alt=wording.say(alt))
    return Posed((TextBlock(wording.say(ask)),), form)


def _key(facts: WriteTheChord) -> Key:
    return Key.parse(facts.key)


def _label(facts: WriteTheChord) -> ChordLabel:
    return ChordLabel.parse(facts.label)


def _placed(facts: WriteTheChord, names: tuple[NoteName, ...]) -> tuple[Pitch, ...]:
    """Names one above the other, the first on the lowest line or space of its letter from just below the stave."""
    place = CLEFS[facts.clef].bottom_line.diatonic - 1
    found: list[Pitch] = []
    for name in names:
        place += (name.index - place) % 7
        found.append(pitch_at(place, name.alter))
        place += 1
    return tuple(found)


def _value(facts: WriteTheChord, names: tuple[NoteName, ...]) -> Value:
    pitches = _placed(facts, names)
    return Value(notes=as_written(pitches, facts.clef, facts.fifths, _VALUE), clef=facts.clef, signature=facts.fifths)


def _text(names: tuple[NoteName, ...]) -> str:
    return ", ".join(name.text for name in names)


def _solve(facts: WriteTheChord) -> tuple[Answer, ...]:
    label = _label(facts)
    names = chord_notes(_key(facts), label)
    root = chord_notes(_key(facts), ChordLabel(label.degree))[0]
    low = f"its {_PARTS[label.inversion]}, {names[0].text}, is lowest"
    why = f"Chord {label.numeral} of {facts.key} stands on {root.text}; {low}: {label.position}."
    wide = (names[0], names[2], names[1])
    spread = "The two upper notes may change places: the lowest note alone tells the position."
    return (answer(_value(facts, names), _text(names), why), answer(_value(facts, wide), _text(wide), spread))


def _slips(facts: WriteTheChord) -> tuple[Slip, ...]:
    key, label = _key(facts), _label(facts)
    names = chord_notes(key, label)
    found: list[Slip] = []

    def add(name: str, wrong: tuple[NoteName, ...], remedy: str, *, steady: bool = False) -> None:
        found.append(slip(name, _value(facts, wrong), _text(wrong), remedy, steady=steady))

    root_in_bass = chord_notes(key, ChordLabel(label.degree))
    low = f"Which note must be lowest? {label.position.capitalize()} has the {_PARTS[label.inversion]} there."
    if label.inversion:
        add("written in root position", root_in_bass, low)
        other = ChordLabel(label.degree, 3 - label.inversion)
        add("first and second inversion mixed up", chord_notes(key, other), low)
        by_bass = ChordLabel((label.degree + 2 * label.inversion - 1) % 7 + 1, 0)
        hint = f"The numeral names the root, {root_in_bass[0].text}, not the lowest note."
        add("bass taken for the root", chord_notes(key, by_bass), hint)
    else:
        add("written as an inversion", names[1:] + names[:1], low)
    if label.numeral in _SIX_FOUR:
        mixed = ChordLabel(ROMANS.index(_SIX_FOUR[label.numeral]) + 1, label.inversion)
        hint = f"Count up from the tonic: {label.numeral} stands on the {ordinal(label.degree)} note."
        add("II and IV confused", chord_notes(key, mixed), hint)
    natural = chord_notes(key, label, "natural")
    if natural != names:
        add("leading note not raised", natural, "In a minor key chord V has the raised 7th.")
    under = key_of(facts.fifths or 0, "major")
    bare = tuple(NoteName(name.step, under.alter_of(name.step)) for name in names)
    if bare != natural or facts.fifths is None:
        add("signs left out", bare, "Think of the key's own sharps or flats: which of the three notes has one?")
    away = chord_notes(key.relative, label)
    add("counted in the relative key", away, f"The key is {key.text}: its first note is {key.tonic.text}.", steady=True)
    if label.degree > 1:
        down = chord_notes(key, ChordLabel(9 - label.degree, label.inversion))
        add("counted down", down, "Count up the scale from the tonic, the tonic being 1.")
    return tuple(found)


def _neighbours(facts: WriteTheChord) -> tuple[Value, ...]:
    """The chord with one of its notes moved by a semitone."""
    names = chord_notes(_key(facts), _label(facts))
    near = []
    for at in range(3):
        for by in (-1, 1):
            if abs(names[at].alter + by) <= 1:
                moved = NoteName(names[at].step, names[at].alter + by)
                near.append(_value(facts, (*names[:at], moved, *names[at + 1 :])))
    return tuple(near)


def _work(facts: WriteTheChord, method: str) -> tuple[Step, ...]:
    key, label = _key(facts), _label(facts)
    stack = chord_notes(key, ChordLabel(label.degree))
    names = chord_notes(key, label)
    named = f". The {ordinal(label.degree)} note, the {degree_name(label.degree)}, is {stack[0].text}"
    steps = [
        Step(
            f"{counted_up(key, label.degree)}{named if label.degree > 1 else ''}: the root.",
            (),
            stack[0].short,
        ),
        Step(
            f"Build thirds on it, leaving out every other letter: {_text(stack)}.",
            (),
            " ".join(name.short for name in stack),
        ),
    ]
    raised = [name for name in names if name.alter != key.alter_of(name.step)]
    if raised:
        steps.append(
            Step(f"In a minor key chord {label.numeral} has the raised 7th: {raised[0].text}, with its sign.", (), "")
        )
    letter = "abc"[label.inversion]
    said = f"{label.position.capitalize()} ({letter}) has the {_PARTS[label.inversion]} lowest: {names[0].text}."
    steps.append(Step(f"{said} Write {_text(names)} from the lowest up.", (), letter))
    signed = [name.text for name in names if name.alter]
    own = f"the signs of {' and '.join(signed)} are written" if signed else "no note needs a sign"
    but = " but the raised 7th" if raised else ""
    check = f"are all signs{but} in the key signature?" if facts.fifths is not None else f"{own}."
    steps.append(Step(f"Check: {check}"))
    return tuple(steps)


def _faults(facts: WriteTheChord, value: Value) -> int | None:
    """The right chord in a wrong position is one fault; all else is counted note by note."""
    pitches = [pitch for event in _draw(facts, value).sounding() for pitch in event.pitches]
    names = chord_notes(_key(facts), _label(facts))
    if len(value.notes or ()) != len(names) or {pitch.name for pitch in pitches} != set(names):
        return None
    return None if min(pitches, key=lambda pitch: pitch.midi).name == names[0] else 1


def _draw(facts: WriteTheChord, value: Value) -> Score:
    return written_chord(value, facts.clef, facts.fifths)


def _difficulty(facts: WriteTheChord) -> float:
    """Inversions, chord II, more signs, minor, own accidentals and C clefs make it harder (common practice)."""
    key, label = _key(facts), _label(facts)
    return (
        -0.6
        + 0.4 * bool(label.inversion)
        + 0.2 * (label.degree == 2)
        + 0.1 * abs(key.fifths)
        + 0.2 * key.is_minor
        + 0.2 * (facts.fifths is None)
        + 0.2 * (facts.clef in ("alto", "tenor"))
    )


KIND = Kind(
    id="write-the-chord",
    topic="chords",
    since=5,
    title="Write the named chord",
    facts=WriteTheChord,
    forms={"written": "notes", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"write-the-chord/{facts.label} {Key.parse(facts.key).mode}",
    pool=lambda scope: 3 * len(scope.triads) * len(scope.clefs) * sum(2 if key.fifths else 1 for key in scope.keys),
    seconds=60,
    marking=Marking("minus-one-per-fault", octave=False, stacked=True),
    marks=2,
    draw=_draw,
    faults=_faults,
    neighbours=_neighbours,
    shows=lambda facts: frozenset({f"signature:{facts.key}"} if facts.fifths is not None else ()),
)
