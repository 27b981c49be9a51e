"""A lesson on one side of paper: warm-ups, one rule with its pictures, homework; and its answers on another."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace as changed
from string import ascii_lowercase
from typing import Final

from msgspec.structs import replace

from stavewright.engraving import page as pages
from stavewright.engraving.booklet import example_pieces, figure_bands
from stavewright.engraving.errors import PageError
from stavewright.engraving.forms import EMPTY
from stavewright.engraving.handout import Handout, Head, Leaf, Piece, Rule, Run
from stavewright.engraving.layout import Blank, Item, Part, Printed, Sectioned, Words
from stavewright.engraving.lesson_sheets import Heading, handout, key_leaf
from stavewright.engraving.measuring import height_of
from stavewright.engraving.printed import Setting
from stavewright.engraving.printer import Printer
from stavewright.engraving.saying import with_signs
from stavewright.engraving.sheet import SheetOf
from stavewright.engraving.svg import STAVE_SIZES
from stavewright.papers.documents import Section
from stavewright.questions.documents import FullQuestion, StaveBlock
from stavewright.questions.score_mirror import score_of
from stavewright.services.set_lesson import WARM_UPS, Lesson, WarmUp

_MOST_FIGURES: Final = 6
_GUTTER_MM: Final = 5.0
_WRAPPED: Final = 2.0
"""Music so many times as wide as its place is set there in two lines."""
LARGE_PRINT_MM: Final = 14.0
"""From this stave height on, a lesson may take more than one side."""


def fitted(printer: Printer, lesson: Lesson) -> tuple[Lesson, bytes]:
    """The lesson with as much homework as one side holds, and that side as PDF.

    Raises:
        PageError: even with one homework question and no picture it is longer (large print is let run on).
    """
    usual, small = _choices(printer.sheet(lesson.paper()), lesson)
    for made, pictures, least in ((usual, True, 2), (small, True, 2), (small, False, 2), (small, False, 1)):
        for many in range(len(made.homework), least - 1, -1):
            kept = changed(made, homework=made.homework[:many])
            side = lesson_page(printer.sheet(kept.paper()), kept, pictures=pictures)
            if len(pages.pictures(side, ppi=10)) == 1:
                return kept, pages.pdf(side)
    if printer.stave_mm < LARGE_PRINT_MM:
        hint = "choose another rule or seed" if printer.stave_mm <= min(STAVE_SIZES) else "choose smaller staves"
        title = lesson.rule.rule.title
        where = f"does not fit one side with staves of {printer.stave_mm:g} mm"
        raise PageError(f"a lesson on {title!r} {where}: {hint}")
    few = changed(small, homework=lesson.homework[:3])
    return few, pages.pdf(lesson_page(printer.sheet(few.paper()), few))


def _choices(sheet: SheetOf, lesson: Lesson) -> tuple[Lesson, Lesson]:
    """The lesson with its first three warm-ups, and with the three that take least room."""

    def room(one: WarmUp) -> float:
        items = [item for part in _warm_parts(sheet, [one], sheet.width / WARM_UPS) for item in part.items]
        return height_of(items, sheet.forms.char)

    shortest = sorted(lesson.warm_ups, key=room)[:WARM_UPS]
    kept = [one for one in lesson.warm_ups if one in shortest]
    return lesson.with_warm_ups(lesson.warm_ups[:WARM_UPS]), lesson.with_warm_ups(kept)


def lesson_page(sheet: SheetOf, lesson: Lesson, *, pictures: bool = True) -> Handout:
    """The side of paper that lies on the table in the lesson and goes home afterwards."""

    def after(question: FullQuestion, width: float) -> tuple[list[Item], list[Item]]:
        return sheet.forms.items(question, width, EMPTY, terse=question.group is not None), []

    say = sheet.say
    *_, homework = sheet.set(after, dense=True)
    warm = [Run(_warm_ups(sheet, lesson))] if lesson.warm_ups else []
    pieces: tuple[Piece, ...] = (*warm, *_idea(sheet, lesson, pictures=pictures), Run(homework))
    blanks = (Blank("Name", wide=True), Blank("Date"))
    leaf = Leaf(say(f"Lesson, grade {lesson.grade}"), pieces, blanks=blanks)
    return handout([sheet], [leaf], foot=lesson.id, credits=False)


def _warm_ups(sheet: SheetOf, lesson: Lesson) -> Sectioned:
    """The warm-ups side by side where their music has room, else one below the other; numbered from 1."""
    indent = 4.0 * sheet.forms.char
    widest = max(
        (
            sheet.gallery.of(score_of(block.score)).width_mm
            for one in lesson.warm_ups
            for block in one.question.prompt
            if isinstance(block, StaveBlock)
        ),
        default=0.0,
    )

    def room(columns: int) -> float:
        return (sheet.width - (columns - 1) * _GUTTER_MM) / columns - indent

    columns = next((many for many in (3, 2) if many <= len(lesson.warm_ups) and widest <= _WRAPPED * room(many)), 1)

    parts = _warm_parts(sheet, lesson.warm_ups, room(columns))
    ask = "Three small things first." if len(parts) == WARM_UPS else "Small things first."
    return Sectioned(sheet.say("Warm-up"), (Printed(1, sheet.say(ask), "", (), tuple(parts), columns),))


def _warm_parts(sheet: SheetOf, warm_ups: Sequence[WarmUp], width: float) -> list[Part]:
    def after(question: FullQuestion, room: float) -> tuple[list[Item], list[Item]]:
        return sheet.forms.items(question, room, EMPTY, terse=True), []

    parts: list[Part] = []
    for letter, one in zip(ascii_lowercase, warm_ups, strict=False):
        own = replace(sheet.paper, sections=(Section(None, "", (one.question,)),))
        setting = Setting(sheet.gallery, sheet.forms, sheet.say, width, after, dense=True)
        ((printed,),) = (section.questions for section in setting.sections(own))
        items = (Words(printed.title), *printed.items, *(item for part in printed.parts for item in part.items))
        parts.append(Part(letter, str(one.question.marks), items))
    return parts


def _idea(sheet: SheetOf, lesson: Lesson, *, pictures: bool) -> Iterator[Piece]:
    rule = lesson.rule
    yield Head(sheet.say(rule.rule.title))
    yield Rule(tuple(with_signs(sheet.say(one)) for one in rule.sentences))
    if not pictures:
        return
    if rule.pictures:
        yield from figure_bands(sheet, rule.pictures[:_MOST_FIGURES])
    elif rule.examples:
        plain = changed(rule.examples[0], slips=())
        question = replace(plain.question, working=plain.question.working[:3])
        yield from example_pieces(sheet, changed(plain, question=question))


def lesson_answers(sheet: SheetOf, lesson: Lesson) -> Handout:
    """The answers, and which slip of the pupil's each warm-up takes up."""
    leaf = key_leaf(sheet, Heading(f"Lesson: {_small(lesson.rule.rule.title)}"))
    notes = tuple(
        sheet.say(f"Warm-up ({letter}) takes up the slip: {one.slip}.")
        for letter, one in zip(ascii_lowercase, lesson.warm_ups, strict=False)
        if one.slip
    )
    return handout([sheet], [replace(leaf, notes=notes)], foot=f"{lesson.id} answers", credits=False)


def _small(title: str) -> str:
    return title[:1].lower() + title[1:]
