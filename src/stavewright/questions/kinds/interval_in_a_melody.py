"""Name the interval between two marked notes of a melody, with the key signature in force."""

from __future__ import annotations

from random import Random
from typing import Annotated

from msgspec import Meta, structs

from stavewright.questions.documents import Answer, Slip, Step, TextBlock, WordsForm
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed
from stavewright.questions.melodies import Extract, Melodies, Stimulus
from stavewright.questions.score_document import BracketDocument, Line, NoteDocument, ScoreDocument, Word
from stavewright.questions.score_mirror import document_of
from stavewright.questions.showing.extract import extract_blocks
from stavewright.questions.solving.intervals import (
    METHODS,
    Misread,
    interval_answers,
    interval_neighbours,
    interval_slips,
    interval_work,
    split_name,
)
from stavewright.questions.solving.melody_reading import bar_notes, read_note
from stavewright.questions.solving.scale_rows import OTHER_CLEFS
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.score.event import Note
from stavewright.syllabus.scope import Scope
from stavewright.theory.interval import Interval, between
from stavewright.theory.pitch import Pitch

_TRIES = 4
_BARS = 4
_SIGNED_SHARE = 0.6
_LEAP_SHARE = 0.75
Number = Annotated[int, Meta(ge=0, le=400)]


class IntervalInAMelody(Facts, frozen=True, forbid_unknown_fields=True):
    """The extract as it is printed, and two neighbouring notes of it by printed bar number and place in the bar.

    `block` names the shared picture; "" where the question prints its own, with a bracket. `wide`: compounds are asked.
    """

    extract: ScoreDocument
    first_bar: Number
    first_note: Number
    second_bar: Number
    second_note: Number
    block: Word = ""
    credit: Line = ""
    wide: bool = False


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    if stimulus is not None:
        return _drawn(scope, rng, stimulus.extract, stimulus.document, stimulus.block)
    for _ in range(_TRIES if melodies is not None else 0):
        extract = melodies.melody(scope, rng, bars=_BARS) if melodies is not None else None
        if extract is not None:
            draft = _drawn(scope, rng, extract, document_of(extract.score), "")
            if draft is not None:
                return draft
    return None


def _drawn(scope: Scope, rng: Random, extract: Extract, document: ScoreDocument, block: str) -> Draft | None:
    """Two neighbouring notes whose interval the scope asks: signed notes and leaps favoured, for they ask more."""
    score = extract.score
    if len(score.staves) != 1 or any(len(bar.voices) > 1 for bar in score.staves[0].bars):
        return None
    found: list[tuple[Note, int, int, Note, int, int, Interval]] = []
    before: tuple[Note, int, int] | None = None
    for index, bar in enumerate(score.staves[0].bars):
        place = 0
        for event in bar.events:
            if not isinstance(event, Note):
                before = None
                continue
            if event.grace:
                continue
            place += 1
            if before is not None and not before[0].tie:
                interval = between(before[0].pitch, event.pitch)
                if _asked(scope, extract, before[0].pitch, event.pitch, interval):
                    found.append((*before, event, score.bar_number(index), place, interval))
            before = (event, score.bar_number(index), place)
    if not found:
        return None
    signed = [one for one in found if one[0].pitch.alter or one[3].pitch.alter]
    pool = signed if signed and rng.random() < _SIGNED_SHARE else found
    sizes = sorted({one[-1].short for one in pool})
    leaps = [size for size in sizes if not size.endswith("2")]
    size = rng.choice(leaps if leaps and rng.random() < _LEAP_SHARE else sizes)
    chosen = rng.choice([one for one in pool if one[-1].short == size])
    _, bar1, note1, _, bar2, note2, interval = chosen
    credit = "" if block else extract.credit
    facts = IntervalInAMelody(document, bar1, note1, bar2, note2, block, credit, scope.intervals.compound)
    return Draft(facts, interval.text)


def _asked(scope: Scope, extract: Extract, first: Pitch, second: Pitch, interval: Interval) -> bool:
    limits = scope.intervals
    if interval.quality_text not in limits.kinds or (interval.is_compound and not limits.compound):
        return False
    if interval.number == 1:
        return interval.quality == "A"
    low = first if first.diatonic < second.diatonic else second
    return not limits.above_tonic or (extract.key is not None and low.name == extract.key.tonic)


