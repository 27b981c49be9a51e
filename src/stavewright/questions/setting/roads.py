"""Ways through a piece of eight bars: repeats, endings, D.C., D.S., coda, and the stretches that are played."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from random import Random

from stavewright.score.event import Note
from stavewright.score.stave import Direction, Score
from stavewright.syllabus.scope import Scope

Stretch = tuple[int, int]
LENGTH = 8
_CODA = 7
_OFFERED = 6
_MORE = 3


@dataclass(frozen=True, slots=True)
class Road:
    """What is printed where, by bar numbers, and the stretches from bar to bar in the order they are played."""

    stretches: tuple[Stretch, ...]
    repeats: tuple[Stretch, ...] = ()
    ending: int = 0
    fine: int = 0
    jump: str = ""
    segno: int = 0
    leave: int = 0


def pick_road(scope: Scope, rng: Random) -> Road:
    """A way of the grade, what it has just added favoured."""
    known = [name for name in ("repeat", "da-capo", "endings", "dal-segno", "coda") if name in scope.roads]
    fresh = [name for name in known if name in scope.fresh.get("roads", ())]
    return _MAKERS[rng.choice(fresh if fresh and rng.random() < 0.5 else known)](rng)


def _repeat(rng: Random) -> Road:
    start, end = rng.choice(((1, 4), (1, 4), (1, 2), (3, 4), (3, 6), (5, 8), (1, 6)))
    if end == 4 and rng.random() < 0.4:
        return Road(((1, 4), (start, 8), (5, 8)), ((start, 4), (5, 8)))
    return Road(((1, end), (start, LENGTH)), ((start, end),))


def _da_capo(rng: Random) -> Road:
    fine = rng.choice((2, 4, 4, 6))
    if fine == 4 and rng.random() < 0.6:
        if rng.random() < 0.5:
            return Road(((1, 4), (1, 8), (1, 4)), ((1, 4),), fine=4, jump="da-capo")
        return Road(((1, 8), (5, 8), (1, 4)), ((5, 8),), fine=4, jump="da-capo")
    return Road(((1, 8), (1, fine)), fine=fine, jump="da-capo")


def _endings(rng: Random) -> Road:
    first = rng.choice((2, 4, 4, 6, 7))
    return Road(((1, first), (1, first - 1), (first + 1, LENGTH)), ((1, first),), ending=first)


def _dal_segno(rng: Random) -> Road:
    segno = rng.choice((2, 3, 5))
    fine = rng.choice([bar for bar in (4, 5, 6) if bar > segno])
    if segno == 5 and rng.random() < 0.5:
        return Road(((1, 4), (1, 8), (5, fine)), ((1, 4),), fine=fine, jump="dal-segno", segno=5)
    return Road(((1, 8), (segno, fine)), fine=fine, jump="dal-segno", segno=segno)


def _coda(rng: Random) -> Road:
    leave = rng.choice((2, 4, 4))
    jump = rng.choice(("da-capo", "dal-segno"))
    segno = 0 if jump == "da-capo" else rng.choice([bar for bar in (2, 3) if bar <= leave])
    back, end = (segno or 1, leave), (_CODA, LENGTH)
    if jump == "da-capo" and rng.random() < 0.3:
        return Road(((1, 4), (1, _CODA - 1), back, end), ((1, 4),), jump=jump, leave=leave)
    return Road(((1, _CODA - 1), back, end), jump=jump, segno=segno, leave=leave)


_MAKERS = {"repeat": _repeat, "da-capo": _da_capo, "endings": _endings, "dal-segno": _dal_segno, "coda": _coda}


def offered(road: Road, rng: Random) -> tuple[Stretch, ...]:
    """The stretches to put in order: those that are played, each as often as it is, and a few that are not."""
    found = list(road.stretches)
    starts = {1, road.segno or 1, *(start for start, _ in road.stretches)}
    ends = {LENGTH, *(end for _, end in road.stretches), road.fine or LENGTH}
    likely = [(1, LENGTH), *road.stretches]
    other = sorted((a, b) for a in starts for b in ends if a < b and (a, b) not in road.stretches)
    rng.shuffle(likely)
    rng.shuffle(other)
    more = [one for one in [*other[:2], *likely, *other[2:]] if found.count(one) < 2]
    for one in more:
        if len(found) < _OFFERED and len(found) < len(road.stretches) + _MORE and found.count(one) < 2:
            found.append(one)
    return tuple(sorted(found))


def with_road(score: Score, road: Road) -> Score | None:
    """The music with the signs printed; its own dynamics and hairpins are left out. None where a tie is cut."""
    stave = score.staves[0]
    cut = {end for _, end in road.stretches} | {start - 1 for start, _ in road.stretches}
    bars = []
    for number, bar in enumerate(stave.bars, 1):
        last = bar.events[-1]
        if number in cut and isinstance(last, Note) and last.tie:
            return None
        signs = [one for one in bar.directions if one.kind == "tempo" and number == 1]
        signs += _signs(road, number, len(bar.events) - 1)
        ends = any(end == number for _, end in road.repeats)
        line = "repeat-end" if ends else bar.line if number == LENGTH else "single"
        if road.leave and number == _CODA - 1:
            line = "double"
        ending = {road.ending: 1, road.ending + 1: 2}.get(number) if road.ending else None
        starts = any(start == number > 1 for start, _ in road.repeats)
        bars.append(replace(bar, line=line, repeat_start=starts, ending=ending, directions=tuple(signs)))
    return replace(score, staves=(replace(stave, bars=tuple(bars)),), numbered=True)


def _signs(road: Road, number: int, last: int) -> Sequence[Direction]:
    """The words and signs of one bar: segno and coda at its start, the words at its end."""
    found: list[Direction] = []
    if number == road.segno:
        found.append(Direction("segno", 0, above=True))
    if road.leave and number == _CODA:
        found.append(Direction("coda", 0, above=True))
    if number == road.fine:
        found.append(Direction("fine", last, above=True))
    if number == road.leave:
        found.append(Direction("text", last, "To Coda", above=True))
    if road.jump and number == (_CODA - 1 if road.leave else LENGTH):
        letters = "D.C." if road.jump == "da-capo" else "D.S."
        found.append(Direction(road.jump, last, f"{letters} al {'Coda' if road.leave else 'Fine'}", above=True))
    return found
