"""The rules that every kind of question keeps, tried over drawn questions of each grade and edition."""

from __future__ import annotations

from collections.abc import Iterator
from random import Random
from typing import Any

import msgspec

from stavewright.questions.asking import ask, facts_of, full
from stavewright.questions.catalogue import kind as kind_of
from stavewright.questions.choosing import is_right
from stavewright.questions.comparing import compare
from stavewright.questions.documents import (
    ChoiceForm,
    FullQuestion,
    NotesForm,
    RhythmForm,
    ScoreForm,
    StaveBlock,
    TextBlock,
)
from stavewright.questions.score_document import ScoreDocument
from stavewright.questions.score_mirror import score_of
from stavewright.questions.values import Value
from stavewright.score.check import faults
from stavewright.syllabus.scope import scope_for

EDITIONS = ("written", "on-screen")
NEVER_SHOWN = ("flat-flat", "double-sharp", "grade", "None", "Duration(", "Pitch(", "  ")
UK_ONLY = ("semibreve", "minim", "crotchet", "quaver", "semitone", "stave")


def drawn(kind_id: str, grade: int, edition: str, count: int = 25, words: str = "uk") -> Iterator[FullQuestion | None]:
    """So many questions of a kind as a paper would get them; None where nothing fair came of a draw."""
    kind, scope = kind_of(kind_id), scope_for(grade)
    for seed in range(count):
        draft = kind.set(scope, Random(f"{seed}/{kind_id}"), None, None)
        if draft is None:
            yield None
            continue
        question = ask(kind, draft, id=f"q{seed}", grade=grade, edition=edition, seed=seed, words=words)
        yield None if question is None else full(question)


def scores_of(question: FullQuestion) -> Iterator[ScoreDocument]:
    for block in question.prompt:
        if isinstance(block, StaveBlock):
            yield block.score
    for form in question.response:
        if isinstance(form, ChoiceForm):
            yield from (option.score for option in form.options if option.score is not None)
        if isinstance(form, NotesForm | RhythmForm | ScoreForm) and form.given is not None:
            yield form.given


def words_of(question: FullQuestion) -> Iterator[str]:
    """Every word a pupil or teacher may be shown."""
    for block in question.prompt:
        yield block.text if isinstance(block, TextBlock) else block.alt
    for form in question.response:
        if isinstance(form, ChoiceForm):
            for option in form.options:
                yield from (option.text, option.alt)
        yield getattr(form, "alt", "")
    for one in question.answers:
        yield from (one.text, one.reason)
    for wrong in question.slips:
        yield from (wrong.name, wrong.text, wrong.remedy)
    for step in question.working:
        yield from (step.text, step.jotting)


def prompt_words(question: FullQuestion) -> str:
    texts = [block.text if isinstance(block, TextBlock) else block.alt for block in question.prompt]
    options = [o.text for form in question.response if isinstance(form, ChoiceForm) for o in form.options]
    return " ".join([*texts, *options]).lower()


def keeps_the_rules(kind_id: str) -> None:
    """Hold a kind against what every kind must keep; the message of a failure names the question."""
    kind = kind_of(kind_id)
    for grade in range(kind.since, 6):
        assert kind.pool(scope_for(grade)) is None or kind.pool(scope_for(grade)) > 1
        for edition in EDITIONS:
            for words in ("uk", "us"):
                found = list(drawn(kind_id, grade, edition, words=words))
                asked = [one for one in found if one is not None]
                assert len(asked) >= 0.8 * len(found), f"{kind_id}, grade {grade}, {edition}: too few questions"
                for question in asked:
                    _one(kind, question)
                    if words == "us":
                        shown = prompt_words(question)
                        assert not [uk for uk in UK_ONLY if uk in shown], shown
    again = [list(drawn(kind_id, kind.since, "written", 5)) for _ in range(2)]
    assert msgspec.json.encode(again[0]) == msgspec.json.encode(again[1])


def _one(kind: Any, question: FullQuestion) -> None:
    facts, note = facts_of(question), f"{kind.id} {question.facts!r}"
    right = kind.solve(facts)
    assert compare(right[0].value[0], right[0].value[0], kind.marking).same, note
    for score in scores_of(question):
        assert faults(score_of(score)) == [], note
    for text in words_of(question):
        assert not [bad for bad in NEVER_SHOWN if bad in text], f"{text!r} in {note}"
    assert 2 <= len(question.working) <= 6, note
    ids = {event.id for score in scores_of(question) for event in score_of(score).events()}
    assert {place for step in question.working for place in step.points_at} <= ids, note
    form = question.response[0]
    if isinstance(form, ChoiceForm) and any(option.value for option in form.options):
        values = [option.value for option in form.options if option.value is not None]
        assert len(values) == len(form.options), note
        assert sum(is_right(value, right, kind) for value in values) == 1, note
        for i, value in enumerate(values):
            assert not any(compare(value, other, kind.marking).same for other in values[:i]), note
    for wrong in question.slips:
        assert not any(wrong.value == one.value for one in question.answers), note
        assert wrong.remedy.strip(), note
    for one in (*right, *kind.slips(facts)):
        assert one.value[0].words in (None, one.text), note
    if kind.draw is not None:
        for value in [one.value[0] for one in (*right, *kind.slips(facts))]:
            assert faults(score_of_value(kind, facts, value)) == [], note
    assert -3.5 <= kind.difficulty(facts) <= 3.5, note
    assert kind.skill(facts).startswith(kind.id + "/"), note


def score_of_value(kind: Any, facts: Any, value: Value) -> Any:
    return kind.draw(facts, value)


def slip_texts(kind_id: str, facts: Any) -> dict[str, str]:
    """What each slip answers, by its name (the first of each name)."""
    found: dict[str, str] = {}
    for one in kind_of(kind_id).slips(facts):
        found.setdefault(one.name, one.text)
    return found


def texts(kind_id: str, facts: Any) -> list[str]:
    """Every right answer in words, the model first."""
    return [one.text for one in kind_of(kind_id).solve(facts)]
