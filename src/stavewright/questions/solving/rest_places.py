"""Rests written into several marked places: which belong to which place, and what they cost."""

from __future__ import annotations

from collections.abc import Sequence

from stavewright.questions.values import WrittenValue
from stavewright.theory.duration import DurationError
from stavewright.theory.rests import RestFill

Row = tuple[WrittenValue, ...]


def shared_out(rests: Sequence[WrittenValue], lengths: Sequence[int], bar: int) -> tuple[Row, ...]:
    """The rests place by place: each place of so many ticks is filled before the next, and what is left goes last.

    `bar` is the length of a whole bar in ticks: a place as long takes one rest that stands for any silent bar.

    >>> quaver = WrittenValue("quaver", rest=True)
    >>> [len(row) for row in shared_out([quaver] * 3, [2 * 80640, 80640], 4 * 161280)]
    [2, 1]
    """
    left = list(rests)
    rows: list[Row] = []
    for place, length in enumerate(lengths):
        row: list[WrittenValue] = []
        held = 0
        while left and (held < length or place == len(lengths) - 1):
            row.append(left.pop(0))
            held += length if length == bar and is_whole_bar(row) else ticks_of(row[-1])
        rows.append(tuple(row))
    return tuple(rows)


def ticks_of(value: WrittenValue) -> int:
    """The length of a written value in ticks, nothing for one that does not exist."""
    try:
        return value.duration.ticks
    except DurationError:
        return 0


def is_whole_bar(row: Sequence[WrittenValue]) -> bool:
    """Whether a row is one rest that may stand for any silent bar.

    >>> is_whole_bar([WrittenValue("semibreve", rest=True)])
    True
    """
    return len(row) == 1 and row[0].rest and (row[0].type, row[0].dots) in (("semibreve", 0), ("breve", 0))


def cost(row: Sequence[WrittenValue], length: int, ways: Sequence[RestFill]) -> int:
    """What the rests in one place cost: nothing where accepted, one in a wrong order, two in a wrong length.

    Source: common practice, so that one cause costs once.

    >>> crotchet = WrittenValue("crotchet", rest=True)
    >>> cost([crotchet], 161280, ()), cost([crotchet], 322560, ())
    (1, 2)
    """
    plain = all(one.rest and one.tuplet is None for one in row)
    if plain and any([(one.type, one.dots) for one in row] == _names(way) for way in ways):
        return 0
    return 1 if plain and sum(map(ticks_of, row)) == length else 2


def _names(way: RestFill) -> list[tuple[str, int]]:
    return [(rest.type, rest.dots) for rest in way.rests]