def _pose(facts: IntervalInAMelody, wording: Wording) -> Posed:
    wide = " If it is wider than an octave, your answer must show that." if facts.wide else ""
    if facts.block:
        which = f"{_named(facts.first_bar, facts.first_note)} and {_named(facts.second_bar, facts.second_note)}"
        if facts.first_bar == facts.second_bar:
            which = f"notes {facts.first_note} and {facts.second_note} of {_bar(facts.first_bar)}"
        blocks = extract_blocks(facts.extract, wording, block=facts.block)
    else:
        first, second = (_printed(facts.extract, *at).id for at in _places(facts))
        extract = structs.replace(facts.extract, brackets=(BracketDocument(first, second),))
        which = "the two notes under the bracket"
        if facts.first_bar == facts.second_bar:
            which += f" (notes {facts.first_note} and {facts.second_note} of {_bar(facts.first_bar)})"
        else:
            which += f" ({_named(facts.first_bar, facts.first_note)}, {_named(facts.second_bar, facts.second_note)})"
        blocks = tuple(
            structs.replace(block, id="") for block in extract_blocks(extract, wording, credit=facts.credit)
        )
    if wording.choosing:
        return Posed((TextBlock(wording.say(f"Which interval do {which} make?{wide}")), *blocks))
    ask = f"Name the interval between {which}: give its number and its quality.{wide}"
    return Posed((TextBlock(wording.say(ask)), *blocks), WordsForm("phrase"))


def _bar(number: int) -> str:
    return f"bar {number}" if number else "the upbeat"


def _named(bar: int, note: int) -> str:
    return f"note {note} of {_bar(bar)}"


def _places(facts: IntervalInAMelody) -> tuple[tuple[int, int], tuple[int, int]]:
    return (facts.first_bar, facts.first_note), (facts.second_bar, facts.second_note)


def _printed(extract: ScoreDocument, bar: int, note: int) -> NoteDocument:
    return bar_notes(extract, bar)[note - 1]


def _heard(facts: IntervalInAMelody) -> tuple[Pitch, Pitch]:
    first, second = _places(facts)
    return read_note(facts.extract, *first), read_note(facts.extract, *second)


def _solve(facts: IntervalInAMelody) -> tuple[Answer, ...]:
    return interval_answers(*_heard(facts))


def _slips(facts: IntervalInAMelody) -> tuple[Slip, ...]:
    (bar1, note1), (bar2, note2) = _places(facts)
    extract = facts.extract
    clef = extract.staves[0].clef
    found = [
        Misread(
            "signature forgotten",
            read_note(extract, bar1, note1, fifths=0),
            read_note(extract, bar2, note2, fifths=0),
            "Read the key signature first: it changes notes all along the line.",
            steady=True,
        ),
        Misread(
            "earlier sign in the bar forgotten",
            read_note(extract, bar1, note1, alone=True),
            read_note(extract, bar2, note2, alone=True),
            "A sharp, flat or natural lasts to the end of its bar: look back to the bar line.",
        ),
        Misread(
            "sign carried past the bar line",
            read_note(extract, bar1, note1, carried=True),
            read_note(extract, bar2, note2, carried=True),
            "A sign written in the music ends at the bar line.",
        ),
    ]
    for other in OTHER_CLEFS[clef]:
        first, second = (read_note(extract, *at, clef=other) for at in _places(facts))
        hint = f"This is the {clef} clef: name both notes before you count."
        found.append(Misread(f"read in the {other} clef", first, second, hint, steady=True))
    return interval_slips(*_heard(facts), found)


def _work(facts: IntervalInAMelody, method: str) -> tuple[Step, ...]:
    first, second = _heard(facts)
    ids = tuple(_printed(facts.extract, *at).id for at in _places(facts))
    said = f"With the key signature and the signs of the bar the notes are {first.name.text} and {second.name.text}."
    steps = interval_work(first, second, ids, method)
    named = Step(said, ids, f"{first.name.short} {second.name.short}")
    return (named, *steps) if len(steps) < 6 else (named, *steps[:-2], steps[-1])


def _difficulty(facts: IntervalInAMelody) -> float:
    """Signs in force, altered and compound intervals, C clefs make it harder (common practice)."""
    first, second = _heard(facts)
    interval = between(first, second)
    return (
        -0.7
        + 0.2 * (abs(first.alter) + abs(second.alter))
        + 0.6 * (interval.quality[0] in "Ad")
        + 0.4 * interval.is_compound
        + 0.1 * (first.diatonic > second.diatonic)
        + 0.2 * (facts.extract.staves[0].clef in ("alto", "tenor"))
    )


def _neighbours(facts: IntervalInAMelody) -> tuple[Value, ...]:
    return interval_neighbours(*_heard(facts))


KIND = Kind(
    id="interval-in-a-melody",
    topic="intervals",
    since=3,
    title="Name an interval in a melody",
    facts=IntervalInAMelody,
    forms={"written": "words", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"interval-in-a-melody/{between(*_heard(facts)).simple.short}",
    pool=lambda scope: None,
    seconds=40,
    marking=Marking("gated", split=split_name),
    marks=2,
    extract=True,
    neighbours=_neighbours,
    methods=METHODS,
)
