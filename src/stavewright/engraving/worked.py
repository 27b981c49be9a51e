"""Model answers with their working: the answer, why, every other right answer, and steps pointed at on the stave."""

from __future__ import annotations

from typing import Final

from stavewright.engraving.composed import NOT_THE_KEY, is_composed
from stavewright.engraving.forms import Filling
from stavewright.engraving.gallery import places_of, scaled, shown_as, strip, systems_with
from stavewright.engraving.layout import Item, Options, Pairs, Shown, Step, Steps, Words
from stavewright.engraving.saying import together, with_signs
from stavewright.engraving.sheet import SheetOf
from stavewright.engraving.svg import Picture, point_at
from stavewright.questions.documents import FullQuestion, NotesForm, RhythmForm, StaveBlock
from stavewright.questions.score_mirror import score_of
from stavewright.questions.values import Value
from stavewright.score.stave import Score

_SMALL: Final = 0.8
_MANY: Final = 6


def drawn_answer(sheet: SheetOf, question: FullQuestion, width: float) -> list[Item]:
    """The model answer where the pupil would write it, when it is drawn or picked."""
    filled = sheet.forms.items(question, width, Filling(question.answers[0].value, model=True), terse=True)
    return [item for item in filled if isinstance(item, Shown | Options | Pairs)]


def right_music(sheet: SheetOf, question: FullQuestion, width: float) -> list[Item]:
    """The model answer written out small, for an answer in music that was not yet right."""
    if not isinstance(question.response[0], NotesForm | RhythmForm):
        return []
    score = sheet.forms.music(question, question.answers[0].value[0])
    if score is None:
        return []
    picture = sheet.gallery.of(score, width)
    small = scaled(picture, picture.stave_mm * _SMALL)
    return list(sheet.gallery.shown(small, sheet.say("The right answer, written out.")))


def said_answer(sheet: SheetOf, question: FullQuestion) -> list[Item]:
    """The model answer in words, its reason, and all other right answers; of a composed one what it does well."""
    say = sheet.say
    if is_composed(question):
        return [Words(say(f"An example. {NOT_THE_KEY}")), Words(say(question.answers[0].reason), "quiet")]
    items: list[Item] = [Words(say(f"Answer: {_text(question)}"), "answer")]
    if question.answers[0].reason:
        items.append(Words(say(question.answers[0].reason)))
    model = question.answers[0]
    grouped = together((one.text, one.reason) for one in question.answers[1:])
    others = [text if reason in ("", model.reason) else f"{text} ({reason.rstrip('.')})" for text, reason in grouped]
    if others:
        items.append(Words(say("Also right: " + "; ".join(others) + "."), "quiet"))
    return items


def _text(question: FullQuestion) -> str:
    model = question.answers[0]
    letter = model.value[0].choice if model.value else None
    return f"{letter}, {model.text}" if letter and letter != model.text else model.text


def steps_items(sheet: SheetOf, question: FullQuestion) -> list[Item]:
    """The worked steps; on a shared extract, its line once more with the notes they point at ringed."""
    if not question.working:
        return []
    say = sheet.say
    steps = tuple(Step(say(step.text), with_signs(say(step.jotting))) for step in question.working)
    return [*_pointed(sheet, question), Steps(say("How to find it"), steps)]


def ringed(question: FullQuestion, score: Score, picture: Picture) -> Picture:
    """A picture of the prompt with the notes ringed that the worked steps point at, where that shows anything.

    Where the answer is a place in the music, that place is ringed.
    """
    if question.answers[0].value[0].places:
        return at_places(question.answers[0].value, score, picture)
    here = _wanted(question, picture)
    return point_at(picture, here) if here else picture


def at_places(values: tuple[Value, ...], score: Score, picture: Picture) -> Picture:
    """A picture with the places of an answer ringed (notes) or framed (bars), those that it has."""
    notes: list[str] = []
    bars: list[int] = []
    for value in values:
        for place in value.places or ():
            rings, frames = places_of(score, place.bar, place.note)
            notes += [own for own in rings if picture.ids.get(own) in picture.places.spots]
            bars += frames
    return point_at(picture, dict.fromkeys(notes), dict.fromkeys(bars)) if notes or bars else picture


def _wanted(question: FullQuestion, picture: Picture) -> list[str]:
    wanted = list(dict.fromkeys(own for step in question.working for own in step.points_at))
    here = [own for own in wanted if picture.ids.get(own) in picture.places.spots]
    return here if here and len(here) <= _MANY and len(picture.ids) > len(here) + 1 else []


def _pointed(sheet: SheetOf, question: FullQuestion) -> list[Item]:
    if question.group is None:
        return []
    for block in question.prompt:
        if not isinstance(block, StaveBlock) or not block.id:
            continue
        picture = sheet.gallery.of(score_of(block.score), sheet.width)
        here = _wanted(question, picture)
        if not here:
            continue
        lit = point_at(picture, here)
        small = max(5.0, sheet.stave_mm * _SMALL)
        pieces = [scaled(strip(lit, index), small) for index in systems_with(picture, here)]
        alt = sheet.say("The music again, with the notes that the steps point at ringed.")
        return [shown_as(one, alt) for one in pieces]
    return []
