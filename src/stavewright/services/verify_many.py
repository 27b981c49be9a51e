"""Verify on a large scale: shares of a run that any executor may work, and the sum of what they found."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from stavewright.services.spread import dead_slips
from stavewright.services.verify import Verified

SHARE = 250
"""Questions that one process works at a time: long enough to see favoured letters, short enough for a smooth bar."""


@dataclass(frozen=True, slots=True)
class Share:
    """Some questions of one case: the seed of the first, how many, and the which share of the case it is, from 0."""

    kind: str
    grade: int
    edition: str
    seed: int
    count: int
    turn: int


@dataclass(frozen=True, slots=True)
class Worked:
    """What one share showed, and the processor seconds it took."""

    share: Share
    found: Verified
    seconds: float


def counts_of(cases: int, total: int) -> list[int]:
    """How many questions each case gets when a total is dealt out evenly, first cases first.

    >>> counts_of(3, 8)
    [3, 3, 2]
    """
    each, over = divmod(total, cases)
    return [each + (at < over) for at in range(cases)]


def shares(
    cases: Sequence[tuple[str, int, str]], counts: Sequence[int], seed: int, most: int = SHARE
) -> tuple[Share, ...]:
    """Cut every case's questions into shares of at most `most`; the early shares of all cases come first.

    >>> [(one.seed, one.count, one.turn) for one in shares([("a", 1, "written")], [400], 7)]
    [(7, 250, 0), (257, 150, 1)]
    """
    cut = [
        Share(*case, seed=seed + first, count=min(most, count - first), turn=turn)
        for case, count in zip(cases, counts, strict=True)
        for turn, first in enumerate(range(0, count, most))
    ]
    return tuple(sorted(cut, key=lambda one: one.turn))


@dataclass(frozen=True, slots=True)
class Total:
    """The sum of a run. `problems` are by case, `dead` by kind; times are processor milliseconds a question."""

    questions: int
    kinds: int
    cases: int
    problems: dict[tuple[str, int, str], list[str]]
    dead: dict[str, list[str]]
    milliseconds: float
    slowest: tuple[tuple[str, float], ...]
    by_grade: dict[int, float]
    by_turn: tuple[float, ...]

    @property
    def faults(self) -> int:
        """How many promises were found broken."""
        return sum(map(len, self.problems.values())) + sum(map(len, self.dead.values()))


def total(worked: Iterable[Worked]) -> Total:
    """Add up the shares of a run, whatever order they came in."""
    done = sorted(worked, key=lambda one: (one.share.kind, one.share.grade, one.share.edition, one.share.turn))
    problems: dict[tuple[str, int, str], list[str]] = {}
    for one in done:
        if one.found.problems:
            problems.setdefault((one.share.kind, one.share.grade, one.share.edition), []).extend(one.found.problems)
    kinds = sorted({one.share.kind for one in done})
    dead = {kind: dead_slips(one.found.slips for one in done if one.share.kind == kind) for kind in kinds}
    slow = [(kind, _milliseconds(one for one in done if one.share.kind == kind)) for kind in kinds]
    return Total(
        questions=sum(one.share.count for one in done),
        kinds=len(kinds),
        cases=len({(one.share.kind, one.share.grade, one.share.edition) for one in done}),
        problems=problems,
        dead={kind: found for kind, found in dead.items() if found},
        milliseconds=_milliseconds(done),
        slowest=tuple(sorted(slow, key=lambda one: -one[1])[:5]),
        by_grade={
            grade: _milliseconds(one for one in done if one.share.grade == grade)
            for grade in sorted({one.share.grade for one in done})
        },
        by_turn=tuple(
            _milliseconds(one for one in done if one.share.turn == turn)
            for turn in sorted({one.share.turn for one in done})
        ),
    )


def _milliseconds(done: Iterable[Worked]) -> float:
    found = list(done)
    count = sum(one.share.count for one in found)
    return 1000 * sum(one.seconds for one in found) / count if count else 0.0
