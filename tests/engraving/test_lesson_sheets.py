"""Sheets for lessons as PDF: accessible, reproducible, with the answers on pages of their own."""

from __future__ import annotations

import hashlib
import subprocess
import sys
from pathlib import Path

import page as checker
import pytest
from msgspec.structs import replace

from engraving.sample_papers import every_kind
from engraving.test_pages import opened, words_of
from stavewright.engraving.errors import PageError
from stavewright.engraving.lesson_sheets import Heading, handout, key_leaf, key_words, question_leaf
from stavewright.engraving.printer import Printer
from stavewright.engraving.sheet_printer import SheetPrinter

HEAD = Heading("Drill, grade 3", "Everything", time=True)


def passes(pdf: bytes) -> None:
    report = checker.validate_pdf_bytes(pdf, profile=checker.ValidationProfile.PDF_UA_1)
    assert report.is_compliant, list(report.failures)[:5]


@pytest.mark.parametrize(
    ("grade", "edition", "size", "stave"),
    [(5, "written", "a4", 7), (5, "on-screen", "letter", 8), (1, "written", "letter", 16)],
)
def test_every_kind_stands_on_a_sheet_and_passes_pdf_ua(grade: int, edition: str, size: str, stave: int) -> None:
    """Questions and answers with every kind there is: tagged to PDF/UA-1 (ISO 14289-1), no rule failed."""
    paper = every_kind(grade, edition, parts=1)
    for pdf in SheetPrinter(size, stave).sheets([paper], HEAD, name="all").values():
        passes(pdf)


def test_answers_with_working_pass_too() -> None:
    paper = every_kind(2, parts=1)
    made = SheetPrinter().sheets([paper], HEAD, name="all", working=True)
    passes(made["all-answers"])
    assert "How to find it" in words_of(made["all-answers"])
    assert "How to find it" not in words_of(made["all"])


def test_the_sheet_has_a_line_for_the_name_and_all_can_be_selected() -> None:
    said = words_of(SheetPrinter().sheets([every_kind(3, parts=1)], HEAD, name="all")["all"])
    for words in ("Drill, grade 3", "Everything", "Name", "Date", "about 90 minutes", "page 1 of"):
        assert words in said


def test_two_versions_carry_their_letters_and_their_own_answers() -> None:
    """A and B are two sheets; their answers are one document, a page or more each, letters in the corner."""
    papers = [every_kind(1, parts=1), every_kind(1, parts=1)]
    made = SheetPrinter().sheets(papers, HEAD, name="test")
    assert list(made) == ["test-a", "test-b", "test-answers"]
    assert words_of(made["test-a"]).startswith("Drill, grade 3 A")
    assert words_of(made["test-b"]).startswith("Drill, grade 3 B")
    answers = words_of(made["test-answers"])
    assert [line.strip() for line in answers.splitlines() if line.startswith("Answers")] == ["Answers A", "Answers B"]
    single = SheetPrinter().sheets(papers[:1], HEAD, name="test")
    assert list(single) == ["test", "test-answers"]
    assert words_of(single["test"]).splitlines()[0].strip() == "Drill, grade 3"


def test_the_sheet_is_made_without_the_answers() -> None:
    """The pupil's sheet is the same when every answer, step and slip is taken away."""
    paper = every_kind(5, parts=1)
    bare = replace(
        paper,
        sections=tuple(
            replace(one, questions=tuple(replace(q, answers=(), working=(), slips=()) for q in one.questions))
            for one in paper.sections
        ),
    )
    leaves = [question_leaf(Printer().sheet(one), HEAD) for one in (paper, bare)]
    assert leaves[0] == leaves[1]



def test_every_part_has_its_answer() -> None:
    """The key has a part for each question of the sheet, none of them empty."""
    paper = every_kind(4, parts=2)
    (run,) = key_leaf(Printer().sheet(paper), HEAD).pieces
    parts = [part for printed in run.section.questions for part in printed.parts]  # type: ignore[union-attr]
    assert len(parts) == len(list(paper.questions()))
    assert all(part.items for part in parts)


def test_the_key_names_what_else_is_right() -> None:
    """A teacher who marks by the short key sees that C is as good as 4/4, and is not told that F is F natural."""
    kinds = {"add-the-time-signature", "name-the-note"}
    said: list[str] = []
    for grade in (1, 2):
        paper = every_kind(grade, parts=3)
        sheet = Printer().sheet(paper)
        said += [key_words(sheet, one) for one in paper.questions() if one.kind in kinds]
    times = {one for one in said if "/" in one}
    assert times
    assert all(("4/4" not in one and "2/2" not in one) or "(also" in one for one in times), times
    assert not any("natural" in one for one in said)


def test_the_key_is_short() -> None:
    """The answers of forty questions take a page or two, not the room of the questions."""
    made = SheetPrinter().sheets([every_kind(3)], HEAD, name="all")
    with opened(made["all"]) as sheet, opened(made["all-answers"]) as answers:
        assert len(answers) < 0.5 * len(sheet)


def test_us_words() -> None:
    made = SheetPrinter().sheets([every_kind(2, words="us", parts=1)], HEAD, name="all")
    for pdf in made.values():
        said = words_of(pdf).replace("Bars", "").lower()
        assert "crotchet" not in said
        assert "quarter note" in said


CODE = f"""
import hashlib, sys
sys.path.insert(0, {str(Path(__file__).parent.parent)!r})
from engraving.sample_papers import every_kind
from stavewright.engraving.lesson_sheets import Heading
from stavewright.engraving.sheet_printer import SheetPrinter
made = SheetPrinter().sheets([every_kind(2, parts=1)], Heading("Sheet"), name="s")
print(*(hashlib.sha256(pdf).hexdigest() for pdf in made.values()))
"""


def test_the_same_sheet_gives_the_same_bytes_in_another_process() -> None:
    done = subprocess.run([sys.executable, "-c", CODE], capture_output=True, text=True, check=True, timeout=120)
    made = SheetPrinter().sheets([every_kind(2, parts=1)], Heading("Sheet"), name="s")
    assert done.stdout.split() == [hashlib.sha256(pdf).hexdigest() for pdf in made.values()]


def test_sizes_that_nothing_is_printed_in_are_refused() -> None:
    with pytest.raises(PageError, match="a4 or letter"):
        SheetPrinter("a5")
    with pytest.raises(PageError, match="7, 8, 10, 14, 16 mm"):
        SheetPrinter(stave_mm=9)


def test_the_document_is_named_and_has_no_credits_twice() -> None:
    paper = every_kind(1, parts=1)
    sheet = Printer().sheet(replace(paper, credits=("A tune", "A tune")))
    made = handout([sheet, sheet], [question_leaf(sheet, HEAD)], foot="f")
    assert made.title == HEAD.title
    assert made.credits == ("A tune",)
