"""Beams and values held against string quartets by Haydn and Mozart in music21's corpus, metre by metre."""

from __future__ import annotations

import pytest
from msgspec.structs import replace
from music21 import corpus, note, stream

from questions.rhythms import AMERICAN
from stavewright.questions.choosing import is_right
from stavewright.questions.kinds.beam_the_bar import KIND, BeamTheBar
from stavewright.questions.kinds.dot_or_tie import KIND as dot_or_tie
from stavewright.questions.kinds.dot_or_tie import DotOrTie
from stavewright.questions.values import Value, WrittenValue
from stavewright.theory.duration import TICKS, VALUES, Duration, total_ticks
from stavewright.theory.metre import TimeSignature
from stavewright.theory.regroup import as_ties

OURS = {theirs: ours for ours, theirs in AMERICAN.items()}


def bars(name: str, time: str) -> list[tuple[WrittenValue, ...]]:
    """Full bars with one voice, without irregular groups, and with two tails at least, from all four parts."""
    found = []
    for part in corpus.parse(name).parts:
        for measure in part.getElementsByClass(stream.Measure):
            row = None if measure.voices else _row(measure)
            if row is None or total_ticks([one.duration for one in row]) != TimeSignature.parse(time).ticks:
                continue
            if sum(one.duration.tails > 0 and not one.rest for one in row) > 1:
                found.append(row)
    return found


def _row(measure: stream.Measure) -> tuple[WrittenValue, ...] | None:
    row, number = [], 0
    for one in measure.notesAndRests:
        if one.duration.isGrace:
            continue
        if one.duration.type not in OURS or one.duration.tuplets:
            return None
        beams = one.beams.beamsList if isinstance(one, note.NotRest) else []
        number += bool(beams) and beams[0].type == "start"
        beam = number if beams else None
        row.append(WrittenValue(OURS[one.duration.type], one.duration.dots, rest=one.isRest, beam=beam))
    return tuple(row)


@pytest.mark.parametrize(
    ("name", "time", "asked", "other"),
    [
        ("haydn/opus1no1/movement1", "6/8", 170, 2),
        ("haydn/opus1no1/movement4", "3/4", 24, 1),
        ("haydn/opus74no1/movement2", "3/8", 433, 30),
        ("haydn/opus74no1/movement4", "2/4", 670, 23),
        ("mozart/k155/movement1", "4/4", 290, 0),
        ("mozart/k80/movement4", "2/2", 101, 0),
    ],
)
def test_the_beams_of_quartets_are_among_those_accepted(name: str, time: str, asked: int, other: int) -> None:
    """Bars whose printed beams we would not accept: mostly a note parted from its beam for the sake of the bow."""
    found = bars(name, time)
    right = [
        is_right(
            Value(rhythm=bar), KIND.solve(BeamTheBar(time, tuple(replace(one, beam=None) for one in bar))), KIND
        )
        for bar in found
    ]
    assert (len(right), right.count(False)) == (asked, other)


@pytest.mark.parametrize(
    ("name", "time", "asked"),
    [
        ("haydn/opus1no1/movement1", "6/8", 129),
        ("haydn/opus1no1/movement4", "3/4", 23),
        ("haydn/opus74no1/movement4", "2/4", 129),
        ("mozart/k155/movement1", "4/4", 254),
        ("mozart/k80/movement4", "2/2", 194),
    ],
)
def test_a_note_of_a_quartet_cut_in_two_tied_ones_is_put_together_again(
    name: str, time: str, asked: int
) -> None:
    """Every note that the composer wrote as one, written as tied halves (a dotted one as its parts)."""
    right = []
    for bar in bars(name, time):
        plain = tuple(replace(one, beam=None) for one in bar)
        for at, one in enumerate(plain):
            if one.rest or one.duration.ticks < TICKS["crotchet"]:
                continue
            parts = as_ties(one.duration) if one.dots else (Duration(VALUES[VALUES.index(one.type) + 1]),) * 2
            tied = tuple(WrittenValue.of(part, tie=place < len(parts)) for place, part in enumerate(parts, 1))
            facts = DotOrTie(time, (*plain[:at], *tied, *plain[at + 1 :]), max(1, one.dots))
            right.append(is_right(Value(rhythm=plain), dot_or_tie.solve(facts), dot_or_tie))
    assert (len(right), all(right)) == (asked, True)
