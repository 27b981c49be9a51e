"""What stands on a lesson sheet or in a booklet beyond the things of a paper, as plain data for `handout.typ`."""

from __future__ import annotations

from msgspec import Struct

from stavewright.engraving.layout import Blank, Item, Sectioned, Shown


class _Piece(Struct, frozen=True, tag_field="t"):
    """One thing on a leaf, from the top down."""


class Head(_Piece, frozen=True, tag="head"):
    """A heading, `level` 2 (a topic) or 3 (one rule); `beside` is said small after it. `fresh` begins a page."""

    text: str
    level: int = 2
    fresh: bool = False
    beside: str = ""


class Contents(_Piece, frozen=True, tag="contents"):
    """The topics of a booklet with their pages."""


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
    """A table with a head and perhaps a title; `widths` are shares of the width, one a column.

    A row of one cell goes across: it names the rows below it.
    """

    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    widths: tuple[float, ...]
    title: str = ""


class Slip(Struct, frozen=True):
    """A usual slip: its name, the wrong answer and the right one, and what to do about it."""

    name: str
    wrong: Cell
    right: Cell
    remedy: str


class Slips(_Piece, frozen=True, tag="slips"):
    """Usual slips as a table, each wrong answer beside the right one; `head` names the three columns."""

    head: tuple[str, str, str]
    slips: tuple[Slip, ...]
    widths: tuple[float, float, float]


class Kept(_Piece, frozen=True, tag="kept"):
    """Things that stay together on one page, under a few bold words."""

    label: str
    items: tuple[Item, ...]


class Run(_Piece, frozen=True, tag="run"):
    """Numbered questions under a heading (none when its title is empty)."""

    section: Sectioned


class Staves(_Piece, frozen=True, tag="staves"):
    """Empty staves down a page, each in a slot so many mm high."""

    staves: tuple[Shown, ...]
    slot: float


class Rule(_Piece, frozen=True, tag="rule"):
    """The sentences of a rule, set off by a line in the margin."""

    sentences: tuple[str, ...]


Piece = Head | Contents | Band | Table | Slips | Kept | Run | Rule | Staves | Item


class Leaf(Struct, frozen=True):
    """Pages that belong together and begin a new page: a sheet, its answers, a topic.

    `corner` is printed large in the top right corner (the letter of a version).
    """

    title: str
    pieces: tuple[Piece, ...]
    subtitle: str = ""
    corner: str = ""
    blanks: tuple[Blank, ...] = ()
    notes: tuple[str, ...] = ()


class Handout(Struct, frozen=True):
    """A whole document. Lengths in mm, `text_pt` in points; `paper` is "a4" or "us-letter".

    Pages are numbered where there is a `page_word`.
    """

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
