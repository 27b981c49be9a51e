"""The criteria by which a composed answer is judged: marks for each, and why, in words that point at bars."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Annotated

from msgspec import Meta, Struct

from stavewright.questions.documents import Short, Text_

TOO_LITTLE = "too little is written to judge"


class Criterion(Struct, frozen=True, forbid_unknown_fields=True):
    """One criterion of a report: its name, the marks got and the most there are, what earns them, what was found.

    >>> Criterion("ending", 0, 1, "It ends on the tonic.", "it ends on E").lost
    1
    """

    name: Short
    marks: Annotated[int, Meta(ge=0, le=100)]
    of: Annotated[int, Meta(ge=1, le=100)]
    earns: Text_
    why: Text_

    @property
    def lost(self) -> int:
        """The marks not got."""
        return self.of - self.marks


def criterion(name: str, of: int, lost: int, earns: str, why: str) -> Criterion:
    """A criterion by the marks it loses; no more are lost than there are.

    >>> criterion("bars", 2, 5, "Every bar adds up.", "no bar adds up").marks
    0
    """
    return Criterion(name, max(0, of - lost), of, earns, why)


def none_of(criteria: Iterable[Criterion]) -> tuple[Criterion, ...]:
    """The same criteria with no marks: of what is hardly there nothing can be said.

    >>> none_of([Criterion("grouping", 1, 1, "Beams fit.", "the beams fit")])[0].why
    'too little is written to judge'
    """
    return tuple(Criterion(one.name, 0, one.of, one.earns, TOO_LITTLE) for one in criteria)


def lost(criteria: Iterable[Criterion]) -> int:
    """The marks that all criteria together lose."""
    return sum(one.lost for one in criteria)


def shared(criteria: Sequence[Criterion], of: int) -> tuple[Criterion, ...]:
    """The same criteria worth `of` marks together, shared out as before; what is lost of one stays lost in proportion.

    Whole marks go by largest remainder, one at least for each. With fewer marks than criteria they stay as they are.

    >>> row = [Criterion("bars", 1, 2, "", ""), Criterion("ending", 1, 1, "", ""), Criterion("grouping", 0, 1, "", "")]
    >>> [(one.marks, one.of) for one in shared(row, 10)], shared(row, 2) == tuple(row)
    ([(2, 5), (3, 3), (0, 2)], True)
    """
    most = sum(one.of for one in criteria)
    if of == most or of < len(criteria):
        return tuple(criteria)
    share = [max(1, one.of * of // most) for one in criteria]
    rest = [one.of * of / most - got for one, got in zip(criteria, share, strict=True)]
    while sum(share) != of:
        step = 1 if sum(share) < of else -1
        place = max(range(len(share)), key=lambda at: step * rest[at] if step > 0 or share[at] > 1 else -of)
        share[place] += step
        rest[place] -= step
    return tuple(
        Criterion(one.name, new * one.marks // one.of, new, one.earns, one.why)
        for one, new in zip(criteria, share, strict=True)
    )


def marks_by(criteria: Sequence[Criterion], of: int) -> int:
    """The marks of a question worth `of`, in the proportion of its criteria, rounded down: full if nothing is lost.

    >>> row = [Criterion("bars", 2, 2, "", ""), Criterion("ending", 0, 2, "", "")]
    >>> marks_by(row, 4), marks_by(row, 10), marks_by(row, 1)
    (2, 5, 0)
    """
    got, most = sum(one.marks for one in criteria), sum(one.of for one in criteria)
    return of * got // most


def said(criteria: Iterable[Criterion]) -> str:
    """The findings of a report as one sentence.

    >>> said([Criterion("bars", 2, 2, "", "every bar adds up"), Criterion("ending", 0, 1, "", "it ends on E")])
    'Every bar adds up; it ends on E.'
    """
    text = "; ".join(dict.fromkeys(one.why for one in criteria))
    return f"{text[:1].upper()}{text[1:]}." if text else ""
