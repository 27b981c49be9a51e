"""Where a new line of music begins: bars shared out so that lines are few, full and even."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Final

from stavewright.engraving.geometry import Places
from stavewright.engraving.toolkit import UNITS

_CLOSER: Final = 1.14
"""How much longer than the line its bars may be by nature: so much closeness still reads well."""

_ONE_ROW: Final = 1.04
"""How much longer than the line a single row may be: it is made smaller as a whole, so that no bar is left over."""


def breaks_of(found: Places, width: float) -> frozenset[int]:
    """Bars shared out over as few systems as hold them, their lengths as even as may be; `width` in units."""
    sizes, lead = bar_lengths(found)
    room = (width - lead) * _CLOSER
    count = max(1 if sum(sizes) <= (width - lead) * _ONE_ROW else 2, math.ceil(sum(sizes) / room))
    while count < len(sizes):
        for starts in (*_alike(len(sizes), count), _even(sizes, count)):
            if max(sum(sizes[a:b]) for a, b in pairwise([*starts, len(sizes)])) <= room:
                return frozenset(starts[1:])
        count += 1
    return frozenset(range(1, len(sizes)))


def _alike(bars: int, count: int) -> list[list[int]]:
    """Rows of equally many bars, as a reader expects of a tune of 8 or 16; a pick-up may stand before the first."""
    found = [list(range(0, bars, bars // count))] if bars % count == 0 else []
    if bars > count and (bars - 1) % count == 0:
        each = (bars - 1) // count
        found.append([0, *range(1 + each, bars, each)])
    return found


def longest(found: Places) -> float:
    """Units that the longest bar needs on a line of its own, clef and signature before it."""
    sizes, lead = bar_lengths(found)
    return max(sizes) + lead + 100


def bar_lengths(found: Places) -> tuple[list[float], float]:
    """How long the bars are without the clef and signatures before the first, and how long those are."""
    sizes = [bar.right - bar.left for bar in found.bars]
    first = min((spot.x - spot.half for spot in found.spots.values()), default=found.bars[0].left + 0.4 * sizes[0])
    lead = min(max(0.0, first - found.bars[0].left - UNITS / 4), 0.8 * sizes[0])
    return [sizes[0] - lead, *sizes[1:]], lead


def _even(sizes: list[float], count: int) -> list[int]:
    """First bar of each of `count` rows, the longest row as short as it can be (dynamic programming)."""
    total = [0.0]
    for size in sizes:
        total.append(total[-1] + size)
    best: list[list[tuple[float, list[int]]]] = [[(total[end], [0]) for end in range(len(sizes) + 1)]]
    for _ in range(1, count):
        last = best[-1]
        row: list[tuple[float, list[int]]] = []
        for end in range(len(sizes) + 1):
            options = [(max(last[cut][0], total[end] - total[cut]), [*last[cut][1], cut]) for cut in range(1, end)] or [
                (last[end][0], last[end][1])
            ]
            row.append(min(options, key=lambda one: (one[0], one[1])))
        best.append(row)
    return best[-1][len(sizes)][1]
