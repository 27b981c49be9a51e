"""What stands on a printed page, as plain data: the page template knows these few things and nothing else."""

from __future__ import annotations

from msgspec import Struct


class _Item(Struct, frozen=True, tag_field="t"):
    """One thing on the page, from the top down."""


class Words(_Item, frozen=True, tag="words"):
    """A paragraph. `tone`: "plain", "quiet" (small, grey), "answer", "pencil" (a pupil's hand), "sign" (large).

    "title" is bold and stays with what follows it.
    """

    text: str
    tone: str = "plain"


class Shown(_Item, frozen=True, tag="picture"):
    """A picture of music with its text alternative; lengths in mm.

    `above`: from the top of the picture to its first stave, `stave`: the height of that stave. `drop` and `sink`: room
    above and below, to level the staves of a row.
    """

    svg: str
    width: float
    height: float
    alt: str
    above: float = 0.0
    stave: float = 7.0
    drop: float = 0.0
    sink: float = 0.0


class Choice(Struct, frozen=True):
    """One thing to pick: `mark` is "" (empty box), "picked" (the pupil's cross) or "right" (the model answer)."""

    letter: str
    text: str = ""
    picture: Shown | None = None
    mark: str = ""


class Options(_Item, frozen=True, tag="options"):
    """Things to pick from, in so many columns; `head` says how many to mark."""

    options: tuple[Choice, ...]
    columns: int
    head: str = ""


class Lines(_Item, frozen=True, tag="lines"):
    """Lines to write on, `width` mm each (0: the whole width), words before and after, and what is written there."""

    count: int = 1
    width: float = 0.0
    lead: str = ""
    tail: str = ""
    written: tuple[str, ...] = ()


class Row(Struct, frozen=True):
    """One row of a mark scheme: the part, what kind of answer, the answer, its marks, and why."""

    part: str
    kind: str
    text: str
    marks: str
    why: str


class Rows(_Item, frozen=True, tag="rows"):
    """A table of answers and their marks."""

    head: tuple[str, str, str, str]
    rows: tuple[Row, ...]


class RubricRow(Struct, frozen=True):
    """One criterion: its name, what earns its marks or was found, the marks, and what stands in the teacher's box.

    `changed` marks a row whose marks the teacher changed.
    """

    name: str
    says: str
    marks: str
    box: str = ""
    changed: bool = False


class Rubric(_Item, frozen=True, tag="rubric"):
    """A table of criteria with a box in each row for the teacher's own mark, and one for the total."""

    head: tuple[str, str, str, str]
    rows: tuple[RubricRow, ...]
    total_word: str
    total: str
    box: str = ""


class Step(Struct, frozen=True):
    """One worked step and what to pencil in the margin beside it."""

    text: str
    jotting: str = ""


class Steps(_Item, frozen=True, tag="steps"):
    """Worked steps in order."""

    head: str
    steps: tuple[Step, ...]


class Verdict(_Item, frozen=True, tag="verdict"):
    """A marker's judgement: "right", "part" or "wrong", always with the word, the marks, and what to say."""

    kind: str
    word: str
    marks: str
    says: tuple[str, ...] = ()


class Pairs(_Item, frozen=True, tag="pairs"):
    """Two columns to join; `joined` are (left, right) places from 0 that are joined with a line."""

    left: tuple[Choice, ...]
    right: tuple[Choice, ...]
    joined: tuple[tuple[int, int], ...] = ()


class Beside(_Item, frozen=True, tag="beside"):
    """Two columns: pictures and answers on the left, `share` mm wide, what is said about them on the right."""

    share: float
    left: tuple[Words | Shown | Options | Lines | Pairs, ...]
    right: tuple[Words | Shown | Options | Lines | Steps | Verdict, ...]


Item = Beside | Words | Shown | Options | Lines | Rows | Rubric | Steps | Verdict | Pairs


class Part(Struct, frozen=True):
    """A part of a question: letter ("" when it is the whole), marks in the margin, and what stands there.

    `keep` holds it on one page; a part taller than most of a page is let run on.
    """

    letter: str
    marks: str
    items: tuple[Item, ...]
    keep: bool = True


class Printed(Struct, frozen=True):
    """A numbered question: its first sentence as heading, what all parts share, and its parts.

    `columns` above 1 sets the parts side by side (a battery of small pictures).
    """

    number: int
    title: str
    marks: str
    items: tuple[Item, ...]
    parts: tuple[Part, ...]
    columns: int = 1


class Sectioned(Struct, frozen=True):
    """A run of questions under the title of its topic."""

    title: str
    questions: tuple[Printed, ...]


class Blank(Struct, frozen=True):
    """A line of the head of the paper: a word and room to write, or a word and what is known."""

    word: str
    text: str = ""
    wide: bool = False


class Page(Struct, frozen=True):
    """A whole document for the page template. Lengths in mm, `text_pt` in points; `paper` is "a4" or "us-letter"."""

    title: str
    subtitle: str
    lang: str
    region: str
    paper: str
    text_pt: float
    stave_mm: float
    blanks: tuple[Blank, ...]
    notes: tuple[str, ...]
    sections: tuple[Sectioned, ...]
    foot: str
    page_word: str
    of_word: str
    part_word: str
    question_word: str
    credits_title: str = ""
    credits: tuple[str, ...] = ()
    table: tuple[tuple[str, ...], ...] = ()
    table_title: str = ""
