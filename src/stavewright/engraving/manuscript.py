"""Manuscript paper: empty staves with or without clef, single or braced for the piano, so many on a page."""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from stavewright.engraving.box import Box
from stavewright.engraving.errors import PageError
from stavewright.engraving.gallery import shown_as
from stavewright.engraving.handout import Handout, Leaf, Staves
from stavewright.engraving.page import TEXT_HEIGHT_MM, TYPST_PAPER, text_points
from stavewright.engraving.svg import Picture, engrave, sized
from stavewright.engraving.toolkit import UNITS
from stavewright.score.event import Gap
from stavewright.score.stave import Bar, Score, Stave
from stavewright.theory.clef import CLEFS
from stavewright.theory.duration import Duration

MARGINS: Final = (16.0, 16.0)
PAGE_WIDTH_MM: Final = {"a4": 210.0, "letter": 215.9}
CLEF_CHOICES: Final = ("none", *CLEFS, "piano")
"""No clef, one of the four, or "piano": treble and bass stave with a brace."""
_LEAST_MM: Final = 1.5
"""Room that is always left between the ink of one line and the next."""
_MOST_BARS: Final = 8


def empty_score(clef: str, bars: int) -> Score:
    """One line of empty staves; `bars` 0 draws no bar lines.

    >>> len(empty_score("piano", 4).staves), empty_score("none", 0).staves[0].show_clef
    (2, False)
    """
    room = ((Gap(Duration("semibreve")),),)
    line = "single" if bars else "none"
    row = tuple(Bar(room, line=line, free=True) for _ in range(max(1, bars)))
    if clef == "piano":
        return Score(tuple(Stave(one, row) for one in ("treble", "bass")), join="brace")
    return Score((Stave("treble" if clef == "none" else clef, row, show_clef=clef != "none"),))


def manuscript(*, clef: str, lines: int | None, bars: int, pages: int, size: str, stave_mm: float) -> Handout:
    """So many pages of so many lines each (as many as stand well where `lines` is None).

    Raises:
        PageError: an unknown clef, too many bars to a line, or more lines than a page holds.
    """
    if clef not in CLEF_CHOICES:
        raise PageError(f"no manuscript paper with clef {clef!r}: choose one of {', '.join(CLEF_CHOICES)}")
    if not 0 <= bars <= _MOST_BARS:
        raise PageError(f"a line is divided into 1 to {_MOST_BARS} bars, or 0 for no bar lines, not {bars}")
    width = PAGE_WIDTH_MM[size] - sum(MARGINS)
    height = TEXT_HEIGHT_MM[size]
    picture = engrave(empty_score(clef, bars), prefix="m", stave_mm=stave_mm, width_mm=width, fit="full")
    ink_mm = (_ink(picture).bottom - _ink(picture).top) * stave_mm / UNITS
    most = int(height // (ink_mm + _LEAST_MM))
    usual = max(1, int(height // (picture.height_mm + 0.4 * stave_mm)))
    many = usual if lines is None else lines
    if not 1 <= many <= most:
        what = "systems" if clef == "piano" else "staves"
        raise PageError(f"a page holds 1 to {most} {what} of {stave_mm:g} mm, not {many}")
    slot = round(height / many - 0.05, 3)
    fitted = _cut(picture, slot)
    alt = _alt(clef, bars)
    page = Staves(tuple(shown_as(fitted, alt) for _ in range(many)), slot)
    return Handout(
        title="Manuscript paper",
        lang="en",
        region="gb",
        paper=TYPST_PAPER[size],
        text_pt=min(text_points(stave_mm), 14.0),
        margins=MARGINS,
        foot="",
        page_word="",
        of_word="",
        leaves=tuple(Leaf("", (page,)) for _ in range(pages)),
    )


def _ink(picture: Picture) -> Box:
    box = picture.places.ink[0]
    first, last = picture.places.staves[0], picture.places.staves[-1]
    return Box(box.left, min(box.top, first.top), box.right, max(box.bottom, last.bottom))


def _cut(picture: Picture, slot: float) -> Picture:
    """The picture no taller than its slot: room above and below is given up, ink never."""
    tall = slot / picture.stave_mm * UNITS
    view, ink = picture.view, _ink(picture)
    if view.bottom - view.top <= tall:
        return picture
    spare = (tall - (ink.bottom - ink.top)) / 2
    return sized(replace(picture, view=Box(view.left, ink.top - spare, view.right, ink.bottom + spare)))


def _alt(clef: str, bars: int) -> str:
    divided = f", divided into {bars} bars" if bars > 1 else ""
    if clef == "piano":
        return f"An empty treble stave and bass stave with a brace{divided}."
    return f"An empty stave, {'no clef' if clef == 'none' else f'{clef} clef'}{divided}."
