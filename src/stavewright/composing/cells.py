"""Rhythm cells: the ways a beat, or two or three beats together, may be filled."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Final, NamedTuple

from stavewright.theory.duration import Duration, of_ticks
from stavewright.theory.metre import TimeSignature
from stavewright.theory.tuplet import TupletError, group


class Value(NamedTuple):
    """One written value of a rhythm: a note or a rest, tied on to the next or not."""

    duration: Duration
    rest: bool = False
    tie: bool = False


Cell = tuple[Value, ...]

# Parts are counted in quarters of a simple beat, or in sixths of a compound one, with how often each is chosen.
_SIMPLE: Final = (
    ((4,), 5.0),
    ((2, 2), 6.0),
    ((3, 1), 2.0),
    ((2, 1, 1), 1.3),
    ((1, 1, 2), 1.0),
    ((1, 1, 1, 1), 0.9),
)
_COMPOUND: Final = (
    ((6,), 3.0),
    ((4, 2), 5.0),
    ((2, 2, 2), 6.0),
    ((3, 1, 2), 1.4),
    ((2, 2, 1, 1), 0.8),
    ((2, 1, 1, 2), 0.7),
    ((4, 1, 1), 0.9),
)
_SIMPLE_PAIR: Final = (((8,), 3.0), ((6, 2), 3.0))
_COMPOUND_PAIR: Final = (((12,), 1.5),)
_SYNCOPATED: Final = {"simple": (2, 4, 2), "compound": (2, 4)}


@dataclass(frozen=True, slots=True)
class Slot:
    """A beat of the bar, in ticks from its start; `joins` says that a cell may run on into the next beat.

    `heavy` beats are the first of the bar, its middle, and the first of each group of an irregular bar.
    """

    start: int
    length: int
    compound: bool
    joins: bool
    heavy: bool


@lru_cache(maxsize=256)
def slots_of(time: TimeSignature, grouping: tuple[int, ...] | None = None) -> tuple[Slot, ...]:
    """The beats of a bar; an irregular bar of crotchets is cut into crotchets, one of quavers into its groups.

    >>> [slot.heavy for slot in slots_of(TimeSignature(4, 4))]
    [True, False, True, False]
    """
    if time.kind != "irregular":
        beat = time.beat.ticks
        middle = time.middle
        even = time.count % 2 == 0
        return tuple(
            Slot(
                place * beat,
                beat,
                time.kind == "compound",
                place + 1 < time.count and (place % 2 == 0 or not even),
                place == 0 or (place * beat == middle and time.count == 4),
            )
            for place in range(time.count)
        )
    unit = time.unit_value.ticks
    found: list[Slot] = []
    for start, length in time.spans(grouping):
        size = length // unit
        if time.unit == 8 and size == 3:
            found.append(Slot(start, length, True, False, True))
        elif time.unit == 8 and size == 2:
            found.append(Slot(start, length, False, False, True))
        elif time.unit == 8:
            half = length // 2
            found.append(Slot(start, half, False, True, True))
            found.append(Slot(start + half, half, False, False, False))
        else:
            found += [
                Slot(start + n * unit, unit, False, n + 1 < size and (size == 3 or n % 2 == 0), n == 0)
                for n in range(size)
            ]
    return tuple(found)


def _cell(parts: tuple[int, ...], whole: int, pieces: int, values: frozenset[str], dots: int) -> Cell | None:
    row: list[Value] = []
    for part in parts:
        ticks, left = divmod(part * whole, pieces)
        found = None if left else of_ticks(ticks, max_dots=dots)
        if found is None or found.type not in values:
            return None
        row.append(Value(found))
    return tuple(row)


@lru_cache(maxsize=1024)
def beat_cells(length: int, compound: bool, values: frozenset[str], dots: int) -> tuple[tuple[Cell, float], ...]:
    """Every way to fill one beat of so many ticks with the values allowed, with its weight."""
    table, pieces = (_COMPOUND, 6) if compound else (_SIMPLE, 4)
    made = ((_cell(parts, length, pieces, values, dots), weight) for parts, weight in table)
    return tuple((cell, weight) for cell, weight in made if cell is not None)


@lru_cache(maxsize=1024)
def pair_cells(length: int, compound: bool, values: frozenset[str], dots: int) -> tuple[tuple[Cell, float], ...]:
    """Every way to fill two beats of so many ticks each with one cell that runs across them."""
    table, pieces = (_COMPOUND_PAIR, 6) if compound else (_SIMPLE_PAIR, 4)
    made = ((_cell(parts, length, pieces, values, dots), weight) for parts, weight in table)
    return tuple((cell, weight) for cell, weight in made if cell is not None)


@lru_cache(maxsize=1024)
def syncopated_cell(length: int, compound: bool, values: frozenset[str], dots: int) -> Cell | None:
    """The cell whose long note begins off the beat: short-long-short, or short-long in a compound beat."""
    parts = _SYNCOPATED["compound" if compound else "simple"]
    return _cell(parts, length, 6 if compound else 4, values, dots)


@lru_cache(maxsize=1024)
def tuplet_cell(actual: int, slot: Slot, time: TimeSignature, values: frozenset[str]) -> Cell | None:
    """The irregular group of so many notes that fills one beat, or None when the metre has no such group."""
    beat = of_ticks(slot.length)
    if beat is None or (slot.compound and time.kind == "irregular"):
        return None
    try:
        row = group(actual, time, beat)
    except TupletError:
        return None
    return tuple(Value(one) for one in row) if row[0].type in values else None


@lru_cache(maxsize=1024)
def long_cell(length: int, breaks: tuple[int, ...], must: tuple[int, ...], values: frozenset[str], dots: int) -> Cell:
    """One sounding note of so many ticks: a single value if there is one, else values tied at the beats given.

    `breaks` are the ticks, counted from the start of the note, where it may be cut, `must` where it must be.
    """
    whole = None if must else of_ticks(length, max_dots=dots)
    if whole is not None and whole.type in values:
        return (Value(whole),)
    for cut in (*must[:1], *(one for one in reversed(breaks) if not must or one < must[0])):
        first = of_ticks(cut, max_dots=dots)
        if first is not None and first.type in values:
            later = tuple(tuple(one - cut for one in row if one > cut) for row in (breaks, must))
            rest = long_cell(length - cut, later[0], later[1], values, dots)
            if rest:
                return (Value(first, tie=True), *rest)
    return ()


def ticks_of(row: Cell) -> int:
    """Length of a row of values in ticks."""
    return sum(one.duration.ticks for one in row)


__all__ = [
    "Cell",
    "Slot",
    "Value",
    "beat_cells",
    "long_cell",
    "pair_cells",
    "slots_of",
    "syncopated_cell",
    "ticks_of",
    "tuplet_cell",
]
