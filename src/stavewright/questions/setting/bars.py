"""Bars of rhythm within a scope, beat by beat, for the questions on metre."""

from __future__ import annotations

from collections.abc import Sequence
from random import Random

from stavewright.composing.cells import (
    Cell,
    Slot,
    beat_cells,
    pair_cells,
    slots_of,
    syncopated_cell,
    ticks_of,
    tuplet_cell,
)
from stavewright.questions.setting.picking import pick
from stavewright.questions.values import WrittenValue
from stavewright.syllabus.scope import Scope
from stavewright.theory.duration import Duration
from stavewright.theory.grouping import beam
from stavewright.theory.metre import TimeSignature

Row = tuple[Duration, ...]
_TUPLET_SHARE = 0.15
_PAIR_SHARE = 0.25
_SYNCOPATED_SHARE = 0.08
_LONG = 10


def pick_time(scope: Scope, rng: Random, kinds: Sequence[str] = ("simple", "compound", "irregular")) -> TimeSignature:
    """A time signature of the grade of those kinds, the newest favoured."""
    known = [text for text in scope.times if TimeSignature.parse(text).kind in kinds]
    return TimeSignature.parse(pick(rng, known, scope.fresh.get("times", ())))


def rhythm_bar(
    scope: Scope,
    rng: Random,
    time: TimeSignature,
    *,
    tuplets: bool = True,
    grouping: tuple[int, ...] | None = None,
    busy: bool = False,
) -> Row:
    """The values of one bar: each beat, or two beats together, filled from the values of the scope.

    `busy` leaves out notes of two beats and prefers beats of several notes. A bar has ten notes at most where the metre
    allows it.
    """
    values = frozenset(scope.values)
    shortest: tuple[Duration, ...] = ()
    for _ in range(8):
        row: list[Duration] = []
        slots = slots_of(time, grouping)
        place = 0
        while place < len(slots):
            cell = _cell(slots, place, scope, rng, values, time, tuplets=tuplets, busy=busy)
            row += [value.duration for value in cell]
            place += 2 if ticks_of(cell) > slots[place].length else 1
        if 2 <= len(row) <= _LONG:
            return tuple(row)
        if not shortest or 2 <= len(row) < len(shortest):
            shortest = tuple(row)
    return shortest


def _cell(
    slots: Sequence[Slot],
    place: int,
    scope: Scope,
    rng: Random,
    values: frozenset[str],
    time: TimeSignature,
    *,
    tuplets: bool,
    busy: bool,
) -> Cell:
    slot = slots[place]
    dots = min(scope.dots, 1)
    joins = slot.joins and place + 1 < len(slots)
    chance = rng.random()
    if tuplets and scope.tuplets and chance < _TUPLET_SHARE:
        made = tuplet_cell(rng.choice(scope.tuplets), slot, time, values)
        if made is not None and ticks_of(made) == slot.length:
            return made
    if joins and chance > 1 - _SYNCOPATED_SHARE and not slot.compound:
        late = syncopated_cell(slot.length, slot.compound, values, dots)
        if late is not None:
            return late
    if joins and not busy and rng.random() < _PAIR_SHARE:
        pairs = pair_cells(slot.length, slot.compound, values, dots)
        if pairs:
            return rng.choices([cell for cell, _ in pairs], [weight for _, weight in pairs])[0]
    known = beat_cells(slot.length, slot.compound, values, dots)
    if busy:
        known = tuple(one for one in known if len(one[0]) > 1) or known
    return rng.choices([cell for cell, _ in known], [weight for _, weight in known])[0]


def beamed(
    row: Sequence[Duration], time: TimeSignature, *, rests: Sequence[bool] = (), grouping: tuple[int, ...] | None = None
) -> tuple[WrittenValue, ...]:
    """A bar as it is written, with its usual beams.

    >>> [value.beam for value in beamed([Duration("quaver")] * 2 + [Duration("crotchet")], TimeSignature(2, 4))]
    [1, 1, None]
    """
    silent = tuple(rests) or (False,) * len(row)
    groups = beam(tuple(zip(row, silent, strict=True)), time, grouping=grouping)
    return tuple(
        WrittenValue.of(duration, rest=rest, beam=None if group is None else group + 1)
        for duration, rest, group in zip(row, silent, groups, strict=True)
    )
