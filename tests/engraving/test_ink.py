"""Pictures are cut close to their ink, and no ink is cut off: seen in the pixels."""

from __future__ import annotations

from dataclasses import replace

import pytest

from engraving.hard_cases import cases
from engraving.looking import dark_inside, ink_outside
from stavewright.engraving.box import Box
from stavewright.engraving.ink import glyph_boxes
from stavewright.engraving.svg import engrave, point_at


@pytest.mark.parametrize("name", list(cases()))
def test_no_ink_is_cut_off(name: str) -> None:
    """Braces, bar numbers, brackets, words, ledger lines: all of it lies inside the picture."""
    found = engrave(cases()[name], prefix="q1", stave_mm=7, width_mm=150)
    assert ink_outside(found) == 0
    assert dark_inside(found) > 500


@pytest.mark.parametrize("name", ["melody", "piano", "voices", "road map"])
def test_no_ink_is_cut_off_in_large_print(name: str) -> None:
    found = engrave(cases()[name], prefix="q1", stave_mm=16, width_mm=150)
    assert ink_outside(found) == 0


def test_rings_are_inside_too() -> None:
    """A ring around the highest or lowest note makes the picture larger, not the ring smaller."""
    found = point_at(engrave(cases()["bare row"], prefix="q1"), ["n2", "n3"])
    assert ink_outside(found) == 0


def test_the_pixels_would_show_a_cut() -> None:
    """The measure itself: a picture cut at its stave's right half shows ink outside."""
    found = engrave(cases()["piano"], prefix="q1")
    cut = replace(found, view=Box(found.view.left + 500, found.view.top, found.view.right, found.view.bottom))
    assert ink_outside(cut) > 50


def test_the_picture_is_not_much_larger_than_its_ink() -> None:
    """Cut close: a bare row of notes on the stave is no higher than the clef and the notes need."""
    found = engrave(cases()["signature alto 7"], prefix="q1", stave_mm=7)
    assert found.height_mm < 12


def test_leland_s_signs_have_boxes() -> None:
    """A treble clef reaches about a space and a half below its line G and over four spaces above (SMuFL E050)."""
    box = glyph_boxes()["E050"]
    assert -1200 < box.top < -1000
    assert 550 < box.bottom < 700
