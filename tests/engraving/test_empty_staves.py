"""Manuscript paper and tracing sheets: so many staves, in their places, accessible, nothing cut off."""

from __future__ import annotations

import re

import page as checker
import pytest

from engraving.looking import ink_outside, render
from engraving.test_pages import opened, words_of
from stavewright.engraving.errors import PageError
from stavewright.engraving.handout import Staves
from stavewright.engraving.manuscript import CLEF_CHOICES, manuscript
from stavewright.engraving.sheet_printer import SheetPrinter
from stavewright.engraving.svg import STAVE_SIZES
from stavewright.engraving.tracing import GREY, HINTS, row, signs_to_trace
from stavewright.syllabus.scope import GRADES, scope_for


def staves_on(pdf: bytes) -> int:
    """How many staves a page shows: runs of dark rows across the middle of the page, five lines a stave."""
    pixels = render(pdf, 3.0)[0]
    middle = pixels[:, int(pixels.shape[1] * 0.55) : int(pixels.shape[1] * 0.6)]
    dark = (middle < 140).mean(axis=1) > 0.9
    lines = sum(bool(now and not before) for before, now in zip([False, *dark[:-1]], dark, strict=True))
    assert lines % 5 == 0, lines
    return lines // 5


@pytest.mark.parametrize(("clef", "lines", "staves"), [("none", 12, 12), ("treble", 10, 10), ("piano", 5, 10)])
def test_as_many_staves_as_asked_for(clef: str, lines: int, staves: int) -> None:
    """Counted in the pixels of the page itself; a piano system has two."""
    assert staves_on(SheetPrinter().manuscript(clef, lines)) == staves


@pytest.mark.parametrize("stave", STAVE_SIZES)
@pytest.mark.parametrize("size", ["a4", "letter"])
def test_every_clef_passes_pdf_ua_on_one_page(stave: float, size: str) -> None:
    for clef in CLEF_CHOICES:
        pdf = SheetPrinter(size, stave).manuscript(clef, bars=4)
        if clef in ("none", "piano"):
            report = checker.validate_pdf_bytes(pdf, profile=checker.ValidationProfile.PDF_UA_1)
            assert report.is_compliant, list(report.failures)[:5]
        with opened(pdf) as document:
            assert len(document) == 1


def test_the_fullest_page_is_still_one_page() -> None:
    """What the message says a page holds, it holds; one more is refused."""
    for clef in ("treble", "piano", "none"):
        with pytest.raises(PageError, match=r"a page holds 1 to \d+ (staves|systems)") as told:
            SheetPrinter().manuscript(clef, 40)
        found = re.search(r"1 to (\d+)", str(told.value))
        assert found is not None
        with opened(SheetPrinter().manuscript(clef, int(found.group(1)), sides=2)) as document:
            assert len(document) == 2
        with pytest.raises(PageError):
            SheetPrinter().manuscript(clef, int(found.group(1)) + 1)


@pytest.mark.parametrize(("how", "said"), [({"clef": "soprano"}, "choose one of none"), ({"bars": 9}, "1 to 8 bars")])
def test_what_cannot_be_ruled_is_refused(how: dict[str, object], said: str) -> None:
    asked = {"clef": "none", "lines": None, "bars": 0, "pages": 1, "size": "a4", "stave_mm": 7.0, **how}
    with pytest.raises(PageError, match=said):
        manuscript(**asked)  # type: ignore[arg-type]


def test_alternatives_say_clef_and_bars() -> None:
    made = manuscript(clef="bass", lines=3, bars=4, pages=1, size="a4", stave_mm=7.0)
    (piece,) = made.leaves[0].pieces
    assert isinstance(piece, Staves)
    assert {one.alt for one in piece.staves} == {"An empty stave, bass clef, divided into 4 bars."}


@pytest.mark.parametrize("grade", GRADES)
def test_every_sign_of_the_grade_is_there_to_trace(grade: int) -> None:
    """One in black, as many grey ones as said, and empty places after them; nothing is cut off."""
    scope = scope_for(grade)
    signs = signs_to_trace(scope, ("clefs", "rests"))
    assert len(signs) == len(scope.clefs) + len(scope.values)
    for sign in signs:
        assert sign.name in HINTS
        picture, grey, empty = row(sign, "t", 160.0, 10.0)
        assert picture.svg.count(f'class="{sign.kind}" color="{GREY}"') == grey >= 2
        assert picture.svg.count(f'class="{sign.kind}"') == grey + 1
        assert empty >= 1
        assert ink_outside(picture) == 0


def test_the_tracing_sheet_passes_and_names_its_signs() -> None:
    pdf = SheetPrinter(stave_mm=10).tracing(scope_for(1), ("clefs", "rests"))
    assert checker.validate_pdf_bytes(pdf, profile=checker.ValidationProfile.PDF_UA_1).is_compliant
    said = words_of(pdf)
    assert "Treble clef" in said
    assert "Crotchet rest" in said
    us = words_of(SheetPrinter(stave_mm=14).tracing(scope_for(1), ("rests",), "us"))
    assert "Quarter rest" in us
    assert "clef" not in us
    assert "crotchet" not in us.lower()


def test_the_same_bytes_twice() -> None:
    assert SheetPrinter().manuscript("piano") == SheetPrinter().manuscript("piano")
    scope = scope_for(2)
    assert SheetPrinter().tracing(scope, ("clefs",)) == SheetPrinter().tracing(scope, ("clefs",))
