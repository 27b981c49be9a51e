"""A second opinion on lengths and metres: music21 where it is right, its known flaws listed by name."""

from __future__ import annotations

from fractions import Fraction

import music21
import pytest

from stavewright.theory.duration import CROTCHET_TICKS, US_VALUES, VALUES, Duration, Tuplet
from stavewright.theory.grouping import beam
from stavewright.theory.metre import ALL_TIMES, TimeSignature
from stavewright.theory.rests import fill

# music21 10.5.1, known flaws: what it says and why that is not right
MUSIC21_CLASS_FLAWS = {
    "3/8": "calls it 'Other Single': three quaver beats are simple triple",
    "3/16": "calls it 'Other Single': three semiquaver beats are simple triple",
}
MUSIC21_BEAM_FLAWS = {
    "2/4": "always pairs: four quavers of 2/4 usually share one beam",
    "3/4": "always pairs: six quavers of 3/4 usually share one beam",
    "4/4": "always pairs: four and four is usual",
    "4/8": "no beams at all: the tails of half a bar belong together",
    "5/4": "four and six, that is 2+3 first; ours prefers 3+2 and accepts both",
    "5/8": "2+3 first, whatever is asked; ours prefers 3+2 and accepts both",
}


@pytest.mark.parametrize("value", VALUES)
@pytest.mark.parametrize("dots", [0, 1, 2, 3])
@pytest.mark.parametrize("tuplet", [None, (2, 3), (3, 2), (4, 3), (5, 4), (6, 4), (7, 4), (8, 6), (9, 8)])
def test_lengths(value: str, dots: int, tuplet: tuple[int, int] | None) -> None:
    ours = Duration(value, dots, None if tuplet is None else Tuplet(*tuplet))
    theirs = music21.duration.Duration(type=US_VALUES[value].replace("double whole", "breve"), dots=dots)
    if tuplet is not None:
        theirs.appendTuplet(music21.duration.Tuplet(*tuplet))
    assert Fraction(ours.ticks, CROTCHET_TICKS) == Fraction(theirs.quarterLength)


@pytest.mark.parametrize("time", ALL_TIMES, ids=lambda time: time.figures)
def test_beats_and_classes(time: TimeSignature) -> None:
    theirs = music21.meter.TimeSignature(time.figures)
    assert Fraction(time.ticks, CROTCHET_TICKS) == Fraction(theirs.barDuration.quarterLength)
    if time.kind == "irregular":
        return
    agree = theirs.classification.lower() == time.description
    assert agree == (time.figures not in MUSIC21_CLASS_FLAWS)
    if agree:
        assert theirs.beatCount == time.count
        assert Fraction(theirs.beatDuration.quarterLength) == Fraction(time.beat.ticks, CROTCHET_TICKS)


def their_beams(time: TimeSignature) -> list[int]:
    notes = [music21.note.Note("C4", type="eighth") for _ in range(time.ticks // Duration("quaver").ticks)]
    sizes = []
    for beams in music21.meter.TimeSignature(time.figures).getBeams(notes):
        kind = beams.getByNumber(1).type if beams is not None and beams.beamsList else None
        if kind in (None, "start"):
            sizes.append(1)
        else:
            sizes[-1] += 1
    return sizes


@pytest.mark.parametrize(
    "time", [t for t in ALL_TIMES if t.ticks % Duration("quaver").ticks == 0 and t.unit != 16], ids=lambda t: t.figures
)
def test_quaver_beams(time: TimeSignature) -> None:
    groups = beam([(Duration("quaver"), False)] * (time.ticks // Duration("quaver").ticks), time)
    ours = [groups.count(number) for number in dict.fromkeys(groups)]
    assert (ours == their_beams(time)) == (time.figures not in MUSIC21_BEAM_FLAWS), (ours, their_beams(time))


def test_rests_are_not_to_be_taken_from_music21() -> None:
    """Its filling of a bar is a known flaw: after a quaver in 4/4 it writes one double-dotted minim rest."""
    measure = music21.stream.Measure()
    measure.append(music21.meter.TimeSignature("4/4"))
    measure.append(music21.note.Note("C4", type="eighth"))
    measure.makeRests(fillGaps=True, inPlace=True, timeRangeFromBarDuration=True)
    theirs = [(rest.duration.type, rest.duration.dots) for rest in measure.getElementsByClass(music21.note.Rest)]
    assert theirs == [("half", 2)]
    quaver = Duration("quaver").ticks
    ours = fill(quaver, 7 * quaver, TimeSignature(4, 4))[0].rests
    assert [rest.text for rest in ours] == ["quaver", "crotchet", "minim"]
