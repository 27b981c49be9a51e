"""Splitting one value into a run of shorter ones of the same length."""

from __future__ import annotations

from random import Random

from stavewright.syllabus.scope import Scope
from stavewright.theory.duration import VALUES

# A value as (place among VALUES, dots): one place further on is half as long.
Piece = tuple[int, int]
_SPLITS: dict[int, tuple[tuple[Piece, ...], ...]] = {
    0: (((1, 0), (1, 0)), ((1, 1), (2, 0)), ((2, 0), (1, 1)), ((1, 0), (2, 0), (2, 0))),
    1: (((0, 0), (1, 0)), ((1, 0), (0, 0)), ((1, 0), (1, 0), (1, 0))),
    2: (((0, 1), (2, 0)), ((0, 0), (1, 1)), ((0, 0), (1, 0), (2, 0))),
}


def split_run(scope: Scope, rng: Random, value: str, dots: int, *, most: int = 5) -> list[tuple[str, int]] | None:
    """Two to `most` values of the scope that together last as long as the given one; None where there are none.

    >>> from stavewright.syllabus.scope import scope_for
    >>> split_run(scope_for(1), Random(1), "semiquaver", 0) is None
    True
    """
    run: list[Piece] = [(VALUES.index(value), dots)]
    for _ in range(rng.choice((1, 2, 2))):
        ways = [
            (at, way)
            for at, (place, dotted) in enumerate(run)
            for way in _SPLITS[dotted]
            if len(run) + len(way) - 1 <= most and all(_known(scope, place + on, more) for on, more in way)
        ]
        if not ways:
            break
        at, way = rng.choice(ways)
        place = run[at][0]
        run[at : at + 1] = [(place + on, more) for on, more in way]
    return [(VALUES[place], dotted) for place, dotted in run] if len(run) > 1 else None


def _known(scope: Scope, place: int, dots: int) -> bool:
    """Whether the scope has the value, its dots and what its last dot stands for."""
    last = place + dots
    return last < len(VALUES) and {VALUES[place], VALUES[last]} <= set(scope.values) and dots <= scope.dots
