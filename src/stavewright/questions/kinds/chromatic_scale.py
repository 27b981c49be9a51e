"""Write a chromatic scale, complete one, or pick the one that is rightly written."""

from __future__ import annotations

from collections.abc import Sequence
from random import Random
from typing import Annotated

from msgspec import Meta

from stavewright.questions.documents import Answer, NotesForm, Slip, StaveBlock, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.picking import pick_key
from stavewright.questions.setting.scale_rows import chromatic_row, on_paper
from stavewright.questions.setting.scales import pick_place
from stavewright.questions.showing.pictures import picture
from stavewright.questions.showing.rows import empty_row, note_row, with_gaps
from stavewright.questions.solving.chromatic import (
    MOST_SIGNS,
    Row,
    conventions,
    every_letter_sharp,
    fillings,
    letter_missing,
    letter_three_times,
    row_faults,
)
from stavewright.questions.solving.scales import as_written, names_of
from stavewright.questions.values import Value, WrittenNote
from stavewright.questions.wording import Wording
from stavewright.questions.written import ClefName, LowOctave, NameText
from stavewright.score.stave import Score
from stavewright.syllabus.scope import Scope
from stavewright.theory.enharmonic import twin_pitches
from stavewright.theory.interval import ordinal
from stavewright.theory.pitch import NoteName, Pitch
from stavewright.theory.scale import is_chromatic, scale_pitches

_VALUE = "semibreve"
_COUNT = 13
_WAYS = {"up": "ascending", "down": "descending"}
_GAPS = 3


class ChromaticScale(Facts, frozen=True, forbid_unknown_fields=True):
    """A chromatic scale of one octave: lower tonic and its octave, direction, and the form of the model answer.

    `missing` are the places (from 0) of notes left out of the printed row; where it is empty the whole scale is asked.

    Raises:
        BadDocument: the scale would need triple signs.
    """

    clef: ClefName
    tonic: NameText
    octave: LowOctave
    direction: Annotated[str, Meta(pattern=r"^(up|down)\Z", max_length=4)]
    form: Annotated[str, Meta(pattern=r"^(harmonic|melodic)\Z", max_length=8)] = "harmonic"
    mode: Annotated[str, Meta(pattern=r"^(major|minor)\Z", max_length=5)] = "major"
    missing: Annotated[tuple[Annotated[int, Meta(ge=1, le=11)], ...], Meta(max_length=6)] = ()

    def __post_init__(self) -> None:
        rows = conventions(_start(self), self.form, self.mode, up=self.direction == "up")
        if len(rows) < 1 or len(set(self.missing)) < len(self.missing):
            raise BadDocument(f"no chromatic scale on {self.tonic} with these gaps: choose a tonic with fewer signs")


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    key = pick_key(scope, rng) if scope.chromatic else None
    placed = None if key is None else pick_place(scope, rng, key.tonic)
    if key is None or placed is None:
        return None
    clef, octave = placed
    direction = rng.choice(("up", "down"))
    rows = {form: chromatic_row(key, form, direction, octave) for form in ("harmonic", "melodic")}
    signs = {form: sum(abs(pitch.alter) for pitch in row) for form, row in rows.items() if row is not None}
    if not signs:
        return None
    form = rng.choice([form for form, count in signs.items() if count == min(signs.values())])
    row = rows[form] or ()
    written = on_paper(row, clef, None)
    missing: tuple[int, ...] = ()
    if rng.random() < 0.5:
        free = [at for at in range(1, _COUNT - 1) if written[at].accidental != "natural"]
        missing = tuple(sorted(rng.sample(free, _GAPS)))
    notes = tuple(
        WrittenNote(row[at].step, row[at].alter, row[at].octave, _VALUE, 0, written[at].accidental)
        for at in missing or range(_COUNT)
    )
    facts = ChromaticScale(clef, key.tonic.text, octave, direction, form, key.mode, missing)
    return Draft(facts, Value(notes=notes, clef=clef))


def _low(facts: ChromaticScale) -> Pitch:
    tonic = NoteName.parse(facts.tonic)
    return Pitch(tonic.step, tonic.alter, facts.octave)


def _start(facts: ChromaticScale) -> Pitch:
    return _low(facts) if facts.direction == "up" else _low(facts).shifted(1)


def _rows(facts: ChromaticScale) -> tuple[tuple[Row, str], ...]:
    return conventions(_start(facts), facts.form, facts.mode, up=facts.direction == "up")


