"""Find the one wrong note in a row of named chords."""

from __future__ import annotations

from random import Random
from typing import Annotated

from msgspec import Meta, Struct

from stavewright.questions.documents import Answer, PlacesForm, Slip, StaveBlock, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.chord_places import close_chords
from stavewright.questions.setting.picking import pick_clef, pick_key
from stavewright.questions.showing.two_notes import spoken_notes, spoken_signature
from stavewright.questions.values import Place, Value
from stavewright.questions.wording import Wording
from stavewright.questions.written import ClefName, KeyText, PitchText
from stavewright.score.event import Chord
from stavewright.score.stave import Bar, Score, Stave
from stavewright.score.writing import with_accidentals
from stavewright.syllabus.scope import Scope
from stavewright.theory.chord import ROMANS, ChordLabel, chord_notes
from stavewright.theory.duration import Duration
from stavewright.theory.interval import ordinal
from stavewright.theory.key import Key
from stavewright.theory.metre import TimeSignature
from stavewright.theory.pitch import Pitch

_TRIES = 20
_CHORDS = 3
_LONG = Duration("semibreve")
_STEP_SHARE = 0.5


class NamedChord(Struct, frozen=True, forbid_unknown_fields=True):
    """A chord as it is printed, lowest note first, and the label under it."""

    label: Annotated[str, Meta(pattern=r"^(I|II|III|IV|V|VI|VII)[bc]?\Z", max_length=4)]
    notes: Annotated[tuple[PitchText, ...], Meta(min_length=3, max_length=4)]


class ChordFault(Facts, frozen=True, forbid_unknown_fields=True):
    """A key, whose signature is printed, and named chords, one a bar, with one wrong note among them."""

    clef: ClefName
    key: KeyText
    chords: Annotated[tuple[NamedChord, ...], Meta(min_length=1, max_length=6)]


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    if len(scope.triads) < _CHORDS:
        return None
    for _ in range(_TRIES):
        clef, key = pick_clef(scope, rng), pick_key(scope, rng)
        if key is None:
            return None
        labels = [
            ChordLabel(ROMANS.index(numeral) + 1, rng.randrange(3) if scope.inversions else 0)
            for numeral in rng.sample(scope.triads, _CHORDS)
        ]
        places = [close_chords(scope, clef, key, label) for label in labels]
        if not all(places):
            continue
        rows = [list(rng.choice(found)) for found in places]
        at, note = rng.randrange(_CHORDS), rng.randrange(3)
        wrong = _spoil(rows[at], note, key, scope, clef, rng)
        if wrong is None:
            continue
        rows[at][note] = wrong
        chords = tuple(
            NamedChord(label.text, tuple(pitch.short for pitch in row)) for label, row in zip(labels, rows, strict=True)
        )
        return Draft(ChordFault(clef, key.text, chords), Value(places=(Place(at + 1, note + 1),)))
    return None


def _spoil(row: list[Pitch], note: int, key: Key, scope: Scope, clef: str, rng: Random) -> Pitch | None:
    """Another note in the place of one: a step away, or the same letter with another sign."""
    low, high = scope.range_of(clef)
    right = row[note]
    if rng.random() < _STEP_SHARE:
        bare = Pitch.from_diatonic(right.diatonic + rng.choice((-1, 1)))
        wrong = bare.altered(key.alter_of(bare.step))
    elif right.alter != key.alter_of(right.step):
        wrong = right.altered(key.alter_of(right.step) - right.alter)
    else:
        wrong = right.altered(rng.choice((-1, 1)))
    others = [pitch for index, pitch in enumerate(row) if index != note]
    crowded = any(abs(wrong.diatonic - pitch.diatonic) < 1 for pitch in others)
    printable = not wrong.alter or wrong.alter in scope.alters
    if crowded or not printable or not low.diatonic <= wrong.diatonic <= high.diatonic:
        return None
    return wrong


def _rows(facts: ChordFault) -> tuple[tuple[Pitch, ...], ...]:
    return tuple(tuple(Pitch.parse(note) for note in chord.notes) for chord in facts.chords)


def _score(facts: ChordFault) -> Score:
    bars = []
    for number, (chord, row) in enumerate(zip(facts.chords, _rows(facts), strict=True), 1):
        line = "final" if number == len(facts.chords) else "single"
        bars.append(Bar(((Chord(row, _LONG, id=f"n{number}", label=chord.label),),), line=line))
    stave = Stave(facts.clef, tuple(bars), Key.parse(facts.key).fifths, TimeSignature(4, 4))
    return with_accidentals(Score((stave,)))


def _pose(facts: ChordFault, wording: Wording) -> Posed:
    score = _score(facts)
    said = spoken_notes(score).split(", then ")
    bars = [
        f"Bar {n}, {chord.label}: {notes}" for n, (chord, notes) in enumerate(zip(facts.chords, said, strict=True), 1)
    ]
    alt = f"{facts.clef.capitalize()} clef with {spoken_signature(score.staves[0].fifths)}. {'. '.join(bars)}."
    ask = (
        f"The key is {facts.key}. Each chord has its name under it, but one note of one chord is wrong. "
        "In which bar is it, and which note of the chord is it? Count from the lowest note: 1, 2, 3."
    )
    return Posed(
        (TextBlock(wording.say(ask)), StaveBlock(document_of(score), wording.say(alt))), PlacesForm("notes", 1)
    )


