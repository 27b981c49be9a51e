"""Room on the page: nothing runs into what stands beside it, and music takes no more lines than it needs."""

from __future__ import annotations

import pytest

from stavewright.engraving.layout import Lines
from stavewright.engraving.measuring import narrowed, width_of
from stavewright.engraving.svg import engrave
from stavewright.score.event import Gap, Note
from stavewright.score.stave import Bar, Score, Stave, single
from stavewright.theory.duration import Duration
from stavewright.theory.metre import TimeSignature
from stavewright.theory.pitch import Pitch

CHAR = 1.95


def row(count: int, *, gap: bool = False) -> Score:
    """A scale in semibreves, up and down, perhaps with one note to be written."""
    notes = [Note(Pitch.from_diatonic(28 + min(i, 14 - i)), Duration("semibreve"), id=f"n{i}") for i in range(count)]
    return single("treble", (Gap(Duration("semibreve"), "g"), *notes[1:]) if gap else tuple(notes))


def test_a_scale_that_is_only_read_stands_on_one_line() -> None:
    """Fifteen semibreves by nature need 1.7 lines of A4; close together they still read well, and keep their size."""
    found = engrave(row(15), prefix="q", width_mm=150)
    assert len(found.places.systems) == 1
    assert found.stave_mm == 7
    assert found.width_mm <= 150.5


def test_a_scale_to_write_on_keeps_its_room() -> None:
    assert len(engrave(row(15, gap=True), prefix="q", width_mm=150).places.systems) > 1


def test_no_bar_is_left_over_on_a_line_of_its_own() -> None:
    """A short tune a little longer than the line is set closer; a numbered extract goes on in the next line."""
    bar = Bar((tuple(Note(Pitch("G", 0, 4), Duration("crotchet"), id="") for _ in range(4)),))
    tune = Score((Stave("treble", (bar,) * 6, 0, TimeSignature(4, 4)),))
    natural = engrave(tune, prefix="q")
    assert len(engrave(tune, prefix="q", width_mm=natural.width_mm / 1.15).places.systems) == 1
    assert len(engrave(tune, prefix="q", width_mm=natural.width_mm / 1.5).places.systems) == 2


@pytest.mark.parametrize("line", [Lines(1, 84.0), Lines(1, 0.0), Lines(1, 40.0, lead="Bar and note")])
def test_a_line_to_write_on_ends_inside_its_column(line: Lines) -> None:
    """What is said about an answer stands beside it: its line must not run through those words."""
    share = width_of(line, CHAR)
    set_in = narrowed(line, share, CHAR)
    assert isinstance(set_in, Lines)
    assert 30 <= set_in.width <= share
    assert width_of(set_in, CHAR) <= share


def test_a_long_answer_makes_its_column_wide() -> None:
    said = "short and detached, each note a little heavier than the one before it"
    assert width_of(Lines(1, 84.0, written=(said,)), CHAR) > 90
