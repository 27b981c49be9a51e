"""Room on the page: nothing runs into what stands beside it, and music takes no more lines than it needs."""

from __future__ import annotations

import pytest

from papers.small_papers import paper_of, posed
from stavewright.engraving.documents import scheme_page
from stavewright.engraving.layout import Lines, Rows
from stavewright.engraving.measuring import narrowed, width_of
from stavewright.engraving.printer import Printer
from stavewright.engraving.svg import engrave
from stavewright.questions.documents import Group
from stavewright.questions.kinds.term_meaning import TermMeaning
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


def test_the_mark_scheme_says_each_thing_once() -> None:
    """A rule that holds for all parts stands beside the title; ways to say one answer share a row and a reason."""
    group = Group("q1", "a"), Group("q1", "b")
    facts = TermMeaning("Ritenuto|Italian", 3), TermMeaning("Pizzicato|Italian", 3)
    paper = paper_of(
        [posed("term-meaning", one, id=f"q1{g.part}", group=g) for one, g in zip(facts, group, strict=True)]
    )
    [section] = scheme_page(Printer().sheet(paper)).sections
    [question] = section.questions
    assert question.title.endswith("Each part: 1 mark. All or nothing.")
    [items] = [part.items for part in question.parts]
    [table] = items
    assert isinstance(table, Rows)
    for part in "ab":
        start = next(i for i, row in enumerate(table.rows) if row.part == part)
        rest = table.rows[start:]
        own = rest[: next((i for i, row in enumerate(rest) if i and row.part), len(rest))]
        reasons = [row.why for row in own if row.kind != "slip"]
        assert len(reasons) == len(set(reasons)) == 2
