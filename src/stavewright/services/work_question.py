"""The teacher's own question, worked: typed facts of any kind, answered by the kind's own solver."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Final

import msgspec

from stavewright.papers.documents import Paper, Section
from stavewright.papers.errors import CannotSet
from stavewright.questions.asking import ask, facts_of
from stavewright.questions.catalogue import kind as kind_of
from stavewright.questions.documents import ChoiceForm, FullQuestion, Question
from stavewright.questions.kind import Draft, Kind
from stavewright.questions.melodies import Melodies
from stavewright.questions.typed.facts import UNTYPED, fields_of, write_facts
from stavewright.questions.typed.question import read_question
from stavewright.questions.typed.way import BadTyping, Typing
from stavewright.questions.wording import Wording
from stavewright.score.compact.reading import read_music
from stavewright.score.stave import Score
from stavewright.services.set_questions import set_questions
from stavewright.theory.errors import StavewrightError

FALLBACK: Final = {
    "direction": "up", "signature": False, "together": False, "wide": True, "minors": True, "clefs": None,
}  # fmt: skip
"""What stands in fields that a teacher need not type."""

OFFERED: Final = ("known", "clefs", "forms", "numerals", "choices", "degrees")
"""Fields that say what may be answered; left out, they are what a set question of the grade has."""


SEEN: Final = 25
"""So many set questions are looked through for the words that their fields have."""

LEFT_OUT: Final = frozenset({*FALLBACK, *OFFERED, "octave", "level"})
"""Fields that a teacher may leave out although the facts must hold them."""


@dataclass(frozen=True, slots=True)
class TypedQuestion:
    """What was typed: the kind, words without a field's name, named fields; how to put it, and who reads music."""

    kind: str
    words: Sequence[str] = ()
    fields: Mapping[str, str] = field(default_factory=dict)
    grade: int = 5
    edition: str = "written"
    say: str = "uk"
    music: Callable[[str], Score] = read_music


def put(typed: TypedQuestion, melodies: Melodies) -> Question:
    """The question that was typed, as it would be asked.

    Where the edition's form would be a choice for which no fair options can be made, the question stands without
    options and its answers are given outright.

    Raises:
        UnknownKind: no such kind.
        BadTyping: what was typed cannot be read, with everything that is wrong.
    """
    kind = kind_of(typed.kind)
    facts = read_question(kind, typed.words, typed.fields, Typing(music=typed.music), _fallback(kind, typed, melodies))
    edition = typed.edition if typed.edition in kind.forms else next(iter(kind.forms))
    try:
        return _asked(kind, facts, edition, typed)
    except BadTyping:
        raise
    except StavewrightError as fault:
        raise BadTyping(f"{kind.id}: {fault}") from fault


def _asked(kind: Kind, facts: Any, edition: str, typed: TypedQuestion) -> Question:
    answers = kind.solve(facts)
    if not answers:
        raise BadTyping(f"{kind.id} finds no answer to this: look at what was typed once more")
    draft = Draft(facts, answers[0].value)
    grade = max(typed.grade, kind.since)
    question = ask(kind, draft, id="typed", grade=grade, edition=edition, seed=0, words=typed.say)
    if question is not None:
        return question
    for other in kind.forms:
        question = ask(kind, draft, id="typed", grade=grade, edition=other, seed=0, words=typed.say)
        if question is not None:
            return question
    posed = kind.pose(facts, Wording(kind.forms[edition], typed.say))
    return Question(
        id="typed",
        kind=kind.id,
        topic=kind.topic,
        grade=grade,
        edition=edition,
        seed=0,
        marks=kind.marks,
        prompt=posed.blocks,
        response=(ChoiceForm(),),
        facts=msgspec.Raw(msgspec.json.encode(facts)),
        words=typed.say,
    )


def check_method(kind: str, method: str) -> None:
    """Refuse a way of working that a kind does not know.

    Raises:
        BadTyping: naming those that it knows.
    """
    methods = kind_of(kind).methods
    if method not in methods:
        raise BadTyping(f"{kind} is not worked by the method {method!r}", right=f"use {' or '.join(methods)}")


def example(kind: str, grade: int, edition: str, melodies: Melodies, *, seed: int = 1) -> tuple[dict[str, str], str]:
    """The fields of a set question of a kind as they would be typed, and its answer in words.

    Raises:
        UnknownKind: no such kind.
    """
    one = kind_of(kind)
    form = edition if edition in one.forms else next(iter(one.forms))
    number = max(grade, one.since)
    (question,) = set_questions(kind=kind, grade=number, edition=form, count=1, seed=seed, melodies=melodies)
    facts = facts_of(question)
    written = write_facts(one, facts, plain=True)
    shown = {name: text for name, text in written.items() if name.rpartition(".")[2] not in UNTYPED}
    return shown, one.solve(facts)[0].text


def words_in_use(kind: str, grade: int, melodies: Melodies) -> dict[str, tuple[str, ...]]:
    """Words that set questions of a kind have in the fields that take any words, by field (`statements.about`)."""
    one = kind_of(kind)
    free = {field.name for field in fields_of(one) if field.way.free}
    found: dict[str, dict[str, None]] = {}
    for edition in one.forms:
        for question in set_questions(
            kind=kind, grade=max(grade, one.since), edition=edition, count=SEEN, seed=1, melodies=melodies
        ):
            for name, word in _said(json.loads(bytes(question.facts)), ""):
                if name in free or name.endswith(".about"):
                    found.setdefault(name, {})[word] = None
    return {name: tuple(words) for name, words in found.items()}


def _said(value: Any, name: str) -> Iterator[tuple[str, str]]:
    """Every word in the facts, with its field; music is passed over."""
    if isinstance(value, str) and value and "|" not in value:
        yield name, value
    elif isinstance(value, dict) and "staves" not in value:
        for key, inner in value.items():
            yield from _said(inner, f"{name}.{key}".lstrip("."))
    elif isinstance(value, list):
        for inner in value:
            yield from _said(inner, name)


def _fallback(kind: Kind, typed: TypedQuestion, melodies: Melodies) -> dict[str, Any]:
    """What may be left out: the usual, the grade as the level of terms, and what a set question offers to pick from."""
    wanted = {one.name for one in fields_of(kind)}
    found: dict[str, Any] = {name: value for name, value in FALLBACK.items() if name in wanted and value is not None}
    if "signature" in wanted and "signature" in found and kind.facts.__annotations__["signature"] != "bool":
        found["signature"] = "none"
    found |= {"level": typed.grade} if "level" in wanted else {}
    if wanted & set(OFFERED):
        try:
            grade = max(typed.grade, kind.since)
            (question,) = set_questions(
                kind=kind.id, grade=grade, edition=next(iter(kind.forms)), count=1, seed=1, melodies=melodies
            )
        except CannotSet:
            return found
        offered = msgspec.to_builtins(facts_of(question))
        found |= {name: offered[name] for name in OFFERED if name in wanted and name in offered}
    return found


def as_paper(question: FullQuestion) -> Paper:
    """A worked question as a paper of its own, to be printed."""
    section = Section(question.topic, "The question", (question,))
    return Paper(
        id="typed",
        grade=question.grade,
        edition=question.edition,
        seed=0,
        words=question.words,
        total=question.marks,
        time_minutes=1,
        sections=(section,),
        note_names=question.note_names,
    )
