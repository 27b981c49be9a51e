"""Write the tonic triad of a named key in root position, under its signature or with accidentals."""

from __future__ import annotations

from random import Random

from stavewright.questions.documents import Answer, NotesForm, Slip, Step, TextBlock
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_document import Fifths, Word
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.chord_places import close_chords
from stavewright.questions.setting.picking import pick_clef, pick_key
from stavewright.questions.showing.chords import written_chord
from stavewright.questions.showing.rows import empty_row
from stavewright.questions.showing.two_notes import spoken_signature
from stavewright.questions.values import Value, WrittenNote
from stavewright.questions.wording import Wording
from stavewright.questions.written import ClefName
from stavewright.score.stave import Score
from stavewright.score.writing import SIGN
from stavewright.syllabus.scope import Scope
from stavewright.theory.chord import ChordLabel
from stavewright.theory.clef import CLEFS
from stavewright.theory.interval import Interval, between
from stavewright.theory.key import Key, signature_alter
from stavewright.theory.pitch import Pitch
from stavewright.theory.transposition import transpose

_TONIC = ChordLabel(1)
_TRIES = 20
_LOWEST, _HIGHEST = -5, 13
_LEDGER = -2


class WriteTheTonicTriad(Facts, frozen=True, forbid_unknown_fields=True):
    """A key, a clef, and the signature that is printed (None: the pupil writes accidentals)."""

    clef: ClefName
    key: Word
    fifths: Fifths | None = None


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    for _ in range(_TRIES):
        clef, key = pick_clef(scope, rng), pick_key(scope, rng)
        places = close_chords(scope, clef, key, _TONIC) if key is not None else ()
        if key is not None and places:
            fifths = key.fifths if key.fifths and rng.random() < 0.5 else None
            meant = ", ".join(pitch.name.text for pitch in places[0])
            return Draft(WriteTheTonicTriad(clef, key.text, fifths), meant)
    return None


def _pose(facts: WriteTheTonicTriad, wording: Wording) -> Posed:
    signature = spoken_signature(facts.fifths)
    how = "The key signature is printed." if signature else "There is no key signature: write the accidentals it needs."
    how = how if Key.parse(facts.key).fifths else ""
    if wording.choosing:
        with_signs = ", under its key signature," if signature else ", without a key signature,"
        with_signs = with_signs if Key.parse(facts.key).fifths else ""
        close = "in root position, its notes as close as can be"
        return Posed((TextBlock(f"Which is the tonic triad of {facts.key}{with_signs} {close}?"),))
    ask = f"Write the tonic triad of {facts.key} in root position, as semibreves, its notes as close as can be."
    alt = f"An empty stave with the {facts.clef} clef{f' and {signature}' if signature else ''}."
    given = document_of(empty_row(facts.clef, 1, facts.fifths))
    form = NotesForm(given, count=3, values=("semibreve",), free=True, alt=wording.say(alt))
    return Posed((TextBlock(wording.say(f"{ask} {how}".strip())),), form)


def _tonic(facts: WriteTheTonicTriad) -> Pitch:
    """The lowest tonic that stands on the stave or on the first ledger line below it."""
    return next(root for root in _roots(facts) if CLEFS[facts.clef].place(root) >= _LEDGER)


def _roots(facts: WriteTheTonicTriad) -> tuple[Pitch, ...]:
    """Every tonic on which the triad keeps within two ledger lines of the stave, the lowest first."""
    tonic = Key.parse(facts.key).tonic
    places = (CLEFS[facts.clef].pitch_at(place) for place in range(_LOWEST, _HIGHEST - 3))
    return tuple(pitch.altered(tonic.alter) for pitch in places if pitch.step == tonic.step)


def _triad(root: Pitch, mode: str) -> tuple[Pitch, ...]:
    third = Interval("M" if mode == "major" else "m", 3)
    return (root, transpose(root, third), transpose(root, Interval("P", 5)))


def _value(facts: WriteTheTonicTriad, pitches: tuple[Pitch, ...]) -> Value:
    plain = facts.fifths or 0
    notes = tuple(
        WrittenNote(
            p.step,
            p.alter,
            p.octave,
            "semibreve",
            0,
            SIGN[p.alter] if p.alter != signature_alter(plain, p.step) else None,
        )
        for p in pitches
    )
    return Value(notes=notes, clef=facts.clef, signature=facts.fifths)


def _text(pitches: tuple[Pitch, ...]) -> str:
    return ", ".join(pitch.name.text for pitch in pitches)


def _solve(facts: WriteTheTonicTriad) -> tuple[Answer, ...]:
    key = Key.parse(facts.key)
    model = _tonic(facts)
    text = _text(_triad(model, key.mode))
    found = [answer(_value(facts, _triad(model, key.mode)), text, f"The 1st, 3rd and 5th notes of {key.text}: {text}.")]
    for root in _roots(facts):
        if root != model:
            away = root.octave - model.octave
            said = f"{text}, {abs(away)} octave {'higher' if away > 0 else 'lower'}"
            why = "The question names no octave: any that keeps to the stave is right."
            found.append(answer(_value(facts, _triad(root, key.mode)), said, why))
    return tuple(found)