def _given(facts: ChromaticScale) -> Score:
    """The printed row with a gap for every missing note."""
    if not facts.missing:
        return empty_row(facts.clef, _COUNT, None, _VALUE)
    return with_gaps(note_row(_value(facts, _rows(facts)[0][0], whole=True), facts.clef), facts.missing)


def _pose(facts: ChromaticScale, wording: Wording) -> Posed:
    way = f"{_WAYS[facts.direction]} from {facts.tonic}"
    if not facts.missing:
        if wording.choosing:
            return Posed((TextBlock(f"Which answer is a chromatic scale {way}, rightly written?"),))
        ask = f"Write the chromatic scale {way}, one octave, in semibreves. Use accidentals, not a key signature."
        alt = f"An empty stave with the {facts.clef} clef, with room for {_COUNT} notes."
        form = NotesForm(document_of(_given(facts)), _COUNT, (_VALUE,), alt=wording.say(alt))
        return Posed((TextBlock(wording.say(ask)),), form)
    given = _given(facts)
    block = StaveBlock(document_of(given), wording.say(picture(given)))
    if wording.choosing:
        return Posed((TextBlock(f"Which answer is this chromatic scale, {way}, with its missing notes?"), block))
    ask = f"Write the {len(facts.missing)} missing notes of this chromatic scale, {way}."
    return Posed((TextBlock(ask),), NotesForm(block.score, len(facts.missing), (_VALUE,), alt=block.alt))


def _value(facts: ChromaticScale, row: Row, *, whole: bool = False) -> Value:
    written = as_written(row, facts.clef, None, _VALUE)
    places = range(len(row)) if whole or not facts.missing else facts.missing
    return Value(notes=tuple(written[place] for place in places), clef=facts.clef)


def _text(facts: ChromaticScale, row: Row) -> str:
    return names_of([row[place] for place in facts.missing] if facts.missing else row)


def _reads(facts: ChromaticScale, row: Row) -> bool:
    """Whether the missing notes of a row, written between those that are printed, make the row sound."""
    notes = list(as_written(_rows(facts)[0][0], facts.clef, None, _VALUE))
    own = as_written(row, facts.clef, None, _VALUE)
    for place in facts.missing:
        notes[place] = own[place]
    return _pitches(facts, notes) == row


def _pitches(facts: ChromaticScale, notes: Sequence[WrittenNote]) -> Row:
    return tuple(note.pitch for note in note_row(Value(notes=tuple(notes)), facts.clef).notes())


def _solve(facts: ChromaticScale) -> tuple[Answer, ...]:
    (model, reason), *others = _rows(facts)
    found = [answer(_value(facts, model), _text(facts, model), reason)]
    if not facts.missing:
        return (*found, *(answer(_value(facts, row), _text(facts, row), why) for row, why in others))
    for row in fillings(model, facts.missing, lambda made: _reads(facts, made)):
        why = "Also right: the sounds are the same, and each letter comes once or twice."
        found.append(answer(_value(facts, row), _text(facts, row), why))
    return tuple(found)


def _slips(facts: ChromaticScale) -> tuple[Slip, ...]:
    return _gap_slips(facts) if facts.missing else _row_slips(facts)


def _row_slips(facts: ChromaticScale) -> tuple[Slip, ...]:
    low, up = _low(facts), facts.direction == "up"
    found: list[Slip] = []

    def add(name: str, row: Row | None, remedy: str) -> None:
        if row is None:
            return
        turned = row if up else row[::-1]
        found.append(slip(name, _value(facts, turned), names_of(turned), remedy))

    hint = "Count each letter: once or twice, never three times (the upper tonic is not counted)."
    add("a letter three times", letter_three_times(low), hint)
    add("a letter missing", letter_missing(low), "Say the letters in order: every one must come at least once.")
    major = scale_pitches(low, "major")
    add(
        "every letter with its sharp",
        every_letter_sharp(major),
        "Where two letters are a semitone apart, write them plain.",
    )
    right = _rows(facts)[0][0] if up else _rows(facts)[0][0][::-1]
    twins = [twin for twin in twin_pitches(right[-1]) if abs(twin.alter) <= MOST_SIGNS]
    add("upper tonic under another name", (*right[:-1], twins[0]), "Begin and end on a note of the same name.")
    add("major scale", major, "A chromatic scale goes by semitones only: thirteen notes.")
    return tuple(found)


