"""Shaping a melody over its ground: contour and climax, bars that return as they were, moved or turned over."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from random import Random

from stavewright.composing.ground import Ground, Span
from stavewright.composing.line import Bounds, Frame, Place, Steps, allowed, extend
from stavewright.composing.plan import BarPlan

_SPAN_TRIES = 2
_RUN = 5
"""Notes in a row by step that make a scale run."""


@dataclass(frozen=True, slots=True)
class Shaped:
    """A line in scale steps, the chord over each note, and where phrases begin and heavy beats lie."""

    steps: tuple[int, ...]
    roots: tuple[int, ...]
    breaths: frozenset[int]
    heavy: frozenset[int]


def shape(ground: Ground, low: int, high: int, minor: bool, wanted: frozenset[str], rng: Random) -> Shaped | None:
    """Find a line between a lowest and a highest scale step, or None when this try runs into a wall.

    One note alone has the highest pitch, and it is neither the first nor the last; the last is the tonic, reached from
    the step above or below.
    """
    spots = [spot for spot in ground.spots if spot.peak <= high]
    if not spots:
        return None
    spot = rng.choices(spots, [one.weight for one in spots])[0]
    frame = Frame(max(low, -4, spot.peak - 10), spot.peak, minor, "scale-run" in wanted)
    places = list(ground.places)
    start = _start(places[0], frame, 2 * spot.index + 2, rng)
    if start is None:
        return None
    places[spot.index] = replace(places[spot.index], only=frozenset({spot.peak}))
    places[0] = replace(places[0], only=frozenset({start}))
    if (first := _sequence_start(ground, start)) is not None:
        places[first[0]] = replace(places[first[0]], only=first[1])
    bounds = _bounds(places, frame)
    aims = _aims(len(places), spot.index, start, spot.peak)
    line: Steps = []
    for span in ground.spans:
        made = _returned(ground, span, line, places, bounds, frame, rng)
        if made is None:
            if span.plan is not None and (span.plan.exact or (span.plan.shift is not None and "sequence" in wanted)):
                return None
            made = _fresh(span, line, places, bounds, aims, frame, rng)
        if made is None:
            return None
        for later in ground.spans:
            if later.plan is not None and later.plan.exact and ground.spans[later.like or 0] is span:
                places[later.start] = replace(places[later.start], only=frozenset(made[:1]))
        line += made
    if "scale-run" in wanted and not has_run(line):
        return None
    breaths = frozenset(index for index, place in enumerate(places) if place.breath)
    heavy = frozenset(index for index, place in enumerate(places) if place.weight == 2)
    return Shaped(tuple(line), tuple(place.root for place in places), breaths, heavy)


def _sequence_start(ground: Ground, start: int) -> tuple[int, frozenset[int]] | None:
    """The first note of a second bar that is the first one moved, and the steps it may have."""
    if len(ground.spans) < 2 or ground.spans[1].like != 0:
        return None
    span = ground.spans[1]
    if span.plan is None or span.plan.shift is None or ground.places[span.start].only is not None:
        return None
    return span.start, frozenset({start + span.plan.shift, start + span.plan.shift - 7})


def _fresh(
    span: Span, line: Steps, places: list[Place], bounds: list[Bounds], aims: list[float], frame: Frame, rng: Random
) -> Steps | None:
    """New notes for a span, tried more than once, with a look ahead to the note after it."""
    first = [] if span.start else [min(places[0].only or {0})]
    begin = span.start + len(first)
    end = min(span.end + 1, len(places))
    mine, bound, aim = places[begin:end], bounds[begin:end], aims[begin:end]
    for _ in range(_SPAN_TRIES):
        made = extend(line or first, mine, places[begin - 1], frame, bound, aim, rng)
        if made is not None:
            return first + made[: span.end - begin]
    return None


def _returned(
    ground: Ground, span: Span, line: Steps, places: list[Place], bounds: list[Bounds], frame: Frame, rng: Random
) -> Steps | None:
    """The notes of an earlier span again, as its plan says, with the final tonic if the span closes the melody."""
    if span.like is None or span.plan is None:
        return None
    source = ground.spans[span.like]
    old = line[source.start : source.end]
    closing = [0] * (span.end - span.start - len(old))
    if len(closing) > 1 or len(old) > span.end - span.start:
        return None
    mine, bound = places[span.start : span.end], bounds[span.start : span.end]
    for made in _shapes(old, span.plan, rng):
        if _fits(line, made + closing, mine, places[span.start - 1], frame, bound):
            return made + closing
    return None


def _shapes(old: Steps, plan: BarPlan, rng: Random) -> list[Steps]:
    """The ways a bar may return: note for note, moved by some steps, or upside down."""
    if plan.exact:
        return [old]
    if plan.shift is not None:
        return [[step + plan.shift for step in old], [step + plan.shift - 7 for step in old]]
    turned = [2 * old[0] - step for step in old]
    moves = [0, 0, 1, -1, 2, -2, 3, -3, 4]
    rng.shuffle(moves)
    return [[step + move for step in (turned if rng.random() < 0.3 else old)] for move in moves]


def _fits(line: Steps, made: Steps, mine: list[Place], before: Place, frame: Frame, bounds: list[Bounds]) -> bool:
    trial = list(line)
    for step, place, bound in zip(made, mine, bounds, strict=True):
        if place.only is not None and step not in place.only:
            return False
        if not allowed(trial, step, place, before, frame, bound):
            return False
        trial.append(step)
        before = place
    return True


def _start(place: Place, frame: Frame, reach: int, rng: Random) -> int | None:
    """The first step: tonic, third or fifth; a pick-up mostly begins on the dominant."""
    usual = (0, 0, 0, 2, 2, 4) if place.weight == 2 else (-3, -3, -3, 4, 4, 0, 2)
    options = [step for step in usual if frame.low <= step < frame.peak and frame.peak - step <= reach]
    return rng.choice(options) if options else None


def _bounds(places: list[Place], frame: Frame) -> list[Bounds]:
    """The lowest and highest step each note may have, so that the steps fixed later can still be reached."""
    found: list[Bounds] = []
    low, high = frame.low, frame.peak - 1
    for place in reversed(places):
        if place.only is not None:
            low, high = max(min(place.only), frame.low), max(place.only)
            high = high if low == frame.peak else min(high, frame.peak - 1)
            found.append((low, high))
            low, high = low - 2, high + 2  # a leap to the very next note, then two steps for each note before
        else:
            found.append((max(low, frame.low), min(high, frame.peak - 1)))
        low, high = low - 2, high + 2
    return found[::-1]


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


def _aims(count: int, at: int, start: int, peak: int) -> list[float]:
    """The contour: from the start up to the climax, with a dip half way there, and down to the tonic."""
    rise = [start + (peak - 1 - start) * (index / at) ** 1.5 for index in range(at)] if at else []
    fall = count - at
    return rise + [peak - peak * ((index / max(1, fall - 1)) ** 0.8) for index in range(fall)]
