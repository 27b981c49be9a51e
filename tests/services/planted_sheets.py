"""Faults planted in the printed music and on the pupil's sheet."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import msgspec

from services.planting import QUESTIONS, Ground, fault, replaced
from stavewright.questions.documents import ChoiceForm, SheetPicture
from stavewright.questions.kind import Draft, Posed
from stavewright.questions.score_mirror import document_of, score_of
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.syllabus.scope import scope_for


def redrawn(posed: Posed, change: Callable[[Any], Any]) -> Posed:
    """The same question with the music of its prompt changed."""
    blocks = tuple(
        msgspec.structs.replace(block, score=document_of(change(score_of(block.score))))
        if hasattr(block, "score")
        else block
        for block in posed.blocks
    )
    return Posed(blocks, posed.form)


@fault("a sign is not printed", "name-the-interval", 4, "is written so that it reads")
def _(ground: Ground) -> None:
    ground.code(f"{QUESTIONS}.showing.two_notes.with_accidentals", lambda _: lambda score: score)


@fault("a bar does not add up", "key-of-a-melody", 2, "holds .* ticks")
def _(ground: Ground) -> None:
    def short(score: Any) -> Any:
        (stave,) = score.staves
        bars = [*stave.bars]
        bars[1] = replace(bars[1], voices=(bars[1].events[:-1],))
        return replace(score, staves=(replace(stave, bars=tuple(bars)),), brackets=())

    def pose(posing: Any) -> Any:
        return lambda *given: redrawn(posing(*given), short)

    ground.kind("key-of-a-melody", "pose", pose)


@fault("the music goes beyond the grade", "name-the-note", 1, "not in the grade's scope")
def _(ground: Ground) -> None:
    ground.kind("name-the-note", "set", lambda setter: lambda scope, *more: setter(scope_for(5), *more))


@fault("the answer is drawn on another line", "write-the-note", 3, "is drawn without")
def _(ground: Ground) -> None:
    def lower(draw: Any) -> Any:
        def wrong(facts: Any, value: Value) -> Any:
            notes = tuple(replaced(note, octave=note.octave - 1) for note in value.notes or ())
            return draw(facts, replaced(value, notes=notes))

        return wrong

    ground.kind("write-the-note", "draw", lower)


@fault("facts do not survive storage", "total-value", 2, "storage")
def _(ground: Ground) -> None:
    def in_a_list(setter: Any) -> Any:
        def wrong(*given: Any) -> Any:
            draft = setter(*given)
            return draft and Draft(replaced(draft.facts, run=list(draft.facts.run)), draft.expected)

        return wrong

    ground.kind("total-value", "set", in_a_list)


def saying(change: Callable[[Any, str], Any], id_: str) -> Callable[[Any], Any]:
    """A pose that changes one block with the model answer in hand."""
    from stavewright.questions.catalogue import kind

    def make(posing: Any) -> Any:
        def wrong(facts: Any, wording: Wording) -> Posed:
            posed = posing(facts, wording)
            model = kind(id_).solve(facts)[0].text
            return Posed(tuple(change(block, model) for block in posed.blocks), posed.form)

        return wrong

    return make


@fault("the text alternative names the note", "name-the-note", 1, "the sheet says the answer")
def _(ground: Ground) -> None:
    def named(block: Any, model: str) -> Any:
        return msgspec.structs.replace(block, alt=f"The note {model} on a stave.") if hasattr(block, "alt") else block

    ground.kind("name-the-note", "pose", saying(named, "name-the-note"))


@fault("the prompt says the answer", "primary-triads", 4, "the sheet says the answer")
def _(ground: Ground) -> None:
    def said(block: Any, model: str) -> Any:
        return (
            msgspec.structs.replace(block, text=f"{block.text} (It is {model}.)") if hasattr(block, "text") else block
        )

    ground.kind("primary-triads", "pose", saying(said, "primary-triads"))


@fault("the prompt says the number", "interval-number", 2, "the sheet says the answer")
def _(ground: Ground) -> None:
    def said(block: Any, model: str) -> Any:
        number = re.sub(r"\D", "", model)
        text = f"{getattr(block, 'text', '')} The answer: {number}."
        return msgspec.structs.replace(block, text=text) if hasattr(block, "text") else block

    ground.kind("interval-number", "pose", saying(said, "interval-number"))


@fault("the right option's text alternative differs", "write-the-interval", 4, "only one of its look", "on-screen")
def _(ground: Ground) -> None:
    def marked(choice: Any) -> Any:
        def wrong(kind: Any, facts: Any, answers: Any, *more: Any) -> Any:
            form = choice(kind, facts, answers, *more)
            return form and ChoiceForm(
                tuple(
                    msgspec.structs.replace(one, alt=f"{one.alt} Well written.")
                    if one.value == answers[0].value[0]
                    else one
                    for one in form.options
                )
            )

        return wrong

    ground.code(f"{QUESTIONS}.asking.choice", marked)


@fault("a picture is named after what it shows", "name-the-note", 2, "the sheet has the id")
def _(ground: Ground) -> None:
    def named(_: Any) -> Any:
        def wrong(id_: str, number: int, block: Any) -> Any:
            if not hasattr(block, "score"):
                return block
            return SheetPicture(f"{id_}-{next(score_of(block.score).notes()).pitch.short}", block.alt)

        return wrong

    ground.code(f"{QUESTIONS}.sheet._block", named)


@fault("a block is named after the answer", "which-clef", 2, "a block of the prompt has the id")
def _(ground: Ground) -> None:
    def named(block: Any, model: str) -> Any:
        return msgspec.structs.replace(block, id=model.replace(" ", "-"))

    ground.kind("which-clef", "pose", saying(named, "which-clef"))


@fault("the sheet carries the music as data", "name-the-tonic-triad", 2, "the sheet has .*(score|alter)")
def _(ground: Ground) -> None:
    ground.code(f"{QUESTIONS}.sheet._block", lambda _: lambda id_, number, block: block)


@fault("the sheet carries what each option says", "value-name", 2, "the sheet has value", "on-screen")
def _(ground: Ground) -> None:
    ground.code(f"{QUESTIONS}.sheet._options", lambda _: lambda id_, options: tuple(options))


@fault("a US sheet is in UK words", "value-name", 3, "UK words in a US question", "on-screen")
def _(ground: Ground) -> None:
    ground.code(f"{QUESTIONS}.wording.Wording.say", lambda _: lambda self, text: text)


@fault("a reason shows the program", "enharmonic-twin", 4, "a sentence shows the program")
def _(ground: Ground) -> None:
    def careless(solve: Any) -> Any:
        return lambda facts: tuple(replaced(one, reason=f"It is {facts!r}.") for one in solve(facts))

    ground.kind("enharmonic-twin", "solve", careless)
