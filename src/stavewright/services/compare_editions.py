"""What each edition asks, and what one asks that the other does not: which questions of an older paper still count."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from stavewright.papers.documents import Paper
from stavewright.papers.pack import family_of
from stavewright.questions.catalogue import kind as kind_of
from stavewright.questions.catalogue import kinds
from stavewright.questions.kind import Kind
from stavewright.syllabus.edition import EDITIONS, Edition, edition, extract_parts, recipes, training

COUNTS = "counts"
OTHER_FORM = "asked in another form"
GONE = "no longer asked"


@dataclass(frozen=True, slots=True)
class KindInEditions:
    """One kind: its form in each edition that asks it, and why an edition does not."""

    id: str
    topic: str
    since: int
    forms: dict[str, str]
    reasons: dict[str, str]


@dataclass(frozen=True, slots=True)
class Standing:
    """One question of an older paper: its kind and form, and for each edition whether it counts there, and why not."""

    id: str
    kind: str
    form: str
    marks: int
    stands: dict[str, str]
    reasons: dict[str, str]


def editions_at(grade: int) -> tuple[Edition, ...]:
    """Every edition at a grade: marks by topic, minutes.

    Raises:
        UnknownGrade: grades are 1 to 5.
    """
    return tuple(edition(name, grade) for name in EDITIONS)


def compare(grade: int, editions: Sequence[Edition] = ()) -> tuple[KindInEditions, ...]:
    """Every kind up to a grade with its form in each edition; a kind that an edition leaves out has the reason.

    >>> forms = {one.id: one.forms for one in compare(3)}
    >>> forms["write-the-scale"]
    {'written': 'notes', 'on-screen': 'choice'}
    """
    found = []
    for kind in kinds().values():
        if kind.since > grade:
            continue
        forms: dict[str, str] = {}
        reasons: dict[str, str] = {}
        for one in editions or editions_at(grade):
            asked = _forms(kind, one)
            if asked:
                forms[one.id] = " or ".join(asked)
            else:
                reasons[one.id] = one.reason(kind.id, kind.topic)
        found.append(KindInEditions(kind.id, kind.topic, kind.since, forms, reasons))
    return tuple(found)


def standing(paper: Paper, editions: Sequence[Edition]) -> tuple[Standing, ...]:
    """Whether each question of an older paper still counts in these editions, is asked in another form, or is gone."""
    found = []
    for question in paper.questions():
        kind, form = kind_of(question.kind), family_of(question)[1]
        stands: dict[str, str] = {}
        reasons: dict[str, str] = {}
        for one in editions:
            asked = _forms(kind, one)
            why = _not_set(kind, paper.grade) if asked else one.reason(kind.id, kind.topic)
            if why:
                stands[one.id], reasons[one.id] = GONE, why
            elif form in asked:
                stands[one.id] = COUNTS
            else:
                stands[one.id], reasons[one.id] = OTHER_FORM, f"was {form}, is now {' or '.join(asked)}"
        found.append(Standing(question.id, kind.id, form, question.marks, stands, reasons))
    return tuple(found)


def _forms(kind: Kind, one: Edition) -> list[str]:
    return list(dict.fromkeys(kind.forms[name] for name in one.forms_of(kind.id, kind.topic, tuple(kind.forms))))


def _not_set(kind: Kind, grade: int) -> str:
    """Why no edition sets the kind in papers of the grade, or nothing."""
    if kind.id in training():
        return training()[kind.id]
    ends = [one.until for one in recipes() if one.kind == kind.id]
    ends += [one.until for one in extract_parts() if one.kind == kind.id]
    last = max(ends, default=0)
    return f"papers ask it up to grade {last} only" if last < grade else ""
