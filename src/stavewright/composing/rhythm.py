"""Rhythms by rule: a few cells that return, long notes where a phrase closes, a pick-up that the last bar repays."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from random import Random
from typing import Final

from stavewright.composing.cells import (
    Cell,
    Slot,
    Value,
    beat_cells,
    long_cell,
    pair_cells,
    slots_of,
    syncopated_cell,
    ticks_of,
    tuplet_cell,
)
from stavewright.composing.errors import CannotCompose
from stavewright.composing.plan import BarPlan, plan_bars
from stavewright.theory.duration import VALUES, Duration, of_ticks
from stavewright.theory.metre import TimeSignature
from stavewright.theory.rests import fill

ALL_VALUES: Final = frozenset(VALUES)
MOST_NOTES: Final = 8
_TRIES: Final = 12


@dataclass(frozen=True, slots=True)
class Rhythm:
    """A rhythm in bars. With a pick-up the first row is the pick-up alone and the last row is short by it.

    `grouping` is the grouping an irregular metre keeps throughout, in lower-figure values; `pickup` is in ticks.
    """

    time: TimeSignature
    bars: tuple[Cell, ...]
    pickup: int = 0
    grouping: tuple[int, ...] | None = None


@dataclass(frozen=True, slots=True)
class Means:
    """What a rhythm may be made of: value names, dots a note may have, irregular groups, rests, things wanted."""

    values: frozenset[str] = ALL_VALUES
    dots: int = 1
    tuplets: tuple[int, ...] = ()
    rests: bool = False
    wanted: frozenset[str] = frozenset()


def compose_rhythm(
    rng: Random,
    *,
    time: TimeSignature,
    bars: int = 4,
    values: Sequence[str] = VALUES,
    dots: int = 1,
    anacrusis: bool = False,
    tuplets: Sequence[int] = (),
    rests: bool = False,
    wanted: Sequence[str] = (),
) -> Rhythm:
    """Compose a rhythm of so many whole bars from the values allowed.

    `wanted` may hold "syncopation" and "triplet", or "tuplet" for any irregular group allowed; `anacrusis` begins with
    a pick-up. The rules are in docs/composing.md.

    Raises:
        CannotCompose: no value allowed fills a beat of this metre, or a wrong number of bars.

    >>> made = compose_rhythm(Random(1), time=TimeSignature(3, 4), bars=2)
    >>> [sum(value.duration.ticks for value in bar) == made.time.ticks for bar in made.bars]
    [True, True]
    """
    means = Means(frozenset(values), min(dots, 1), tuple(tuplets), rests, frozenset(wanted))
    return rhythm_on(plan_bars(bars, rng), time, means, rng, anacrusis=anacrusis)


def rhythm_on(
    plans: tuple[BarPlan, ...], time: TimeSignature, means: Means, rng: Random, *, anacrusis: bool = False
) -> Rhythm:
    """Give every bar of a plan its rhythm: bars that return keep theirs, closing bars end long.

    Raises:
        CannotCompose: no value allowed fills a beat of this metre.
    """
    grouping = None
    if time.kind == "irregular":
        grouping = time.groupings[0] if rng.random() < 0.7 else rng.choice(time.groupings)
    slots = slots_of(time, grouping)
    cells = _Cells(slots, time, means, rng)
    pick = cells.pickup() if anacrusis else ()
    rows: list[Cell] = []
    for plan in plans:
        if plan.role == "close":
            rows.append(cells.close(ticks_of(pick)))
        elif plan.role == "half":
            rows.append(cells.half(pick, rows[0]))
        elif plan.like is not None and plans[plan.like].role not in ("half", "close"):
            rows.append(rows[plan.like])
        else:
            rows.append(cells.bar(first=not rows))
    missed = [want for want in cells.pending if want in means.wanted]
    if missed:
        raise CannotCompose(
            f"no {' or '.join(missed)} fits {time.text} with the values allowed", right="choose another metre or value"
        )
    if pick:
        rows.insert(0, pick)
    return Rhythm(time, tuple(rows), ticks_of(pick), grouping)


class _Cells:
    """The few cells one rhythm is made from."""

    def __init__(self, slots: tuple[Slot, ...], time: TimeSignature, means: Means, rng: Random) -> None:
        self.slots, self.time, self.means, self.rng = slots, time, means, rng
        self.owned: dict[tuple[int, bool], list[tuple[Cell, float]]] = {}
        for slot in slots:
            if (slot.length, slot.compound) not in self.owned:
                self.owned[slot.length, slot.compound] = self._choose(slot)
        self.pending = [one for one in ("syncopation", "triplet", "tuplet") if one in means.wanted]
        if not self.pending and 3 in means.tuplets and time.kind == "simple" and rng.random() < 0.15:
            self.pending.append("triplet")

    def _choose(self, slot: Slot) -> list[tuple[Cell, float]]:
        known = beat_cells(slot.length, slot.compound, self.means.values, self.means.dots)
        if not known:
            allowed = ", ".join(sorted(self.means.values))
            raise CannotCompose(f"no value fills a beat of {self.time.text}", right=f"allow more values than {allowed}")
        plain = [one for one in known if len(one[0]) <= (3 if slot.compound else 2)]
        spice = [one for one in known if one not in plain[:2]]
        chosen = plain[:2] or list(known[:1])
        if spice:
            chosen = [
                *chosen,
                *dict.fromkeys(self.rng.choices(spice, [w for _, w in spice], k=2 if slot.compound else 1)),
            ]
        return chosen

    def bar(self, *, first: bool) -> Cell:
        """A bar of moving notes: two at the least, eight at the most."""
        best: Cell = ()
        for _ in range(_TRIES):
            pending = list(self.pending)
            best = self._row(self.slots, special=True)
            if 2 <= len(best) <= MOST_NOTES and (not first or (len(best) > 2 and len(set(best)) > 1)):
                return best
            self.pending = pending
        return best

    def _row(self, slots: Sequence[Slot], *, special: bool = False) -> Cell:
        row: list[Value] = []
        place = 0
        while place < len(slots):
            slot = slots[place]
            joins = slot.joins and place + 1 < len(slots)
            if special and self.pending and (cell := self._wanted(slot, joins)) is not None:
                row += cell
                place += 2 if ticks_of(cell) > slot.length else 1
                continue
            pairs = pair_cells(slot.length, slot.compound, self.means.values, self.means.dots) if joins else ()
            if pairs and self.rng.random() < 0.28:
                row += self.rng.choices([c for c, _ in pairs], [w for _, w in pairs])[0]
                place += 2
                continue
            owned = self.owned[slot.length, slot.compound]
            row += self.rng.choices([c for c, _ in owned], [w for _, w in owned])[0]
            place += 1
        return tuple(row)

    def _wanted(self, slot: Slot, joins: bool) -> Cell | None:
        want = self.pending[0]
        cell: Cell | None = None
        if want == "syncopation":
            if joins or slot.compound:
                cell = syncopated_cell(slot.length, slot.compound, self.means.values, self.means.dots)
        else:
            numbers = (3,) if want == "triplet" else self.means.tuplets
            made = [tuplet_cell(number, slot, self.time, self.means.values) for number in numbers]
            fitting = [one for one in made if one is not None]
            cell = self.rng.choice(fitting) if fitting else None
        if cell is not None:
            self.pending.pop(0)
        return cell

    def pickup(self) -> Cell:
        """A pick-up: a beat, or part of one, as the last notes of a bar."""
        slot = self.slots[-1]
        cells: list[Cell] = [
            cell for cell, _ in beat_cells(slot.length, slot.compound, self.means.values, self.means.dots)
        ]
        if slot.compound and self.time.kind == "irregular":
            return next((cell[-1:] for cell in cells if len(cell) > 1), cells[0])
        if slot.compound and len(self.slots) > 2 and not self.means.rests:
            return self.rng.choice([cell for cell in cells if len(cell) in (1, 3)] or cells)
        if slot.compound:
            thirds: list[Cell] = [cell[-1:] for cell in cells if len(cell) == 2]
            return self.rng.choice([*thirds, *[cell for cell in cells if len(cell) == 3][:1]]) if thirds else cells[0]
        wholes: list[Cell] = [cell for cell in cells if len(cell) <= 2 and not cell[0].duration.dots]
        halves: list[Cell] = [cell[1:] for cell in cells if len(cell) == 2 and not cell[0].duration.dots]
        return self.rng.choice([*wholes, *wholes, *halves]) if slot.length <= Duration("crotchet").ticks else wholes[0]

    def half(self, pick: Cell, opening: Cell) -> Cell:
        """The close of a question: moving notes, then one long note, and the next phrase's pick-up if there is one."""
        end = self.time.ticks - ticks_of(pick)
        heavy = [slot.start for slot in self.slots if slot.heavy and 0 < slot.start < end]
        starts = heavy[-1:] or [slot.start for slot in self.slots[1:2] if slot.start < end]
        cut = self.rng.choice([*starts * 6, 0]) if starts else 0
        moving = before(opening, cut) if self.rng.random() < 0.5 else None
        if moving is None:
            moving = self._row([slot for slot in self.slots if slot.start < cut])
        stop = end
        if not pick and self.means.rests and cut < self.slots[-1].start and self.rng.random() < 0.4:
            stop = self.slots[-1].start
        if any(value.duration.ticks > stop - cut for value in moving):
            moving, cut = (), 0
        return (*moving, *self._held(cut, stop), *self._silent(stop, end), *pick)

    def close(self, pick: int) -> Cell:
        """The last bar: the tonic held, short by the pick-up, with rests only where a beat is broken by it."""
        end = self.time.ticks - pick
        stops = [slot.start for slot in self.slots if 0 < slot.start < end]
        broken = all(slot.start != end for slot in self.slots) and pick > 0
        if self.means.rests and stops and (broken or self.rng.random() < 0.15):
            return (*self._held(0, stops[-1]), *self._silent(stops[-1], end))
        return self._held(0, end)

    def _held(self, start: int, end: int) -> Cell:
        """One sounding note: no value crosses a group of an irregular bar or ends inside a later compound beat."""
        breaks = tuple(slot.start - start for slot in self.slots if start < slot.start < end)
        must: tuple[int, ...] = ()
        if self.time.kind == "irregular":
            must = tuple(slot.start - start for slot in self.slots if slot.heavy and start < slot.start < end)
            must = must[-1:] if must and of_ticks(must[-1], max_dots=0) else must
        elif self.time.kind == "compound" and all(end != slot.start + slot.length for slot in self.slots):
            must = breaks[-1:]
        row = long_cell(end - start, breaks, must, self.means.values, self.means.dots)
        if not row:
            raise CannotCompose(
                f"no value allowed holds {end - start} ticks of a {self.time.text} bar", right="allow longer values"
            )
        return row

    def _silent(self, start: int, end: int) -> Cell:
        if start >= end:
            return ()
        return tuple(Value(one, rest=True) for one in fill(start, end - start, self.time)[0].rests)


def before(row: Cell, cut: int) -> Cell | None:
    """The values of a row that end exactly at a tick, or None when one of them sounds across it."""
    place = 0
    for index, value in enumerate(row):
        if place == cut:
            return row[:index]
        place += value.duration.ticks
    return None
