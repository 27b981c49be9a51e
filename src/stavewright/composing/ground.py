"""The ground of a melody: every sounding note's moment, its implied chord, and what is fixed about it beforehand."""

from __future__ import annotations

from dataclasses import dataclass

from stavewright.composing.cells import slots_of
from stavewright.composing.line import TRIAD, Place
from stavewright.composing.plan import DOMINANT, TONIC, BarPlan
from stavewright.composing.rhythm import Rhythm

PEAKS = (2, 3, 4, 5, 7, 8, 9)
"""Steps above the tonic that the climax may have: a third to a tenth, under a fifth only in a short tune, and never the
leading note, which could not rise from there."""
_SHORT = 10


@dataclass(frozen=True, slots=True)
class Span:
    """Notes that are composed together: a bar, a pick-up, or the last two bars, and the span they take notes from."""

    start: int
    end: int
    plan: BarPlan | None
    like: int | None


@dataclass(frozen=True, slots=True)
class Spot:
    """A note that may be the climax: its index, the step it would have, and how well it would stand there."""

    index: int
    peak: int
    weight: float


@dataclass(frozen=True, slots=True)
class Ground:
    """All sounding notes of a rhythm in order, in spans, with every note that may be the climax."""

    places: tuple[Place, ...]
    spans: tuple[Span, ...]
    spots: tuple[Spot, ...]


def ground_of(plans: tuple[BarPlan, ...], rhythm: Rhythm) -> Ground:
    """Lay out a planned rhythm for shaping."""
    rows = _places(plans, rhythm)
    pick = bool(rhythm.pickup)
    spans: list[Span] = []
    begin = 0
    for index, row in enumerate(rows[:-1]):
        plan = plans[index - pick] if index >= pick else None
        end = begin + len(row) + (len(rows[-1]) if index == len(rows) - 2 else 0)
        spans.append(Span(begin, end, plan, None if plan is None or plan.like is None else plan.like + pick))
        begin += len(row)
    places = tuple(place for row in rows for place in row)
    return Ground(places, tuple(spans), _spots(plans, rows, pick))


def _spots(plans: tuple[BarPlan, ...], rows: list[list[Place]], pick: bool) -> tuple[Spot, ...]:
    """Where the highest note may stand: in a bar that is neither the first nor copied, best past the middle."""
    copied = {plan.like for plan in plans if plan.exact}
    found: list[Spot] = []
    begin = len(rows[0]) if pick else 0
    short = sum(map(len, rows)) < _SHORT
    for index, plan in enumerate(plans[:-1]):
        row = rows[index + pick]
        if not (plan.exact or index in copied or (index == 0 and len(plans) > 2)):
            for place, one in enumerate(row):
                if (index == 0 and place == 0) or one.only is not None or one.breath:
                    continue
                late = (index + place / len(row)) / len(plans)
                weight = (3.0 if 0.4 <= late <= 0.8 else 1.0) * (one.weight + 0.3)
                for peak in PEAKS[0 if short else 2 :]:
                    if peak % 7 in TRIAD[one.root] and _near(row, place, peak):
                        found.append(Spot(begin + place, peak, weight))
        begin += len(row)
    return tuple(found)


def _near(row: list[Place], place: int, peak: int) -> bool:
    """Whether the line can come down from the climax to what the same bar asks for later."""
    for later in range(place + 1, len(row)):
        only = row[later].only
        if only is not None:
            return min(abs(peak - step) for step in only) <= later - place + 2
    return True


def _places(plans: tuple[BarPlan, ...], rhythm: Rhythm) -> list[list[Place]]:
    """Every sounding note's place, bar by bar (the pick-up is a row of its own)."""
    slots = slots_of(rhythm.time, rhythm.grouping)
    heavy = {slot.start for slot in slots if slot.heavy}
    beats = {slot.start for slot in slots}
    last_heavy = max(heavy)
    turn = last_heavy or slots[-1].start
    rows: list[list[Place]] = []
    bars = rhythm.bars
    if rhythm.pickup:
        rows.append([Place(-1, TONIC, 0) for value in bars[0]])
        bars = bars[1:]
    breath = False
    for index, (plan, row) in enumerate(zip(plans, bars, strict=True)):
        change = turn
        notes: list[tuple[int, int]] = []
        tick, tied = 0, False
        for value in row:
            if not value.rest:
                if tied:
                    start, length = notes[-1]
                    notes[-1] = (start, length + value.duration.ticks)
                else:
                    notes.append((tick, value.duration.ticks))
                tied = value.tie
            tick += value.duration.ticks
        hold = len(notes) - 1
        if plan.role == "half":
            if rhythm.pickup:
                hold -= len(rhythm.bars[0])
            change = min(change, notes[hold][0])
        made: list[Place] = []
        for spot, (start, length) in enumerate(notes):
            root = plan.chords[-1] if len(plan.chords) > 1 and start >= change else plan.chords[0]
            if plan.role == "half" and start >= notes[hold][0]:
                root = DOMINANT
            turned = len(plan.chords) > 1 and start == change
            weight = 2 if start in heavy or turned or length > slots[0].length else 1 if start in beats else 0
            only: frozenset[int] | None = None
            if plan.role == "half" and spot == hold:
                only, weight = frozenset({-3, -1, 1, 4, 6}), 2
            elif plan.role == "close":
                only = frozenset({0})
            elif index == len(plans) - 2 and spot == len(notes) - 1:
                only = frozenset({1, -1})
            made.append(Place(index, root, weight, only, breath))
            breath = plan.role == "half" and spot == hold
        rows.append(made)
    return rows
