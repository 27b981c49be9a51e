"""A question in the reader's note names: what is printed of it, and what is shown of its answers."""

from __future__ import annotations

from typing import Final, TypeVar

from msgspec.structs import replace

from stavewright.questions.documents import (
    Answer,
    Block,
    ChoiceForm,
    ChoicesForm,
    Form,
    FullQuestion,
    NotesForm,
    Option,
    OrderForm,
    PairsForm,
    Question,
    RhythmForm,
    Slip,
    StaveBlock,
    Step,
    TextBlock,
)
from stavewright.questions.errors import BadDocument
from stavewright.questions.note_names import check_note_names, in_names, short_in_names, to_english
from stavewright.questions.score_document import ScoreDocument
from stavewright.questions.values import Value

_Q = TypeVar("_Q", bound=Question)

OTHER_LETTERS: Final = frozenset({"metre", "values"})
"""Topics whose capital letters are time signatures (C) and not notes."""
_PHRASES: Final = frozenset({"name-the-form"})
"""Kinds whose capital letters name phrases."""
_LETTERS: Final = frozenset("ABCDEFG")


def renamed(question: _Q, names: str) -> _Q:
    """The question as it is put in another vocabulary of note names; its answers stay in English.

    Raises:
        UnknownNoteNames: no such vocabulary.
        BadDocument: the question is in another vocabulary already.
    """
    check_note_names(names)
    if question.note_names == names:
        return question
    if question.note_names != "english":
        raise BadDocument(f"question {question.id} has {question.note_names} note names already: set it afresh")
    said = _Teller(names, letters=_bare_letters(question))
    return replace(
        question,
        prompt=tuple(said.block(block) for block in question.prompt),
        response=tuple(said.form(form) for form in question.response),
        note_names=names,
    )


def shown(question: FullQuestion) -> FullQuestion:
    """A copy of a question for people to look at: answers, reasons, working and slips in its own note names."""
    if question.note_names == "english":
        return question
    said = _Teller(question.note_names, letters=_bare_letters(question))
    return replace(
        question,
        answers=tuple(said.answer(one) for one in question.answers),
        working=tuple(said.step(one) for one in question.working),
        slips=tuple(said.slip(one) for one in question.slips),
    )


def shown_words(question: Question, text: str) -> str:
    """A sentence about a question in the question's own note names."""
    return in_names(text, question.note_names, letters=_bare_letters(question))


def in_english(question: Question, value: Value) -> Value:
    """A pupil's words in the question's own note names as the English words that the marker knows.

    Words that are no note, key or list of notes stay as they are.
    """
    if question.note_names == "english" or value.words is None:
        return value
    read = to_english(value.words, question.note_names)
    return value if read is None else replace(value, words=read)


def _bare_letters(question: Question) -> str:
    """What lone capital letters of a question's words are, as `note_names.in_names` asks."""
    if question.topic in OTHER_LETTERS or question.kind in _PHRASES:
        return "numbered"
    labelled = any(_marked(block.score) for block in question.prompt if isinstance(block, StaveBlock))
    return "labels" if labelled else "notes"


def _marked(score: ScoreDocument) -> bool:
    labels = {bracket.label for bracket in score.brackets}
    for stave in score.staves:
        for bar in stave.bars:
            labels |= {event.label or "" for voice in bar.voices for event in voice}
    return bool(labels & _LETTERS)


class _Teller:
    """Says the words of one question in other note names."""

    def __init__(self, names: str, *, letters: str) -> None:
        self.names, self.letters = names, letters

    def words(self, text: str) -> str:
        return in_names(text, self.names, letters=self.letters)

    def block(self, block: Block) -> Block:
        if isinstance(block, TextBlock):
            return replace(block, text=self.words(block.text))
        return replace(block, alt=self.words(block.alt))

    def option(self, option: Option) -> Option:
        return replace(option, text=self.words(option.text), alt=self.words(option.alt))

    def form(self, form: Form) -> Form:
        if isinstance(form, ChoiceForm | ChoicesForm):
            return replace(form, options=tuple(self.option(one) for one in form.options))
        if isinstance(form, OrderForm):
            return replace(form, items=tuple(self.option(one) for one in form.items))
        if isinstance(form, PairsForm):
            left, right = (tuple(self.option(one) for one in side) for side in (form.left, form.right))
            return replace(form, left=left, right=right)
        if isinstance(form, NotesForm | RhythmForm):
            return replace(form, alt=self.words(form.alt))
        return form

    def values(self, values: tuple[Value, ...]) -> tuple[Value, ...]:
        return tuple(
            one if one.words is None else replace(one, words=self.words(one.words)) for one in values
        )

    def answer(self, one: Answer) -> Answer:
        return replace(one, value=self.values(one.value), text=self.words(one.text), reason=self.words(one.reason))

    def slip(self, one: Slip) -> Slip:
        return replace(one, value=self.values(one.value), text=self.words(one.text), remedy=self.words(one.remedy))

    def step(self, one: Step) -> Step:
        jotting = short_in_names(one.jotting, self.names, letters=self.letters)
        return replace(one, text=self.words(one.text), jotting=jotting)