def _wrong_places(facts: ChordFault) -> list[Place]:
    """Every note that its chord does not have.

    Raises:
        BadDocument: not exactly one note is wrong.
    """
    key = Key.parse(facts.key)
    found = [
        Place(bar, number)
        for bar, (chord, row) in enumerate(zip(facts.chords, _rows(facts), strict=True), 1)
        for number, pitch in enumerate(row, 1)
        if pitch.name not in chord_notes(key, ChordLabel.parse(chord.label))
    ]
    if len(found) != 1:
        raise BadDocument(f"{len(found)} notes of the chords are wrong, where the question says one is")
    return found


def _place(facts: ChordFault) -> Place:
    return _wrong_places(facts)[0]


def _text(place: Place) -> str:
    return f"bar {place.bar}, {ordinal(place.note or 1)} note from the lowest"


def _at(facts: ChordFault) -> tuple[NamedChord, Pitch, str]:
    """The chord with the fault, the wrong note, and the name of the note that should stand there."""
    place = _place(facts)
    chord, row = facts.chords[place.bar - 1], _rows(facts)[place.bar - 1]
    wrong = row[(place.note or 1) - 1]
    there = {pitch.name for pitch in row}
    names = chord_notes(Key.parse(facts.key), ChordLabel.parse(chord.label))
    right = next((name.text for name in names if name not in there), names[0].text)
    return chord, wrong, right


def _names(facts: ChordFault, label: str) -> str:
    return ", ".join(name.text for name in chord_notes(Key.parse(facts.key), ChordLabel.parse(label)))


def _solve(facts: ChordFault) -> tuple[Answer, ...]:
    place = _place(facts)
    chord, wrong, right = _at(facts)
    why = (
        f"Chord {chord.label} of {facts.key} has the notes {_names(facts, chord.label)}: {wrong.name.text} is wrong, "
        f"it should be {right}."
    )
    return (answer(Value(places=(place,)), _text(place), why),)


def _slips(facts: ChordFault) -> tuple[Slip, ...]:
    key, right, rows = Key.parse(facts.key), _place(facts), _rows(facts)
    found: list[Slip] = []

    def add(name: str, place: Place, remedy: str) -> None:
        if place != right:
            found.append(slip(name, Value(places=(place,)), _text(place), remedy))

    size = len(rows[right.bar - 1])
    add("counted from the top", Place(right.bar, size + 1 - (right.note or 1)), "Count from the lowest note, as 1.")
    for bar, row in enumerate(rows, 1):
        for number, pitch in enumerate(row, 1):
            if pitch.name == key.leading_note and pitch.alter != key.alter_of(pitch.step):
                hint = "In a minor key chord V has the raised 7th: its sign is right."
                add("raised 7th taken for a fault", Place(bar, number), hint)
            elif pitch.alter != key.alter_of(pitch.step):
                add("any sign taken for a fault", Place(bar, number), "Spell the chord first, then look at the signs.")
    for number in range(1, size + 1):
        hint = "This note belongs to the chord: spell the chord and cross off its notes one by one."
        add("right chord, wrong note", Place(right.bar, number), hint)
    for bar in range(1, len(rows) + 1):
        if bar != right.bar:
            hint = (
                f"Chord {facts.chords[bar - 1].label} has all its notes: {_names(facts, facts.chords[bar - 1].label)}."
            )
            add("chord not spelt out", Place(bar, right.note), hint)
    return tuple(found)


def _work(facts: ChordFault, method: str) -> tuple[Step, ...]:
    key, place = Key.parse(facts.key), _place(facts)
    chord, wrong, right = _at(facts)
    raised = key.is_minor and any(one.label.rstrip("bc") == "V" for one in facts.chords)
    own = ", the raised 7th of a minor key among them" if raised else ""
    spelt = [f"{one.label}: {_names(facts, one.label)}" for one in facts.chords]
    return (
        Step(f"Spell each chord in {facts.key}. {'; '.join(spelt)}.", (), chord.label),
        Step(
            f"Cross off the notes of each chord: in bar {place.bar} {wrong.name.text} is left over.",
            (f"n{place.bar}",),
            wrong.name.short,
        ),
        Step(f"Counted from the lowest it is the {ordinal(place.note or 1)} note. It should be {right}.", (), right),
        Step(f"Check: do the other chords have just their own notes{own}?"),
    )


def _difficulty(facts: ChordFault) -> float:
    """Inversions, minor, more signs, C clefs, and a fault of a sign alone make it harder (common practice)."""
    key = Key.parse(facts.key)
    chord, wrong, _ = _at(facts)
    letters = {name.step for name in chord_notes(key, ChordLabel.parse(chord.label))}
    return (
        -0.5
        + 0.3 * any(one.label[-1] in "bc" for one in facts.chords)
        + 0.08 * abs(key.fifths)
        + 0.2 * key.is_minor
        + 0.2 * (wrong.step in letters)
        + 0.2 * (facts.clef in ("alto", "tenor"))
    )


KIND = Kind(
    id="chord-fault",
    topic="chords",
    since=4,
    title="Find the wrong note in a chord",
    facts=ChordFault,
    forms={"written": "places", "on-screen": "places"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"chord-fault/{_at(facts)[0].label} {Key.parse(facts.key).mode}",
    pool=lambda scope: None,
    seconds=60,
    marking=Marking("all-or-nothing"),
    marks=2,
    shows=lambda facts: frozenset({f"signature:{facts.key}"}),
)
