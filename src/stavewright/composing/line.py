"""The line of a melody: scale steps chosen note by note under the rules of a singable tune."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from math import exp
from random import Random
from typing import Final

Bounds = tuple[int, int]
Steps = list[int]
"""Scale steps from the tonic: 0 the tonic, 7 its octave, -1 the leading note below."""

TRIAD: Final = {root: frozenset((root + place) % 7 for place in (0, 2, 4)) for root in range(7)}
TRITONE: Final = frozenset({(3, 6), (6, 3)})
MINOR_HARD: Final = TRITONE | {(2, 6), (6, 2), (1, 5), (5, 1)}
WIDE: Final = 3
"""A move of so many steps or more is a leap that must be turned back: a fourth."""
FIFTH: Final = 4
SEVENTH: Final = 6
LEADING: Final = 6
WIDEST_BREATH: Final = 5
_NODES: Final = 40

# How often each move is chosen: before a short note off the beat, and before a note on the beat.
_OFF: Final = {0: 0.10, 1: 1.0, 2: 0.30, 3: 0.05}
_ON: Final = {0: 0.22, 1: 1.0, 2: 0.50, 3: 0.22, 4: 0.13, 5: 0.04, 7: 0.03}


@dataclass(frozen=True, slots=True)
class Place:
    """One sounding note to be given a pitch: its bar, the chord over it, and how heavy its moment is.

    `weight` is 2 on a heavy beat or where the chord changes, 1 on another beat, 0 off the beat. `only` lists the scale
    steps allowed (None: any). `breath` says that a phrase begins here, so that any leap into it is free.
    """

    bar: int
    root: int
    weight: int
    only: frozenset[int] | None = None
    breath: bool = False


@dataclass(frozen=True, slots=True)
class Frame:
    """The space of a line: lowest and highest step, the climax that one note alone may reach, and the mode.

    `runs` asks for a line that goes on in its direction.
    """

    low: int
    peak: int
    minor: bool
    runs: bool = False


@lru_cache(maxsize=64)
def _moves(on: bool) -> tuple[tuple[int, float], ...]:
    table = _ON if on else _OFF
    return tuple((sign * size, weight) for size, weight in table.items() for sign in ((1, -1) if size else (1,)))


_PULL: Final = tuple(exp(-0.22 * distance) for distance in range(30))


def allowed(line: Sequence[int], step: int, place: Place, before: Place, frame: Frame, bounds: Bounds) -> bool:
    """Whether a step may come next after a line: the rules between neighbouring notes.

    `bounds` are the lowest and highest step allowed here. Rules: chord notes on heavy beats; other notes are reached
    and left by step; a leap of a fourth or more is turned back by step; a sixth or octave rises, from the tonic or
    dominant; the leading note leaps a third at most; no tritone; no note three times running, no shake of two notes.
    """
    if not bounds[0] <= step <= bounds[1]:
        return False
    degree = step % 7
    inside = degree in TRIAD[place.root]
    if place.weight == 2 and not inside:
        return False
    last = line[-1]
    move = step - last
    size = abs(move)
    if place.breath:
        return size <= WIDEST_BREATH
    if size != 1 and not (inside and last % 7 in TRIAD[before.root] and _leaps(last % 7, degree, move, frame)):
        return False
    return len(line) < 2 or _follows(line, step, move)


def _leaps(last: int, degree: int, move: int, frame: Frame) -> bool:
    """Whether a move of a third or more is one a voice takes easily (a repeated note always is)."""
    if (last, degree) in (MINOR_HARD if frame.minor else TRITONE):
        return False
    size = abs(move)
    if size > FIFTH and (size == SEVENTH or move < 0 or last not in (0, 4)):
        return False
    return last != LEADING or size <= 2


def _follows(line: Sequence[int], step: int, move: int) -> bool:
    """Whether a move goes on well from the one before it."""
    earlier = line[-1] - line[-2]
    if abs(earlier) >= WIDE:
        return abs(move) == 1 and move * earlier < 0
    if abs(move) >= WIDE and abs(earlier) == 2 and move * earlier > 0:
        return False
    if move == 0 and earlier == 0:
        return False
    return not (len(line) > 2 and step == line[-2] and line[-1] == line[-3])


def extend(
    line: Steps,
    places: Sequence[Place],
    before: Place,
    frame: Frame,
    bounds: Sequence[Bounds],
    aims: Sequence[float],
    rng: Random,
) -> Steps | None:
    """Carry a line on through some places, searching back where it runs into a wall; None when no way is found.

    `bounds` are the lowest and highest step allowed at each place and `aims` where the contour would have the line be.
    """
    begun = len(line)
    made = list(line)
    stack: list[list[int]] = []
    nodes = 0
    while len(stack) < len(places):
        index = len(stack)
        stack.append(
            _choices(
                made, places[index], places[index - 1] if index else before, frame, bounds[index], aims[index], rng
            )
        )
        while stack and not stack[-1]:
            stack.pop()
            if stack:
                made.pop()
        if not stack:
            return None
        nodes += 1
        if nodes > _NODES:
            return None
        made.append(stack[-1].pop())
    return made[begun:]


def _choices(
    line: Steps, place: Place, before: Place, frame: Frame, bounds: Bounds, aim: float, rng: Random
) -> list[int]:
    """The steps that may come next, the likeliest last."""
    last = line[-1]
    trend = last - line[-2] if len(line) > 1 else 0
    chord = TRIAD[place.root]
    found: list[tuple[float, int]] = []
    if place.only is not None:
        moves: Sequence[tuple[int, float]] = [(step - last, 1.0 / (1 + abs(step - last))) for step in place.only]
    else:
        moves = _moves(place.weight > 0 or place.breath)
    for move, weight in moves:
        step = last + move
        if not allowed(line, step, place, before, frame, bounds):
            continue
        likely = weight * _PULL[min(29, int(abs(step - aim)))]
        if step % 7 not in chord:
            likely *= 0.35 if place.weight else 0.9
        if move * trend > 0 and -2 < move < 2:
            likely *= 6.0 if frame.runs else 1.5
        found.append((rng.random() ** (1 / likely), step))
    found.sort()
    return [step for _, step in found]