def _slips(facts: WriteTheTonicTriad) -> tuple[Slip, ...]:
    """The wrong triads, first of all in the octave of the model answer."""
    model = _tonic(facts)
    others = [root for root in _roots(facts) if root != model]
    return tuple(one for root in (model, *others) for one in _wrong_on(facts, root))


def _wrong_on(facts: WriteTheTonicTriad, root: Pitch) -> list[Slip]:
    key = Key.parse(facts.key)
    right = _triad(root, key.mode)
    other = "minor" if key.mode == "major" else "major"
    found: list[Slip] = []

    def add(name: str, pitches: tuple[Pitch, ...], remedy: str, *, steady: bool = False, how: str = "") -> None:
        if all(abs(pitch.alter) <= 2 for pitch in pitches):
            found.append(slip(name, _value(facts, pitches), f"{_text(pitches)}{how}", remedy, steady=steady))

    count = "Count the semitones from the lowest note to the middle one: four for major, three for minor."
    add(f"{other} third", _triad(root, other), count)
    bare = tuple(pitch.altered(signature_alter(facts.fifths or 0, pitch.step) - pitch.alter) for pitch in right)
    add("signs left out", bare, "Think of the key's own sharps or flats: which note has one?", steady=True)
    relative = key.relative.tonic
    start = Pitch.from_diatonic(root.diatonic - (root.name.index - relative.index) % 7, relative.alter)
    add("triad of the relative key", _triad(start, key.relative.mode), f"The lowest note must be {key.tonic.text}.")
    turned = (right[1], right[2], root.shifted(1))
    add("not in root position", turned, "In root position the tonic is the lowest note.", steady=True)
    fourth = Pitch.from_diatonic(root.diatonic + 3)
    add("4th for 5th", (root, right[1], fourth.altered(key.alter_of(fourth.step))), "Leave out every other letter.")
    if root == _tonic(facts):
        spread = "Close up the chord: from line to line to line, or from space to space to space."
        add("notes spread apart", (root, right[1].shifted(1), right[2].shifted(1)), spread, how=", spread apart")
    return found


def _neighbours(facts: WriteTheTonicTriad) -> tuple[Value, ...]:
    """The triad with one of its notes moved by a semitone, or the whole of it moved by a step."""
    right = _triad(_tonic(facts), Key.parse(facts.key).mode)
    near = [tuple(p.altered(by) if i == at else p for i, p in enumerate(right)) for at in (1, 2) for by in (-1, 1)]
    key = Key.parse(facts.key)
    for by in (-1, 1):
        moved = [Pitch.from_diatonic(pitch.diatonic + by) for pitch in right]
        near.append(tuple(pitch.altered(key.alter_of(pitch.step)) for pitch in moved))
    return tuple(_value(facts, pitches) for pitches in near if all(abs(p.alter) <= 2 for p in pitches))


def _work(facts: WriteTheTonicTriad, method: str) -> tuple[Step, ...]:
    key = Key.parse(facts.key)
    root, third, fifth = _triad(_tonic(facts), key.mode)
    size = between(root, third)
    letters = f"{root.step} {third.step} {fifth.step}"
    steps = [
        Step(f"The tonic is {root.name.text}: write it lowest.", (), root.name.short),
        Step(f"Leave out every other letter for the other two: {letters.replace(' ', ', ')}.", (), letters),
    ]
    if not key.fifths:
        steps.append(Step(f"{key.text} has no sharps or flats: {_text((root, third, fifth))} need no sign."))
    elif facts.fifths is not None:
        steps.append(Step(f"The key signature gives {_text((root, third, fifth))}: no more signs are needed."))
    else:
        signed = [pitch.name.text for pitch in (root, third, fifth) if pitch.alter]
        said = f"write the signs of {', '.join(signed)}" if signed else "no signs are needed"
        steps.append(Step(f"In {key.text} the notes are {_text((root, third, fifth))}: {said}."))
    check = f"Check: {root.name.text} to {third.name.text} is {size.semitones} semitones, a {size.text}."
    steps.append(Step(check, (), str(size.semitones)))
    return tuple(steps)


def _draw(facts: WriteTheTonicTriad, value: Value) -> Score:
    return written_chord(value, facts.clef, facts.fifths)


def _difficulty(facts: WriteTheTonicTriad) -> float:
    """More signs, minor, writing the accidentals oneself and C clefs make it harder (common practice)."""
    key = Key.parse(facts.key)
    bare = facts.fifths is None
    return -1.3 + (0.15 + 0.05 * bare) * abs(key.fifths) + 0.3 * key.is_minor + 0.2 * (facts.clef in ("alto", "tenor"))


KIND = Kind(
    id="write-the-tonic-triad",
    topic="chords",
    since=1,
    title="Write the tonic triad",
    facts=WriteTheTonicTriad,
    forms={"written": "notes", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"write-the-tonic-triad/{facts.key}",
    pool=lambda scope: len(scope.clefs) * sum(2 if key.fifths else 1 for key in scope.keys),
    seconds=40,
    marking=Marking("minus-one-per-fault", stacked=True),
    marks=2,
    draw=_draw,
    neighbours=_neighbours,
    shows=lambda facts: frozenset({f"signature:{facts.key}"} if facts.fifths is not None else ()),
)
