"""Setting and asking many questions of one kind, for tests: every grade, both editions."""

from __future__ import annotations

from collections.abc import Iterator
from random import Random

from stavewright.questions.asking import answers_of, ask, slips_of
from stavewright.questions.catalogue import kind as kind_of
from stavewright.questions.documents import NotesForm, Question, StaveBlock
from stavewright.questions.kind import Draft, Kind
from stavewright.questions.score_mirror import score_of
from stavewright.score.check import faults
from stavewright.syllabus.scope import scope_for


def drafts(
    id: str, count: int = 40, *, grades: tuple[int, ...] = (1, 2, 3, 4, 5), **more
) -> Iterator[tuple[int, Draft]]:
    """So many drafts at each grade from the kind's first on, with the grade."""
    kind = kind_of(id)
    for grade in grades:
        if grade < kind.since:
            continue
        for seed in range(count):
            draft = kind.set(
                scope_for(grade), Random(f"{seed}/{grade}/{id}"), more.get("stimulus"), more.get("melodies")
            )
            if draft is not None:
                yield grade, draft


def asked(id: str, count: int = 40, **more) -> Iterator[tuple[Kind, Draft, Question]]:
    """Every draft asked in both editions (those that can be put fairly), its music checked for faults of notation."""
    kind = kind_of(id)
    for number, (grade, draft) in enumerate(drafts(id, count, **more)):
        for edition in kind.forms:
            question = ask(kind, draft, id=f"q{number}", grade=grade, edition=edition, seed=number)
            if question is not None:
                assert scores_well(question)
                assert answers_of(question)
                slips_of(question)
                yield kind, draft, question


def scores_well(question: Question) -> bool:
    """Whether every printed picture is well written."""
    printed = [block.score for block in question.prompt if isinstance(block, StaveBlock)]
    printed += [form.given for form in question.response if isinstance(form, NotesForm)]
    return [fault for document in printed for fault in faults(score_of(document))] == []


def slip_words(id: str, facts: object) -> dict[str, str]:
    """The words of every slip of one question, by name (the first of each name)."""
    found: dict[str, str] = {}
    for one in kind_of(id).slips(facts):
        found.setdefault(one.name, one.text)
    return found


def answer_words(id: str, facts: object) -> list[str]:
    """Every accepted answer of one question, in words."""
    return [one.text for one in kind_of(id).solve(facts)]
