"""Bars in simple time and the same sound in compound time, beat by beat from one table."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

from stavewright.questions.setting.picking import pick
from stavewright.questions.values import WrittenValue
from stavewright.syllabus.scope import Scope
from stavewright.theory.duration import VALUES, Duration, Tuplet
from stavewright.theory.metre import TimeSignature

_TRIES = 20
_LONGEST = 14
_PAIR_SHARE = 0.2

# One beat (or two) in both kinds of metre: how many halvings from the beat's own value, dots, irregular group.
Piece = tuple[int, int, Tuplet | None]
_THREE, _TWO = Tuplet(3, 2), Tuplet(2, 3)
_CELLS: tuple[tuple[tuple[Piece, ...], tuple[Piece, ...], int], ...] = (
    (((0, 0, None),), ((0, 1, None),), 4),
    (((1, 0, None),) * 2, ((1, 0, _TWO),) * 2, 3),
    (((0, 0, None),), ((0, 0, None), (1, 0, None)), 1),
    (((1, 0, _THREE),) * 3, ((1, 0, None),) * 3, 4),
    (((0, 0, _THREE), (1, 0, _THREE)), ((0, 0, None), (1, 0, None)), 3),
    (((1, 0, _THREE), (0, 0, _THREE)), ((1, 0, None), (0, 0, None)), 1),
    (((1, 1, _THREE), (2, 0, _THREE), (1, 0, _THREE)), ((1, 1, None), (2, 0, None), (1, 0, None)), 1),
)
_PLAIN = frozenset({0, 1, 2})
_REST = 2
_PAIR: tuple[tuple[Piece, ...], tuple[Piece, ...]] = (((-1, 0, None),), ((-1, 1, None),))

Rows = tuple[tuple[WrittenValue, ...], ...]


@dataclass(frozen=True, slots=True)
class Twins:
    """Bars as they are shown under a time signature, and as they are meant in its twin."""

    time: str
    shown: Rows
    meant: Rows


def twin_bars(scope: Scope, rng: Random) -> Twins | None:
    """One or two bars with thirds of a beat in them; None where the scope has no twin metres or groups."""
    pairs: list[tuple[str, str]] = []
    for text in scope.times:
        figures = text.split("/")
        if len(figures) == 2 and f"{3 * int(figures[0])}/{2 * int(figures[1])}" in scope.times:
            pairs.append((text, f"{3 * int(figures[0])}/{2 * int(figures[1])}"))
    if not pairs or not {2, 3} <= set(scope.tuplets):
        return None
    fresh = scope.fresh.get("times", ())
    simple, compound = pick(rng, pairs, [pair for pair in pairs if set(pair) & set(fresh)])
    time, back = TimeSignature.parse(simple), rng.random() < 0.5
    for _ in range(_TRIES):
        used, first, second = _bars(rng, time, 1 if time.count == 4 else rng.choice((1, 2)))
        known = all(one.type in scope.values for rows in (first, second) for bar in rows for one in bar)
        short = all(sum(map(len, rows)) <= _LONGEST for rows in (first, second))
        if known and short and len(used) > 1 and used - _PLAIN:
            return Twins(compound, second, first) if back else Twins(simple, first, second)
    return None


def _bars(rng: Random, time: TimeSignature, count: int) -> tuple[set[int], Rows, Rows]:
    """Which cells were used, and the bars in simple and in compound time."""
    home = VALUES.index(time.beat.type)
    used: set[int] = set()
    rows: tuple[list[tuple[WrittenValue, ...]], list[tuple[WrittenValue, ...]]] = ([], [])
    for _ in range(count):
        bar: tuple[list[WrittenValue], list[WrittenValue]] = ([], [])
        beat, last = 0, _REST
        while beat < time.count:
            pair = beat + 1 < time.count and not (time.count == 4 and beat == 1) and rng.random() < _PAIR_SHARE
            (chosen,) = rng.choices(range(len(_CELLS)), [weight for _, _, weight in _CELLS])
            if chosen == _REST == last:
                continue
            last = 0 if pair else chosen
            cells = _PAIR if pair else _CELLS[chosen][:2]
            used |= set() if pair else {chosen}
            for side, cell in zip(bar, cells, strict=True):
                side += [
                    WrittenValue.of(Duration(VALUES[home + on], dots, group), rest=not pair and chosen == _REST)
                    for on, dots, group in cell
                ]
            beat += 2 if pair else 1
        for row, side in zip(rows, bar, strict=True):
            row.append(tuple(side))
    return used, tuple(rows[0]), tuple(rows[1])
