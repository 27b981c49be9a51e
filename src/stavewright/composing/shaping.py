"""Shaping a melody over its rhythm: harmony note by note, contour and climax, bars that return moved or turned over."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from random import Random

from stavewright.composing.cells import slots_of
from stavewright.composing.line import TRIAD, Frame, Place, Steps, allowed, extend
from stavewright.composing.plan import DOMINANT, TONIC, BarPlan
from stavewright.composing.rhythm import Rhythm

_BAR_TRIES = 3
_RUN = 5
"""Notes in a row by step that make a scale run."""


@dataclass(frozen=True, slots=True)
class Shaped:
    """A line in scale steps, the chord over each note, and where phrases begin."""

    steps: tuple[int, ...]
    roots: tuple[int, ...]
    breaths: frozenset[int]


def shape(
    plans: tuple[BarPlan, ...], rhythm: Rhythm, low: int, high: int, minor: bool, wanted: frozenset[str], rng: Random
) -> Shaped | None:
    """Find a line for a rhythm between a lowest and a highest scale step, or None when this try runs into a wall.

    One note alone has the highest pitch, and it is neither the first nor the last; the last is the tonic, reached from
    the step above or below.
    """
    peak = rng.randint(4, max(4, min(9, high)))
    frame = Frame(max(low, -4, peak - 10), peak, minor)
    bars = _places(plans, rhythm)
    places = [place for bar in bars for place in bar]
    climax = _climax(plans, bars, peak, rng)
    if climax is None:
        return None
    at = sum(len(bar) for bar in bars[: climax[0]]) + climax[1]
    start = _start(places, frame, rng)
    if start is None:
        return None
    aims = _aims(len(places), at, start, peak)
    tops = [peak - 1] * len(places)
    tops[at] = peak
    places[at] = replace(places[at], only=frozenset({peak}))
    places[0] = replace(places[0], only=frozenset({start}))
    line: Steps = []
    done: list[Steps] = []
    for index, bar in enumerate(bars):
        begin = len(line)
        mine = places[begin : begin + len(bar)]
        bound = tops[begin : begin + len(bar)]
        before = places[begin - 1] if begin else mine[0]
        plan = plans[index - bool(rhythm.pickup)] if index or not rhythm.pickup else None
        made: Steps | None = None
        if plan is not None and plan.like is not None:
            made = _returning(line, done[plan.like + bool(rhythm.pickup)], plan, mine, before, frame, bound, rng)
            if made is None and (plan.exact or (plan.shift is not None and "sequence" in wanted)):
                return None
        if made is None:
            for _ in range(_BAR_TRIES):
                if begin:
                    made = extend(line, mine, before, frame, bound, aims[begin : begin + len(bar)], rng)
                else:
                    rest = extend([start], mine[1:], mine[0], frame, bound[1:], aims[1 : len(bar)], rng)
                    made = None if rest is None else [start, *rest]
                if made is not None:
                    break
        if made is None:
            return None
        done.append(made)
        line += made
    if "scale-run" in wanted and not has_run(line):
        return None
    breaths = frozenset(index for index, place in enumerate(places) if place.breath)
    return Shaped(tuple(line), tuple(place.root for place in places), breaths)


def has_run(line: Sequence[int]) -> bool:
    """Whether five notes or more follow each other by step in one direction."""
    length, trend = 1, 0
    for index in range(1, len(line)):
        move = line[index] - line[index - 1]
        length = length + 1 if abs(move) == 1 and move == trend else 2 if abs(move) == 1 else 1
        trend = move
        if length >= _RUN:
            return True
    return False


def _returning(
    line: Steps, old: Steps, plan: BarPlan, mine: list[Place], before: Place, frame: Frame, tops: list[int], rng: Random
) -> Steps | None:
    """The notes of an earlier bar again: as they were, moved by some steps, or upside down, if the rules allow."""
    if len(old) != len(mine):
        return None
    if plan.exact:
        shapes = [old]
    elif plan.shift is not None:
        shapes = [[step + plan.shift for step in old], [step + plan.shift - 7 for step in old]]
    else:
        turned = [2 * old[0] - step for step in old]
        moves = [0, 0, 1, -1, 2, -2, 3, -3, 4]
        rng.shuffle(moves)
        shapes = [[step + move for step in (turned if rng.random() < 0.3 else old)] for move in moves]
    for made in shapes:
        if _fits(line, made, mine, before, frame, tops):
            return made
    return None


def _fits(line: Steps, made: Steps, mine: list[Place], before: Place, frame: Frame, tops: list[int]) -> bool:
    trial = list(line)
    for step, place, top in zip(made, mine, tops, strict=True):
        if place.only is not None and step not in place.only:
            return False
        if not trial:
            if not frame.low <= step <= top:
                return False
        elif not allowed(trial, step, place, before, frame, top):
            return False
        trial.append(step)
        before = place
    return True


def _start(places: list[Place], frame: Frame, rng: Random) -> int | None:
    """The first step: tonic, third or fifth; a pick-up mostly begins on the dominant."""
    tops = frame.peak - 1
    if places[0].weight == 2:
        options = [step for step in (0, 0, 0, 2, 2, 4) if frame.low <= step <= tops]
    else:
        options = [step for step in (-3, -3, -3, 4, 4, 0, 2) if frame.low <= step <= tops]
    return rng.choice(options) if options else None


def _climax(plans: tuple[BarPlan, ...], bars: list[list[Place]], peak: int, rng: Random) -> tuple[int, int] | None:
    """Where the highest note stands: (row, place in it), in a bar that is neither the first nor copied."""
    shift = len(bars) - len(plans)
    copied = {plan.like for plan in plans if plan.exact}
    spots: list[tuple[int, int]] = []
    weights: list[float] = []
    for index, plan in enumerate(plans[:-1]):
        if plan.exact or index in copied or (index == 0 and len(plans) > 2):
            continue
        row = bars[index + shift]
        for place, one in enumerate(row):
            if index == 0 and place == 0:
                continue
            if one.only is None and not one.breath and peak % 7 in TRIAD[one.root]:
                late = (index + place / len(row)) / len(plans)
                spots.append((index + shift, place))
                weights.append((3.0 if 0.4 <= late <= 0.8 else 1.0) * (one.weight + 0.3))
    return rng.choices(spots, weights)[0] if spots else None


def _aims(count: int, at: int, start: int, peak: int) -> list[float]:
    """The contour: from the start up to the climax, with a dip half way there, and down to the tonic."""
    rise = [start + (peak - 1 - start) * (index / at) ** 1.5 for index in range(at)] if at else []
    fall = count - at
    return rise + [peak - peak * ((index / max(1, fall - 1)) ** 0.8) for index in range(fall)]


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
