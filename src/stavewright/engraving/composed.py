"""Composed answers on the page: lines to write on, examples side by side, the table of criteria and their marks."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from stavewright.engraving.layout import Item, Rubric, RubricRow, Words
from stavewright.engraving.saying import marks_word
from stavewright.engraving.sheet import SheetOf
from stavewright.marking.documents import Marked
from stavewright.questions.asking import facts_of
from stavewright.questions.catalogue import kind as kind_of
from stavewright.questions.criterion import Criterion, shared
from stavewright.questions.documents import FullQuestion

NOT_THE_KEY: Final = "Not the key: any answer that meets the criteria is right."
PROPOSED: Final = "to be confirmed by the teacher"


def is_composed(question: FullQuestion) -> bool:
    """Whether an answer to it is judged by criteria."""
    return kind_of(question.kind).report is not None


def example_items(sheet: SheetOf, question: FullQuestion, width: float) -> list[Item]:
    """Every example answer as music, each with what it does well, said to be no key."""
    say = sheet.say
    items: list[Item] = []
    for place, one in enumerate(question.answers):
        score = sheet.forms.music(question, one.value[0])
        items.append(Words(say("One good answer" if place == 0 else "Another good answer"), "title"))
        if score is None:
            items.append(Words(say(one.text)))
        else:
            picture = sheet.gallery.of(score, width)
            items += sheet.gallery.shown(picture, say(f"Example answer: {one.text}"))
        items.append(Words(say(one.reason), "quiet"))
    some = "An example." if len(question.answers) == 1 else "Examples."
    return [Words(say(f"{some} {NOT_THE_KEY}")), *items]


def scheme_items(sheet: SheetOf, question: FullQuestion, slips: Sequence[tuple[str, str]]) -> list[Item]:
    """The rubric with boxes for the marker to fill, and the marks that known slips would get."""
    say = sheet.say
    part = f"({question.group.part}) " if question.group else ""
    rows = tuple(
        RubricRow(say(one.name.capitalize()), say(one.earns), str(one.of), "") for one in _criteria(question)
    )
    head = (say("Criterion"), say("What earns the marks"), say("Of"), say("Marks"))
    items: list[Item] = [Words(say(f"{part}Judge by these criteria; the teacher has the last word."), "quiet")]
    items.append(Rubric(head, rows, say("Total"), _total(sum(one.of for one in _criteria(question)), question.marks)))
    if slips:
        told = "; ".join(f"{name} ({marks})" for name, marks in slips)
        items.append(Words(say(f"Marks that known slips get: {told}."), "quiet"))
    return items


def _total(most: int, marks: int) -> str:
    """The most that the criteria give, and what the paper counts it as where that is something else.

    >>> _total(10, 10), _total(6, 8)
    ('10', '6, counted as 8')
    """
    return str(most) if most == marks else f"{most}, counted as {marks}"


def _criteria(question: FullQuestion) -> tuple[Criterion, ...]:
    report = kind_of(question.kind).report
    found = () if report is None else report(facts_of(question), question.answers[0].value[0])
    return shared(found, question.marks)


def judged_items(sheet: SheetOf, marked: Marked) -> list[Item]:
    """The rubric of a marked answer: what was found, the marks, and a box where the teacher has yet to decide."""
    say = sheet.say
    rows = tuple(
        RubricRow(
            say(one.name.capitalize()),
            say(one.why[:1].upper() + one.why[1:] + "." + (f" Teacher: {one.note}" if one.note else "")),
            f"{one.marks} of {one.of}" if one.program is None else f"{one.program} of {one.of}",
            "" if marked.provisional else str(one.marks),
            changed=one.program is not None,
        )
        for one in marked.criteria
    )
    proposed = sum(one.marks if one.program is None else one.program for one in marked.criteria)
    most = sum(one.of for one in marked.criteria)
    total = "" if marked.provisional else str(marked.marks)
    head = (say("Criterion"), say("What was found"), say("Proposed"), say("Teacher"))
    return [Rubric(head, rows, say("Total"), f"{proposed} of {most}", total)]


def proposal(marked: Marked) -> str:
    """The marks of an answer, said to be a proposal until the teacher has decided.

    >>> from stavewright.marking.documents import Marked
    >>> proposal(Marked(id="q", kind="k", topic="t", marks=4, of=6, provisional=True))
    '4 of 6 marks, to be confirmed by the teacher'
    """
    said = f"{marked.marks} of {marks_word(marked.of)}"
    return f"{said}, {PROPOSED}" if marked.provisional else said
