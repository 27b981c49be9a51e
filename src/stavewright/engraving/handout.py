"""What stands on a lesson sheet or in a booklet beyond the things of a paper, as plain data for `handout.typ`."""

from __future__ import annotations

from msgspec import Struct

from stavewright.engraving.layout import Blank, Sectioned, Shown, Steps, Words


class _Piece(Struct, frozen=True, tag_field="t"):
    """One thing on a leaf, from the top down."""


class Head(_Piece, frozen=True, tag="head"):
    """A heading, `level` 2 (a topic) or 3 (one rule). `fresh` begins a page, where something stands before it."""

    text: str
    level: int = 2
    fresh: bool = False


class Cell(Struct, frozen=True):
    """A small picture with words under it, or words alone; `label` stands before them in bold."""

    text: str = ""
    label: str = ""
    picture: Shown | None = None


class Band(_Piece, frozen=True, tag="band"):
    """Cells side by side in so many columns, row by row; a row is never cut."""

    cells: tuple[Cell, ...]
    columns: int


class Table(_Piece, frozen=True, tag="table"):
    """A table with a head; `widths` are shares of the width, one a column."""

    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    widths: tuple[float, ...]


class Contrast(_Piece, frozen=True, tag="contrast"):
    """A usual slip: what was asked, the wrong answer beside the right one, and what to do about it."""

    name: str
    wrong: Cell
    right: Cell
    remedy: str
    wrong_word: str
    right_word: str


class Run(_Piece, frozen=True, tag="run"):
    """Numbered questions under a heading (none when its title is empty)."""

    section: Sectioned


class Rule(_Piece, frozen=True, tag="rule"):
    """The sentences of a rule, set off by a line in the margin."""

    sentences: tuple[str, ...]


Piece = Head | Band | Table | Contrast | Run | Rule | Words | Shown | Steps


class Leaf(Struct, frozen=True):
    """Pages that belong together and begin a new page: a sheet, its answers, a topic.

    `corner` is printed large in the top right corner (the letter of a version). `loose` sets pieces with the space of
    the page shared out between them (manuscript paper).
    """

    title: str
    pieces: tuple[Piece, ...]
    subtitle: str = ""
    corner: str = ""
    blanks: tuple[Blank, ...] = ()
    notes: tuple[str, ...] = ()
    loose: bool = False


class Handout(Struct, frozen=True):
    """A whole document. Lengths in mm, `text_pt` in points; `paper` is "a4" or "us-letter"."""

    title: str
    lang: str
    region: str
    paper: str
    text_pt: float
    margins: tuple[float, float]
    foot: str
    page_word: str
    of_word: str
    leaves: tuple[Leaf, ...]
    credits_title: str = ""
    credits: tuple[str, ...] = ()
