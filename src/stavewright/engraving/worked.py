"""Model answers with their working: the answer, why, every other right answer, and steps pointed at on the stave."""

from __future__ import annotations

from typing import Final

from stavewright.engraving.forms import Filling
from stavewright.engraving.gallery import scaled, shown_as, strip, systems_with
from stavewright.engraving.layout import Item, Lines, Options, Pairs, Shown, Step, Steps, Words
from stavewright.engraving.sheet import SheetOf
from stavewright.engraving.svg import point_at
from stavewright.questions.documents import FullQuestion, StaveBlock
from stavewright.questions.score_document import score_of

_SMALL: Final = 0.8
_MANY: Final = 6


def answer_items(sheet: SheetOf, question: FullQuestion, width: float) -> list[Item]:
    """The model answer where the pupil would write it, its reason, and all other right answers."""
    say = sheet.say
    model = question.answers[0]
    filled = sheet.forms.items(question, width, Filling(model.value, model=True), terse=True)
    items: list[Item] = [item for item in filled if isinstance(item, Shown | Options | Pairs)]
    items.append(Words(say(f"Answer: {_text(question)}"), "answer"))
    if model.reason:
        items.append(Words(say(model.reason)))
    others = [f"{one.text} ({_lower(one.reason)})" if one.reason else one.text for one in question.answers[1:]]
    if others:
        items.append(Words(say("Also right: " + "; ".join(others) + "."), "quiet"))
    return [item for item in items if not isinstance(item, Lines)]


def _text(question: FullQuestion) -> str:
    model = question.answers[0]
    letter = model.value[0].choice if model.value else None
    return f"{letter}, {model.text}" if letter and letter != model.text else model.text


def _lower(reason: str) -> str:
    return reason.rstrip(".")


def steps_items(sheet: SheetOf, question: FullQuestion, width: float) -> list[Item]:
    """The worked steps, and the stave once more with the notes they point at ringed."""
    if not question.working:
        return []
    say = sheet.say
    steps = tuple(Step(say(step.text), say(step.jotting)) for step in question.working)
    return [*_pointed(sheet, question, width), Steps(say("How to find it"), steps)]


def _pointed(sheet: SheetOf, question: FullQuestion, width: float) -> list[Item]:
    wanted = list(dict.fromkeys(own for step in question.working for own in step.points_at))
    for block in question.prompt:
        if not isinstance(block, StaveBlock):
            continue
        picture = sheet.gallery.of(score_of(block.score), width)
        here = [own for own in wanted if picture.ids.get(own) in picture.places.spots]
        if not here or len(here) > _MANY or len(picture.ids) < 3:
            continue
        lit = point_at(picture, here)
        small = max(5.0, sheet.stave_mm * _SMALL)
        pieces = [scaled(strip(lit, index), small) for index in systems_with(picture, here)]
        alt = sheet.say("The music again, with the notes that the steps point at ringed.")
        return [shown_as(one, alt) for one in pieces]
    return []