def _gap_slips(facts: ChromaticScale) -> tuple[Slip, ...]:
    model = _rows(facts)[0][0]
    found: list[Slip] = []

    def add(name: str, made: dict[int, Pitch], remedy: str) -> None:
        row = tuple(made.get(at, pitch) for at, pitch in enumerate(model))
        if all(abs(pitch.alter) <= MOST_SIGNS for pitch in row):
            found.append(slip(name, _value(facts, row), _text(facts, row), remedy))

    gaps = {at: model[at] for at in facts.missing}
    step = "Each note is a semitone from the one before: touch the keys one by one."
    add("signs left out", {at: pitch.altered(-pitch.alter) for at, pitch in gaps.items()}, step)
    add("a semitone too high", {at: pitch.altered(1) for at, pitch in gaps.items()}, step)
    add("a semitone too low", {at: pitch.altered(-1) for at, pitch in gaps.items()}, step)
    for at, pitch in gaps.items():
        for twin in twin_pitches(pitch):
            row = tuple(twin if place == at else one for place, one in enumerate(model))
            if not is_chromatic(row, model[0].name):
                hint = "The sound is right, but count the letters: each comes once or twice."
                add("a letter too often or missing", {at: twin}, hint)
    return tuple(found)


def _faults(facts: ChromaticScale, value: Value) -> int | None:
    """Any spelling that keeps the rule of letters is right, in any octave where the whole scale is written."""
    notes = value.notes or ()
    if facts.missing:
        if len(notes) != len(facts.missing):
            return max(1, abs(len(facts.missing) - len(notes)))
        row = list(as_written(_rows(facts)[0][0], facts.clef, None, _VALUE))
        for place, note in zip(facts.missing, notes, strict=True):
            row[place] = note
        notes = tuple(row)
    clef = int(value.clef not in (None, facts.clef))
    return clef + row_faults(_pitches(facts, notes), NoteName.parse(facts.tonic), up=facts.direction == "up")


def _work(facts: ChromaticScale, method: str) -> tuple[Step, ...]:
    (row, reason), *_ = _rows(facts)
    half = names_of(row[:7]), names_of(row[6:])
    steps = [
        Step(f"Thirteen notes from {facts.tonic} to {facts.tonic}, each a semitone from the next.", (), "13"),
        Step(reason, (), "each letter 1 or 2"),
    ]
    if facts.missing:
        which = ", ".join(ordinal(place + 1) for place in facts.missing)
        ids = tuple(f"g{number}" for number, _ in enumerate(facts.missing, 1))
        steps.append(Step(f"The gaps are the notes {which}; name the notes beside each gap.", ids, which))
        steps.append(Step(f"They are {_text(facts, row)}.", ids, _text(facts, row)))
    else:
        steps.append(Step(f"The first half: {half[0]}.", (), ""))
        steps.append(Step(f"The second half: {half[1]}.", (), ""))
    steps.append(Step("Check: every letter is there, none more than twice; the upper tonic is not counted."))
    return tuple(steps)


def _draw(facts: ChromaticScale, value: Value) -> Score:
    if not facts.missing:
        return note_row(value, facts.clef)
    row = list(as_written(_rows(facts)[0][0], facts.clef, None, _VALUE))
    given = value.notes or ()
    for place, note in zip(facts.missing, given, strict=False):
        row[place] = note
    drawn = note_row(Value(notes=tuple(row)), facts.clef)
    return drawn if len(given) >= len(facts.missing) else with_gaps(drawn, facts.missing)


def _difficulty(facts: ChromaticScale) -> float:
    """Writing it all, coming down, far tonics and the C clefs make it harder (common practice)."""
    tonic = NoteName.parse(facts.tonic)
    whole = 0.4 * (not facts.missing)
    return (
        -0.2
        + whole
        + 0.1 * abs(tonic.fifths)
        + 0.2 * (facts.direction == "down")
        + 0.2 * (facts.clef in ("alto", "tenor"))
    )


KIND = Kind(
    id="chromatic-scale",
    topic="scales",
    since=4,
    title="Chromatic scale",
    facts=ChromaticScale,
    forms={"written": "notes", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"chromatic-scale/{'complete' if facts.missing else 'write'} {facts.direction}",
    pool=lambda scope: None,
    seconds=90,
    marking=Marking("minus-one-per-fault"),
    marks=3,
    draw=_draw,
    faults=_faults,
    asks=lambda facts: frozenset({f"scale:{facts.tonic} chromatic"}),
)
