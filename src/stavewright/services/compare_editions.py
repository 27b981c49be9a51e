"""What each edition asks, and what one asks that the other does not: which questions of an older paper still count."""

from __future__ import annotations

from dataclasses import dataclass

from stavewright.questions.catalogue import kinds
from stavewright.syllabus.edition import EDITIONS, Edition, edition, retired


@dataclass(frozen=True, slots=True)
class KindInEditions:
    """One kind: its form in each edition that asks it, and why an edition does not."""

    id: str
    topic: str
    since: int
    forms: dict[str, str]
    reasons: dict[str, str]


def editions_at(grade: int) -> tuple[Edition, ...]:
    """Every edition at a grade: marks by topic, minutes.

    Raises:
        UnknownGrade: grades are 1 to 5.
    """
    return tuple(edition(name, grade) for name in EDITIONS)


def compare(grade: int) -> tuple[KindInEditions, ...]:
    """Every kind up to a grade with its form in each edition; a kind that an edition leaves out has the reason.

    >>> forms = {one.id: one.forms for one in compare(3)}
    >>> forms["write-the-scale"]
    {'written': 'notes', 'on-screen': 'choice'}
    """
    found = []
    for kind in kinds().values():
        if kind.since > grade:
            continue
        gone = {name: retired(name).get(kind.id, "") for name in EDITIONS}
        forms = {name: form for name, form in kind.forms.items() if not gone[name]}
        reasons = {name: gone[name] or "this edition has no form for it" for name in EDITIONS if name not in forms}
        found.append(KindInEditions(kind.id, kind.topic, kind.since, forms, reasons))
    return tuple(found)
