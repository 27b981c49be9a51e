"""A question of every kind can be typed: its facts written as words are read back, and so are its answers."""

from __future__ import annotations

from typing import Any

import pytest

from stavewright.marking.one_question import mark_question
from stavewright.questions.asking import answers_of, facts_of, full
from stavewright.questions.catalogue import kind as kind_of
from stavewright.questions.catalogue import kinds
from stavewright.questions.documents import Question
from stavewright.questions.kind import Kind
from stavewright.questions.typed.answers import read_answer, write_answer
from stavewright.questions.typed.facts import fields_of, made, read_fields, write_facts
from stavewright.questions.typed.way import BadTyping, Typing
from stavewright.services.set_questions import set_questions
from stavewright.services.work_question import TypedQuestion, example, put
from stavewright.theory.errors import StavewrightError
from stavewright.wiring import composed_melodies

MELODIES = composed_melodies()
EVERY = [(kind, edition) for kind in kinds().values() for edition in kind.forms]


def named(pair: Any) -> str:
    return "-".join((pair[0].id, pair[1])) if isinstance(pair, tuple) else str(pair)


def set_some(kind: Kind, edition: str, count: int = 3) -> list[Question]:
    """Questions of the first and the last grade that ask the kind."""
    return [
        question
        for grade in sorted({kind.since, 5})
        for question in set_questions(
            kind=kind.id, grade=grade, edition=edition, count=count, seed=11, melodies=MELODIES
        )
    ]


@pytest.mark.parametrize("pair", EVERY, ids=named)
def test_facts_come_back(pair: tuple[Kind, str]) -> None:
    """The facts of a set question, written as they would be typed and read again, are the same facts."""
    kind, edition = pair
    for question in set_some(kind, edition):
        facts = facts_of(question)
        assert made(kind, read_fields(kind, write_facts(kind, facts), Typing()), {}) == facts


@pytest.mark.parametrize("pair", EVERY, ids=named)
def test_the_typed_question_has_the_same_answer(pair: tuple[Kind, str]) -> None:
    """A set question, typed, is answered as it was: the same answers in words, reasons and working."""
    kind, edition = pair
    for question in set_some(kind, edition, 1):
        fields = write_facts(kind, facts_of(question))
        typed = put(TypedQuestion(kind.id, (), fields, question.grade, edition), MELODIES)
        before, after = full(question), full(typed)
        assert [one.text for one in after.answers] == [one.text for one in before.answers]
        assert [one.reason for one in after.answers] == [one.reason for one in before.answers]
        assert [step.text for step in after.working] == [step.text for step in before.working]


@pytest.mark.parametrize("pair", EVERY, ids=named)
def test_the_shown_example_can_be_typed(pair: tuple[Kind, str]) -> None:
    """What `stavewright work KIND` shows as an example is itself a question, with the answer that is shown."""
    kind, edition = pair
    shown, answer = example(kind.id, 5, edition, MELODIES)
    assert full(put(TypedQuestion(kind.id, (), shown, 5, edition), MELODIES)).answers[0].text == answer


@pytest.mark.parametrize("pair", EVERY, ids=named)
def test_answers_are_typed(pair: tuple[Kind, str]) -> None:
    """Every accepted answer but a free composition, written as it would be typed, is read back and earns all marks."""
    kind, edition = pair
    for question in set_some(kind, edition, 1):
        for answer in answers_of(question):
            if any(value.score is not None for value in answer.value):
                continue
            read = read_answer(question, write_answer(answer.value))
            marked = mark_question(question, read)
            assert (marked.marks, marked.of) == (question.marks, question.marks), write_answer(answer.value)


NONSENSE = ("", "zzz", "H", "-1", "99999", "none", "treble: H4", "treble D: F#4", "a=b", "yes", "3 sharps", "|", "C4 |")


@pytest.mark.parametrize("kind", kinds().values(), ids=lambda kind: kind.id)
def test_nonsense_is_refused_by_name(kind: Kind) -> None:
    """Whatever is typed into a field, it is worked or refused with a message; the program never falls over."""
    shown, _ = example(kind.id, 5, "written", MELODIES)
    told: list[str] = []
    for field in fields_of(kind):
        for wrong in NONSENSE:
            try:
                full(put(TypedQuestion(kind.id, (), {**shown, field.name: wrong}), MELODIES))
            except StavewrightError as fault:
                told.append(str(fault))
    assert told
    assert all(told)


def test_an_unknown_field_is_named() -> None:
    """A field that a kind does not have is refused with those that it has."""
    with pytest.raises(BadTyping, match="has no field 'clif'; its fields are clef, place, accidental"):
        read_fields(kind_of("name-the-note"), {"clif": "treble"}, Typing())


def test_all_faults_are_told_together() -> None:
    """Two wrong fields are told in one message."""
    with pytest.raises(BadTyping) as refused:
        read_fields(kind_of("write-the-scale"), {"clef": "trebble", "form": "minor"}, Typing())
    assert "clef: 'trebble' is no clef" in str(refused.value)
    assert "form: 'minor' is not one of" in str(refused.value)
