"""Drills, homework and other sheets for lessons: the questions on one leaf, their answers short on another."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from stavewright.engraving.forms import EMPTY, columns_for
from stavewright.engraving.handout import Handout, Leaf, Run
from stavewright.engraving.layout import Blank, Item, Part, Printed, Sectioned, Shown, Words
from stavewright.engraving.measuring import level_row, width_of
from stavewright.engraving.page import TYPST_PAPER, text_points
from stavewright.engraving.printed import grouped
from stavewright.engraving.saying import counted, with_signs
from stavewright.engraving.sheet import SheetOf
from stavewright.engraving.worked import drawn_answer, ringed, said_answer, steps_items
from stavewright.questions.catalogue import kind as kind_of
from stavewright.questions.documents import ChoiceForm, ChoicesForm, FullQuestion, StaveBlock

MARGINS: Final = (27.0, 19.0)
_GUTTER_MM: Final = 5.0
_MOST_COLUMNS: Final = 5
_MOST_OTHERS: Final = 2
_SHORT: Final = 24


@dataclass(frozen=True, slots=True)
class Heading:
    """The head of a sheet: its title, a line under it, and whether name and date are asked for."""

    title: str
    subtitle: str = ""
    named: bool = True
    time: bool = False


def question_leaf(sheet: SheetOf, head: Heading, corner: str = "") -> Leaf:
    """The sheet that a pupil works, with a line for name and date."""
    terse = frozenset(
        one.id
        for section in sheet.paper.sections
        for group in grouped(section)
        if len(group) > 1 and len({one.kind for one in group}) == 1
        for one in group
    )

    def after(question: FullQuestion, width: float) -> tuple[list[Item], list[Item]]:
        return sheet.forms.items(question, width, EMPTY, terse=question.id in terse), []

    blanks: list[Blank] = [Blank("Name", wide=True), Blank("Date")] if head.named else []
    if head.time:
        minutes = sheet.paper.time_minutes
        blanks.append(Blank("Time", f"about {minutes} minute{'' if minutes == 1 else 's'}"))
    if head.named:
        blanks.append(Blank("Marks", str(sheet.paper.total)))
    pieces = tuple(Run(section) for section in sheet.set(after, dense=True))
    return Leaf(sheet.say(head.title), pieces, sheet.say(head.subtitle), corner, tuple(blanks))


def key_leaf(sheet: SheetOf, head: Heading, corner: str = "") -> Leaf:
    """The answers alone, as short as they can be said or drawn, under the numbers of the sheet."""
    groups = [group for section in sheet.paper.sections for group in grouped(section)]
    printed = tuple(_key(sheet, number, group) for number, group in enumerate(groups, 1))
    return Leaf(sheet.say("Answers"), (Run(Sectioned(sheet.say(head.title), printed)),), corner=corner)


def worked_leaf(sheet: SheetOf, head: Heading, corner: str = "") -> Leaf:
    """The answers with every worked step, as a paper's model answers have them."""

    def after(question: FullQuestion, width: float) -> tuple[list[Item], list[Item]]:
        return drawn_answer(sheet, question, width), [*said_answer(sheet, question), *steps_items(sheet, question)]

    sections = sheet.set(after, dress=ringed, batteries=False)
    pieces = tuple(Run(section) for section in sections)
    return Leaf(sheet.say("Answers with working"), pieces, sheet.say(head.title), corner)


def handout(sheets: Sequence[SheetOf], leaves: Sequence[Leaf], *, foot: str, credits: bool = True) -> Handout:
    """The whole document of one or more sheets of one size and one choice of words."""
    first = sheets[0]
    named = tuple(dict.fromkeys(credit for sheet in sheets for credit in sheet.paper.credits)) if credits else ()
    return Handout(
        title=leaves[0].title or foot,
        lang="en",
        region="us" if first.paper.words == "us" else "gb",
        paper=TYPST_PAPER[first.size],
        text_pt=text_points(first.stave_mm),
        margins=MARGINS,
        foot=foot,
        page_word="page",
        of_word="of",
        leaves=tuple(leaves),
        credits_title=first.say("Where the music comes from"),
        credits=named,
    )


def _key(sheet: SheetOf, number: int, group: Sequence[FullQuestion]) -> Printed:
    titles = list(dict.fromkeys(kind_of(one.kind).title for one in group))
    one_music = any(isinstance(block, StaveBlock) and block.id for block in group[0].prompt)
    title = titles[0] if len(titles) == 1 else "Questions on one extract" if one_music else "Several questions"
    width = sheet.width - 4.0 * sheet.forms.char
    parts = [Part(one.group.part if one.group else "", "", tuple(_answer(sheet, one, width))) for one in group]
    columns, room = _columns(sheet, parts)
    if columns > 1:
        parts = [
            Part(one.group.part if one.group else "", "", tuple(_answer(sheet, one, room, fit=True))) for one in group
        ]
        parts = level_row(parts, columns)
    return Printed(number, sheet.say(title), "", (), tuple(parts), columns)


def _answer(sheet: SheetOf, question: FullQuestion, width: float, *, fit: bool = False) -> list[Item]:
    """The model answer as music where it is drawn, else in words; a picked answer with its letter."""
    form = question.response[0]
    if not isinstance(form, ChoiceForm | ChoicesForm):
        drawn: list[Item] = [item for item in drawn_answer(sheet, question, width) if isinstance(item, Shown)]
        if drawn:
            return drawn
    return [Words(key_words(sheet, question), "answer")]


def key_words(sheet: SheetOf, question: FullQuestion) -> str:
    """The model answer in as few words as name it, and one or two short ones that are right and quite different."""
    model = question.answers[0]
    letter = model.value[0].choice if model.value else None
    text = with_signs(sheet.say(counted(model.text)))
    if letter:
        return f"{letter}: {text}" if letter != model.text else text
    others = [one.text for one in question.answers[1:] if _other(one.text, model.text)][:_MOST_OTHERS]
    return f"{text} (also {with_signs(sheet.say('; '.join(others)))})" if others else text


def _other(text: str, model: str) -> bool:
    """Whether an accepted answer is short and more than the model answer with a word added or left out.

    >>> _other("C", "4/4"), _other("F natural", "F"), _other("compound minor 3rd", "minor 3rd")
    (True, False, False)
    """
    one, other = set(text.lower().split()), set(model.lower().split())
    return len(text) <= _SHORT and not (one <= other or other <= one)


def _columns(sheet: SheetOf, parts: Sequence[Part]) -> tuple[int, float]:
    """How many answers stand side by side, and how wide each is."""
    char, indent = sheet.forms.char, 4.0 * sheet.forms.char
    widest = 0.0
    for part in parts:
        for item in part.items:
            wide = len(item.text) * char if isinstance(item, Words) else width_of(item, char)
            widest = max(widest, wide)

    def room(columns: int) -> float:
        return (sheet.width - (columns - 1) * _GUTTER_MM) / columns - indent

    most = max((columns for columns in range(2, _MOST_COLUMNS + 1) if widest <= room(columns)), default=1)
    columns = columns_for(len(parts), most, _MOST_COLUMNS)
    return columns, room(columns)
