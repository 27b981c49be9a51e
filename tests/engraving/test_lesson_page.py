"""A lesson on one side of paper: it fits, it passes, its answers say which slips are taken up."""

from __future__ import annotations

import page as checker
import pytest
from msgspec.structs import replace

from engraving.test_pages import opened, words_of
from stavewright.engraving.errors import PageError
from stavewright.engraving.lesson_page import lesson_page
from stavewright.engraving.printer import Printer
from stavewright.engraving.sheet_printer import SheetPrinter
from stavewright.services.set_lesson import Lesson, WarmUp, set_lesson
from stavewright.wiring import composed_melodies, music_writer


def lesson(grade: int, topic: str, words: str = "uk", rule: str | None = None) -> Lesson:
    return set_lesson(
        grade=grade, edition="written", seed=1, melodies=composed_melodies(), write_music=music_writer(), topic=topic,
        words=words, rule=rule,
    )  # fmt: skip


@pytest.mark.parametrize(
    ("grade", "topic", "size", "stave"),
    [(1, "notes", "a4", 7), (3, "intervals", "letter", 7), (5, "chords", "a4", 7), (2, "scales", "a4", 8)],
)
def test_a_lesson_is_one_side_and_passes_pdf_ua(grade: int, topic: str, size: str, stave: int) -> None:
    kept, made = SheetPrinter(size, stave).lesson(lesson(grade, topic))
    side, answers = made[kept.id], made[f"{kept.id}-answers"]
    for pdf in (side, answers):
        report = checker.validate_pdf_bytes(pdf, profile=checker.ValidationProfile.PDF_UA_1)
        assert report.is_compliant, list(report.failures)[:5]
    with opened(side) as document:
        assert len(document) == 1
    said = " ".join(words_of(side).split())
    for words in (f"Lesson, grade {grade}", "Warm-up", "Three small things first.", kept.rule.rule.title, "Homework"):
        assert words in said
    assert len(kept.warm_ups) == 3
    assert kept.homework


def test_large_print_may_take_more_sides_and_what_is_too_much_is_refused() -> None:
    kept, made = SheetPrinter(stave_mm=16).lesson(lesson(3, "metre"))
    with opened(made[kept.id]) as document:
        assert len(document) > 1
    with pytest.raises(PageError, match="does not fit one side with staves of 10 mm"):
        SheetPrinter(stave_mm=10).lesson(lesson(5, "transposition", rule="open-score"))


def test_the_answers_say_which_slip_a_warm_up_takes_up() -> None:
    made = lesson(1, "notes")
    first = WarmUp(made.warm_ups[0].question, "counted letters only")
    kept, found = SheetPrinter().lesson(made.with_warm_ups([first, *made.warm_ups[1:3]]))
    said = words_of(found[f"{kept.id}-answers"])
    assert "Warm-up (a) takes up the slip: counted letters only." in said
    assert "takes up the slip" not in words_of(found[kept.id])


def test_the_side_is_made_without_the_answers_to_its_questions() -> None:
    """Only the worked example shows an answer; homework and warm-ups are the same without theirs."""
    made = lesson(2, "keys").with_warm_ups(lesson(2, "keys").warm_ups[:3])
    plain = [replace(one.question, answers=(), working=(), slips=()) for one in made.warm_ups]
    bare = made.with_warm_ups([WarmUp(one) for one in plain])
    sheet = Printer().sheet(made.paper())
    assert lesson_page(sheet, made).leaves == lesson_page(sheet, bare).leaves


def test_us_words() -> None:
    kept, made = SheetPrinter().lesson(lesson(1, "values", "us"))
    said = words_of(made[kept.id]).lower()
    assert "crotchet" not in said
    assert "quarter note" in said
