"""Composed answers on paper: lines to write on, examples that are not the key, the rubric and the teacher's boxes."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from papers.small_papers import paper_of, posed, script_of
from questions.hand_written import extract
from stavewright.engraving.documents import answers_page, marked_page, question_page, scheme_page
from stavewright.engraving.layout import Item, Page, Rubric, Shown, Verdict, Words
from stavewright.engraving.printer import Printer
from stavewright.marking.decisions import decide
from stavewright.marking.documents import Decision, Report
from stavewright.marking.whole_script import mark_script
from stavewright.papers.documents import Paper, Script
from stavewright.questions.kinds.answer_the_rhythm import AnswerTheRhythm
from stavewright.questions.kinds.finish_the_melody import FinishTheMelody
from stavewright.questions.score_mirror import document_of
from stavewright.questions.values import Value, WrittenValue

MINIM, CROTCHET = WrittenValue("minim"), WrittenValue("crotchet")
RHYTHM = AnswerTheRhythm("3/4", ((MINIM, CROTCHET), (CROTCHET, MINIM)))
MELODY = FinishTheMelody(document_of(extract("G4/1 A4/1 B4/1 | A4/2 F#4/1", "3/4", 1)), "G major", "flute")
SHORT = Value(rhythm=(MINIM, CROTCHET, MINIM))


@pytest.fixture(scope="module")
def printer() -> Printer:
    return Printer()


def paper(marks: int | None = None) -> Paper:
    return paper_of(
        [
            posed("answer-the-rhythm", RHYTHM, id="q1", grade=5, marks=marks),
            posed("finish-the-melody", MELODY, id="q2", grade=5),
        ],
        grade=5,
    )


def marked(**decisions: dict[str, Decision]) -> tuple[Paper, Script, Report]:
    script = script_of(q1=SHORT)
    report = mark_script(paper(), script)
    return paper(), script, decide(report, decisions) if decisions else report


def items(page: Page, number: int) -> list[Item]:
    question = page.sections[0].questions[number]
    return [*question.items, *(item for part in question.parts for item in part.items)]


def rubrics(page: Page) -> Iterator[Rubric]:
    for section in page.sections:
        for question in section.questions:
            for part in question.parts:
                yield from (item for item in part.items if isinstance(item, Rubric))


def words(found: list[Item]) -> str:
    return " ".join(item.text for item in found if isinstance(item, Words))


def test_a_melody_is_finished_on_lines_of_four_bars_with_room_below(printer: Printer) -> None:
    """Eight bars on two lines, each as wide as the page, with room for dynamics under them."""
    shown = [one for one in items(question_page(printer.sheet(paper())), 1) if isinstance(one, Shown)]
    assert len(shown) == 2
    assert all(one.width > 150 and one.sink > 3 for one in shown)
    assert "Six empty bars follow" in shown[0].alt
    assert shown[1].alt == "The stave goes on, line 2 of 2."


def test_examples_are_said_to_be_no_key(printer: Printer) -> None:
    """Two different melodies, drawn, each with what it does well."""
    found = items(answers_page(printer.sheet(paper())), 1)
    said = words(found)
    assert "Not the key: any answer that meets the criteria is right." in said
    assert "One good answer" in said
    assert "Another good answer" in said
    drawn = [one.svg for one in found if isinstance(one, Shown)]
    assert len(set(drawn)) == 2


def test_the_scheme_has_a_rubric_with_empty_boxes(printer: Printer) -> None:
    """One row a criterion, what earns its marks, the most there are, and a box to fill."""
    rhythm, melody = rubrics(scheme_page(printer.sheet(paper())))
    assert [(row.name, row.marks, row.box) for row in rhythm.rows] == [
        ("Bars", "2", ""),
        ("Length", "1", ""),
        ("Ending", "1", ""),
        ("Balance", "1", ""),
        ("Grouping", "1", ""),
    ]
    assert (rhythm.total, rhythm.box) == ("6", "")
    assert rhythm.rows[0].says.startswith("Every bar adds up to 3/4;")
    assert melody.total == "10"
    assert sum(int(row.marks) for row in melody.rows) == 10
    said = words(items(scheme_page(printer.sheet(paper())), 0))
    assert "Marks that known slips get: question copied (5)" in said


def test_a_paper_may_count_the_criteria_otherwise(printer: Printer) -> None:
    """The marks of the paper are shared out over the criteria, so that the boxes add up to them."""
    rhythm, _ = rubrics(scheme_page(printer.sheet(paper(marks=8))))
    assert rhythm.total == "8"
    assert [row.marks for row in rhythm.rows] == ["3", "2", "1", "1", "1"]
    few, _ = rubrics(scheme_page(printer.sheet(paper(marks=4))))
    assert few.total == "6, counted as 4"


def test_a_proposal_leaves_the_boxes_to_the_teacher(printer: Printer) -> None:
    """The marked script shows what was found in each bar, the marks proposed, and says that they are proposed."""
    page = marked_page(printer.sheet(paper()), *marked()[1:])
    (rubric,) = rubrics(page)
    assert [(row.says, row.marks, row.box) for row in rubric.rows][:2] == [
        ("Bar 2 does not add up.", "1 of 2", ""),
        ("It has 2 bars.", "1 of 1", ""),
    ]
    assert (rubric.total, rubric.box) == ("5 of 6", "")
    verdict = next(one for one in items(page, 0) if isinstance(one, Verdict))
    assert verdict.marks == "5 of 6 marks, to be confirmed by the teacher"
    assert "they count when the teacher confirms them" in " ".join(page.notes)


def test_decided_marks_stand_in_the_boxes(printer: Printer) -> None:
    """A changed mark is struck through beside the teacher's own, with the teacher's word on it."""
    found = marked(q1={"bars": Decision(2, "rest understood")})
    page = marked_page(printer.sheet(paper()), *found[1:])
    (rubric,) = rubrics(page)
    bars = rubric.rows[0]
    assert (bars.marks, bars.box, bars.changed) == ("1 of 2", "2", True)
    assert bars.says == "Bar 2 does not add up. Teacher: rest understood"
    assert (rubric.rows[1].box, rubric.rows[1].changed) == ("1", False)
    assert (rubric.total, rubric.box) == ("5 of 6", "6")
    verdict = next(one for one in items(page, 0) if isinstance(one, Verdict))
    assert verdict.marks == "6 of 6 marks"
    assert len(page.notes) == 1


def test_all_of_it_can_be_set(printer: Printer) -> None:
    """The page template knows the rubric."""
    assert printer.marked_script(*marked()).startswith(b"%PDF-")
    assert printer.mark_scheme(paper()).startswith(b"%PDF-")


def test_a_long_rhythm_is_answered_on_two_lines(printer: Printer) -> None:
    """Where the question takes two lines, the answer has room for two."""
    value = WrittenValue("crotchet", 1)
    bar = (value, WrittenValue("crotchet"), WrittenValue("quaver"), value, value)
    other = (value, value, WrittenValue("minim", 1))
    busy = tuple(WrittenValue("quaver", beam=1 + place // 3) for place in range(12))
    long_one = posed("answer-the-rhythm", AnswerTheRhythm("12/8", (bar, busy, busy, other)), grade=3)
    short_one = posed("answer-the-rhythm", RHYTHM, id="q2", grade=3)
    page = question_page(printer.sheet(paper_of([long_one, short_one])))
    shown = [[one for one in items(page, number) if isinstance(one, Shown)] for number in (0, 1)]
    assert [one.alt for one in shown[0]][-1] == "The stave goes on, line 2 of 2."
    assert len(shown[1]) == 2
