"""From a paper document to numbered questions on a page: groups, shared music, batteries, parts."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Final

from stavewright.engraving.forms import FormSetter, columns_for
from stavewright.engraving.gallery import Gallery
from stavewright.engraving.layout import Beside, Item, Part, Printed, Rubric, Sectioned, Shown, Words
from stavewright.engraving.measuring import height_of, level_row, narrowed, width_of
from stavewright.engraving.saying import Say
from stavewright.engraving.svg import SQUEEZED, Fit, Picture
from stavewright.papers.documents import Paper, Section
from stavewright.questions.catalogue import kind as kind_of
from stavewright.questions.documents import Block, ChoiceForm, FullQuestion, SignBlock, StaveBlock, TextBlock
from stavewright.questions.score_mirror import score_of
from stavewright.score.stave import Score

_GUTTER_MM: Final = 5.0
_LINES_IN_CELL: Final = 3.4
_BESIDE: Final = (22.0, 38.0)
_SHARED: Final = "Look at this music. Then answer the questions below it."

After = Callable[[FullQuestion, float], tuple[list[Item], list[Item]]]
"""What a document puts below the prompt of a part (the form, filled or not), and beside it (working, verdict)."""

Dress = Callable[[FullQuestion, Score, Picture], Picture]
"""What a document does to the pictures of a prompt: nothing, or ring the notes that the steps point at."""


def undressed(question: FullQuestion, score: Score, picture: Picture) -> Picture:
    """The picture as it is."""
    return picture


def battery_title(title: str, *, picking: bool) -> str:
    """The head of a battery: where answers are picked, nothing is written.

    >>> battery_title("Write a scale", picking=False), battery_title("Write a scale", picking=True)
    ('Write a scale.', 'Choose a scale.')
    """
    return f"{title.replace('Write', 'Choose', 1) if picking else title}."


@dataclass(frozen=True, slots=True)
class Setting:
    """How questions are set: pictures, forms, words, the width of the text in mm, and what follows each prompt.

    `dense` sets parts side by side wherever two have room, as on a drill sheet, even with more lines of words each.
    """

    gallery: Gallery
    forms: FormSetter
    say: Say
    width: float
    after: After
    dress: Dress = undressed
    batteries: bool = True
    dense: bool = False

    @property
    def indent(self) -> float:
        """How far parts stand in from the numbers, in mm: two letter heights, as in the template."""
        return 4.0 * self.forms.char

    def sections(self, paper: Paper) -> tuple[Sectioned, ...]:
        """Every section of a paper, questions numbered through.

        Raises:
            EngravingError: music that cannot be drawn.
        """
        out: list[Sectioned] = []
        number = 0
        for section in paper.sections:
            questions: list[Printed] = []
            for group in grouped(section):
                number += 1
                questions.append(self._printed(number, group))
            out.append(Sectioned(self.say(section.title), tuple(questions)))
        return tuple(out)

    def _printed(self, number: int, group: Sequence[FullQuestion]) -> Printed:
        if len(group) == 1:
            return self._alone(number, group[0])
        shared = _shared(group)
        same_kind = len({one.kind for one in group}) == 1
        if same_kind and not any(isinstance(block, StaveBlock) for block in shared):
            return self._battery(number, group, shared if shared[:1] == list(group[0].prompt[:1]) else [])
        return self._group(number, group, shared)

    def _alone(self, number: int, question: FullQuestion) -> Printed:
        title, blocks = _headed(question.prompt)
        title = title or kind_of(question.kind).title
        items = self._items(question, blocks, self.width, self._share((question,), (), self.width))
        keep = self._fits(items)
        return Printed(number, title, str(question.marks), (), (Part("", "", tuple(items), keep),))

    def _group(self, number: int, group: Sequence[FullQuestion], shared: Sequence[Block]) -> Printed:
        title, blocks = _headed(shared)
        if not title:
            title = self.say(_SHARED) if blocks else kind_of(group[0].kind).title
        parts: list[Part] = []
        width = self.width - self.indent
        share = self._share(group, shared, width)
        for question in group:
            own = [block for block in question.prompt if block not in shared]
            items = self._items(question, own, width, share)
            parts.append(Part(_letter(question), str(question.marks), tuple(items), self._fits(items)))
        return Printed(number, title, "", tuple(self._blocks(None, blocks, self.width)), tuple(parts))

    def _battery(self, number: int, group: Sequence[FullQuestion], shared: Sequence[Block]) -> Printed:
        title, blocks = _headed(shared)
        picking = all(isinstance(question.response[0], ChoiceForm) for question in group)
        title = title or battery_title(kind_of(group[0].kind).title, picking=picking)
        if picking and self.batteries:
            title = f"{title} {self.say('Mark one answer each time.')}"
        total = sum(question.marks for question in group)
        columns, width = self._columns(group, shared)
        share = self._share(group, shared, width)
        parts: list[Part] = []
        each = "" if len({question.marks for question in group}) == 1 else "own"
        for question in group:
            own = [block for block in question.prompt if block not in shared]
            items = self._items(question, own, width, share, "natural" if columns > 1 else "auto")
            marks = str(question.marks) if each or columns == 1 else ""
            parts.append(Part(_letter(question), marks, tuple(items), self._fits(items)))
        if columns > 1:
            parts = level_row(parts, columns)
        return Printed(
            number,
            title,
            str(total) if columns > 1 else "",
            tuple(self._blocks(None, blocks, self.width)),
            tuple(parts),
            columns,
        )

    def _columns(self, group: Sequence[FullQuestion], shared: Sequence[Block]) -> tuple[int, float]:
        """How many parts stand side by side, and how wide each is."""
        alone = (1, self.width - self.indent)
        if not self.batteries:
            return alone
        widest = 0.0
        for question in group:
            own = [block for block in question.prompt if block not in shared]
            if sum(isinstance(block, StaveBlock) for block in own) > 1:
                return alone
            for block in own:
                if isinstance(block, StaveBlock):
                    widest = max(widest, self.gallery.of(score_of(block.score)).width_mm / SQUEEZED)
                elif isinstance(block, TextBlock):
                    lines = _LINES_IN_CELL + (1.6 if self.dense else 0.0)
                    widest = max(widest, len(block.text) * self.forms.char / lines)
            for item in self.after(question, self._cell(2) if self.dense else 0.45 * self.width)[0]:
                if isinstance(item, Shown) and item.stave < 0.99 * self.gallery.stave_mm:
                    return alone
                widest = max(widest, width_of(item, self.forms.char))
        most = max((columns for columns in (4, 3, 2) if widest <= self._cell(columns)), default=1)
        columns = columns_for(len(group), most, 4)
        if columns > 1:
            return columns, self._cell(columns)
        return alone

    def _items(
        self, question: FullQuestion, blocks: Sequence[Block], width: float, share: float | None, fit: Fit = "auto"
    ) -> list[Item]:
        """A part from the top down; with a `share` of the width, what is said about it stands beside its pictures."""
        under, beside = self.after(question, width)
        above = self._blocks(question, blocks, width, fit)
        if share is None or not beside:
            return [*above, *under, *beside]
        words = [item for item in above if isinstance(item, Words)]
        left = [*(item for item in above if not isinstance(item, Words)), *under]
        left = [narrowed(item, share, self.forms.char) for item in left]
        return [*words, Beside(share, tuple(left), tuple(beside))]  # type: ignore[arg-type]  # no rows

    def _share(self, group: Sequence[FullQuestion], shared: Sequence[Block], width: float) -> float | None:
        """How wide the pictures of a group are at most, when what is said about them has room beside; else None."""
        widest, need = 0.0, 0.0
        for question in group:
            under, beside = self.after(question, width)
            own = [block for block in question.prompt if block not in shared and not isinstance(block, TextBlock)]
            left = [*self._blocks(question, own, width), *under]
            if beside and not left:
                return None
            widest = max([widest, *(width_of(item, self.forms.char) for item in left)])
            need = max(need, _BESIDE[len(beside) > 1] * self.forms.char if beside else 0.0)
        return widest + 2 if need and widest + 8 + need <= width else None

    def _cell(self, columns: int) -> float:
        return (self.width - (columns - 1) * _GUTTER_MM) / columns - self.indent

    def _blocks(
        self, question: FullQuestion | None, blocks: Sequence[Block], width: float, fit: Fit = "auto"
    ) -> list[Item]:
        out: list[Item] = []
        for block in blocks:
            if isinstance(block, TextBlock):
                out.append(Words(block.text, "quiet" if _caption(block, blocks) else "plain"))
            elif isinstance(block, SignBlock):
                out.append(Words(block.sign, "sign"))
            else:
                score = score_of(block.score)
                picture = self.gallery.of(score, width, fit)
                out += self.gallery.shown(self.dress(question, score, picture) if question else picture, block.alt)
        return out

    def _fits(self, items: Sequence[Item]) -> bool:
        """Whether a part may be held on one page: it takes no more than three fifths of it, and has no long table."""
        held = not any(isinstance(item, Rubric) for item in items)
        return held and height_of(items, self.forms.char) <= 0.6 * self.gallery.page_mm


def grouped(section: Section) -> list[list[FullQuestion]]:
    """The questions of a section, those of one group together."""
    out: list[list[FullQuestion]] = []
    for question in section.questions:
        if (
            out
            and question.group is not None
            and out[-1][0].group is not None
            and out[-1][0].group.id == question.group.id
        ):
            out[-1].append(question)
        else:
            out.append([question])
    return out


def _letter(question: FullQuestion) -> str:
    return question.group.part if question.group else ""


def _shared(group: Sequence[FullQuestion]) -> list[Block]:
    """The blocks that all parts begin with, equal or of one id: printed once."""
    rest = [list(one.prompt) for one in group[1:]]
    return [block for block in group[0].prompt if all(_has(blocks, block) for blocks in rest)]


def _has(blocks: Sequence[Block], block: Block) -> bool:
    return any(other == block for other in blocks)


def _caption(text: TextBlock, blocks: Sequence[Block]) -> bool:
    """Whether words belong under the music before them, as its credit does: no sentence, or named so."""
    if text.id.endswith("credit"):
        return True
    under = blocks.index(text) > 0 and isinstance(blocks[blocks.index(text) - 1], StaveBlock)
    return under and not text.text.rstrip().endswith((".", "?", "!", ":"))


def _headed(blocks: Sequence[Block]) -> tuple[str, list[Block]]:
    """The first sentence, to stand beside the number, when words come first; and the other blocks."""
    if blocks and isinstance(blocks[0], TextBlock):
        return blocks[0].text, list(blocks[1:])
    return "", list(blocks)
