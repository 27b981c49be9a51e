"""Small papers for tests: questions of named kinds, numbered q1, q2, ..."""

from __future__ import annotations

from random import Random

from stavewright.papers.documents import Paper, Script, Section
from stavewright.questions.asking import ask, full
from stavewright.questions.catalogue import kind as kind_of
from stavewright.questions.documents import FullQuestion, Group, Question
from stavewright.questions.kind import Facts
from stavewright.questions.values import Value


def posed(
    kind_id: str,
    facts: Facts,
    *,
    id: str = "q1",
    grade: int = 3,
    edition: str = "written",
    marks: int | None = None,
    group: Group | None = None,
    follows: str | None = None,
) -> Question:
    """One question about given facts, as a paper would hold it."""
    from stavewright.questions.kind import Draft

    kind = kind_of(kind_id)
    draft = Draft(facts, kind.solve(facts)[0].value[0], follows is not None)
    question = ask(kind, draft, id=id, grade=grade, edition=edition, seed=1, marks=marks, group=group, follows=follows)
    assert question is not None
    return question


def battery(kind_id: str, facts: list[Facts], *, grade: int = 3, edition: str = "written") -> list[Question]:
    """Several parts of one kind under one number."""
    return [
        posed(kind_id, one, id=f"q1{letter}", grade=grade, edition=edition, group=Group("q1", letter))
        for one, letter in zip(facts, "abcdefghij", strict=False)
    ]


def drawn(kind_id: str, *, grade: int, seed: int = 1) -> Facts:
    """Facts as the kind's own setter draws them."""
    from stavewright.syllabus.scope import scope_for
    from stavewright.wiring import composed_melodies

    for attempt in range(50):
        draft = kind_of(kind_id).set(scope_for(grade), Random(f"{seed}/{attempt}"), None, composed_melodies())
        if draft is not None:
            return draft.facts
    raise AssertionError(f"{kind_id} could not be drawn")


def paper_of(questions: list[Question], grade: int = 3) -> Paper:
    """A paper of just these questions."""
    views: tuple[FullQuestion, ...] = tuple(full(one) for one in questions)
    return Paper(
        id="small",
        grade=grade,
        edition="written",
        seed=1,
        words="uk",
        total=sum(one.marks for one in questions),
        time_minutes=10,
        sections=(Section(None, "All", views),),
    )


def script_of(**answers: Value) -> Script:
    """A script for the small paper."""
    return Script("small", {name: (value,) for name, value in answers.items()})
