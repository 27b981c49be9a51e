"""Finishing a melody: two bars are given, six more are composed that answer them and come home."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from random import Random
from typing import Final

from stavewright.composing.cells import Cell, Slot, Value, long_cell, slots_of, ticks_of
from stavewright.composing.line import LEADING, TRIAD, Bounds, Frame, Place, Steps, extend
from stavewright.composing.plan import DOMINANT, SUBDOMINANT, SUBMEDIANT, SUPERTONIC, TONIC
from stavewright.composing.rhythm import ALL_VALUES, Rhythm, before
from stavewright.composing.spelling import singable, spell
from stavewright.composing.writing import write
from stavewright.score.event import Note, Rest
from stavewright.score.stave import Score
from stavewright.theory.key import Key
from stavewright.theory.metre import TimeSignature
from stavewright.theory.pitch import STEPS, Pitch

BARS: Final = 8
GIVEN: Final = 2
WAYS: Final = ("alike", "apart")
"""How the second half begins: with the first bar or both bars of the opening again, or with their rhythm alone."""
_TRIES: Final = 300
_HALF, _APPROACH, _CLOSE = 3, 6, 7
_CLIMAX_BARS: Final = {0: (5, 4, 6), 1: (5, 6, 2, 3), 2: (2, 6, 3)}
"""Where the climax may stand, by how many bars of the opening come back note for note."""


@dataclass(frozen=True, slots=True)
class _Opening:
    """What is given: pick-up, rhythm, pitches and scale steps, the key, and the diatonic place of the tonic."""

    pickup: Cell
    rows: tuple[Cell, ...]
    pitches: tuple[Pitch, ...]
    steps: tuple[int, ...]
    key: Key
    tonic: int
    time: TimeSignature


def finish_melody(
    opening: Score, rng: Random, *, key: Key, low: Pitch, high: Pitch, way: str = "alike"
) -> Score | None:
    """Compose six bars to two given ones: a half close in bar 4, an answer like the opening, one climax, the tonic.

    `way` "alike" begins the answer (bars 5 and 6) with one bar or both of those given, "apart" with their rhythm alone.
    The notes given stay as they are; the others lie between the places of `low` and `high`. An opening with a pick-up
    has it again before bar 5, and the last bar repays it. None where there is no way on from the opening.
    Source: common practice (the period of question and answer).

    >>> from stavewright.composing.melody import compose_melody
    >>> span = {"low": Pitch.parse("C4"), "high": Pitch.parse("A5")}
    >>> made = compose_melody(Random(2), key=Key.parse("G"), time=TimeSignature(3, 4), bars=8, **span)
    >>> stave = made.score.staves[0]
    >>> start = replace(made.score, staves=(replace(stave, bars=stave.bars[:2]),))
    >>> whole = finish_melody(start, Random(1), key=Key.parse("G"), **span)
    >>> len(whole.staves[0].bars), list(whole.notes())[-1].pitch.step
    (8, 'G')
    """
    stave = opening.staves[0]
    time = stave.time
    first = int(opening.anacrusis)
    pickup = _row(opening, 0) if first else ()
    rows = tuple(_row(opening, index) for index in range(first, first + GIVEN))
    if time is None or any(ticks_of(row) != time.ticks for row in rows):
        return None
    pitches = tuple(_sounding(opening))
    for _ in range(_TRIES):
        tonic = rng.choice(_tonics(pitches, key, low, high))
        steps = tuple(pitch.diatonic - tonic for pitch in pitches)
        given = _Opening(pickup, rows, pitches, steps, key, tonic, time)
        again = 0 if way == "apart" else rng.choice((1, 2))
        if (made := _try(given, rng, low.diatonic - tonic, high.diatonic - tonic, again)) is not None:
            whole = write(made[0], made[1], key, stave.clef)
            begun = [replace(bar, line="single") for bar in stave.bars[: first + GIVEN]]
            bars = (*begun, *whole.staves[0].bars[first + GIVEN :])
            return replace(opening, staves=(replace(whole.staves[0], bars=bars, fifths=stave.fifths),))
    return None


def _row(opening: Score, index: int) -> Cell:
    """The rhythm of a bar; nothing where it holds other than notes one by one and rests."""
    events = opening.staves[0].bars[index].events
    if any(not isinstance(event, Note | Rest) for event in events):
        return ()
    return tuple(Value(e.duration, isinstance(e, Rest), isinstance(e, Note) and e.tie) for e in events if e.ticks)


def _sounding(opening: Score) -> list[Pitch]:
    found: list[Pitch] = []
    held = False
    for note in opening.notes():
        if not held:
            found.append(note.pitch)
        held = note.tie
    return found


def _tonics(pitches: Sequence[Pitch], key: Key, low: Pitch, high: Pitch) -> list[int]:
    """Where the tune may come home: the tonics in range nearest to a third under the middle of the opening."""
    index = STEPS.index(key.tonic.step)
    middle = sum(pitch.diatonic for pitch in pitches) / len(pitches) - 2
    places = [place for place in range(low.diatonic, high.diatonic + 1) if place % 7 == index]
    places.sort(key=lambda place: abs(place - middle))
    return [place for place in places if abs(place - middle) <= 4] or places[:1]


def _rhythm(given: _Opening, again: int, slots: Sequence[Slot], rng: Random) -> tuple[Cell, ...] | None:
    """The rhythm of all eight bars without pick-ups: those given come back, the middle and the end are held."""
    first, second = given.rows
    moving = second if len(second) > 1 else first
    if len(moving) < 2:
        return None
    end = given.time.ticks - ticks_of(given.pickup)
    half = _held_from(given.time, slots, rng.choice((first, second)), end)
    close = _long(given.time, slots, 0, end)
    approach = first if again == GIVEN and len(first) > 1 else moving
    if not half or not close:
        return None
    return (first, second, rng.choice((first, moving)), half, first, second, approach, close)


def _long(time: TimeSignature, slots: Sequence[Slot], start: int, end: int) -> Cell:
    """One sounding note from a tick of the bar to another, tied where a beat or group must be seen."""
    breaks = tuple(slot.start - start for slot in slots if start < slot.start < end)
    must: tuple[int, ...] = ()
    if time.kind == "irregular":
        must = tuple(slot.start - start for slot in slots if slot.heavy and start < slot.start < end)[-1:]
    elif time.kind == "compound" and all(end != slot.start + slot.length for slot in slots):
        must = breaks[-1:]
    return long_cell(end - start, breaks, must, ALL_VALUES, 1)


def _held_from(time: TimeSignature, slots: Sequence[Slot], like: Cell, end: int) -> Cell:
    """A bar that moves as another does and stops on a long note from its last heavy beat, or its second, to `end`."""
    heavy = [slot.start for slot in slots if slot.heavy and slot.start]
    cut = heavy[-1] if heavy else slots[-1].start if len(slots) == 2 else slots[1].start if len(slots) > 1 else 0
    moving = before(like, cut)
    if moving is None or any(value.duration.ticks > end - cut for value in moving):
        return _long(time, slots, 0, end)
    return (*(value._replace(tie=False) for value in moving), *_long(time, slots, cut, end))


def _chords(again: int, rng: Random) -> dict[int, tuple[int, ...]]:
    """The chords that bars 3 to 8 imply."""
    return {
        2: (rng.choice((SUBDOMINANT, SUBMEDIANT, TONIC, SUPERTONIC, DOMINANT)),),
        _HALF: rng.choice(((DOMINANT,), (TONIC, DOMINANT), (SUPERTONIC, DOMINANT), (SUBDOMINANT, DOMINANT))),
        4: (rng.choice((TONIC, SUBMEDIANT, SUBDOMINANT)) if not again else TONIC,),
        5: (rng.choice((SUBDOMINANT, TONIC, SUPERTONIC, SUBMEDIANT, DOMINANT)),),
        _APPROACH: rng.choice(((SUBDOMINANT, DOMINANT), (SUPERTONIC, DOMINANT), (TONIC, DOMINANT), (DOMINANT,))),
        _CLOSE: (TONIC,),
    }


def _places(
    rows: Sequence[Cell], pickup: Cell, slots: Sequence[Slot], chords: dict[int, tuple[int, ...]]
) -> list[list[Place]]:
    """The place of every sounding note, bar by bar; a pick-up is told with the bar it leads to."""
    heavy = {slot.start for slot in slots if slot.heavy}
    beats = {slot.start for slot in slots}
    turn = max(heavy) or slots[-1].start
    found: list[list[Place]] = []
    for bar, row in enumerate(rows):
        roots = chords.get(bar, (TONIC,))
        onsets: list[int] = []
        led = pickup if bar in (0, _HALF + 1) else ()
        tick, tied = -ticks_of(led), False
        for value in (*led, *row):
            if not tied and not value.rest:
                onsets.append(tick)
            tied = value.tie
            tick += value.duration.ticks
        made: list[Place] = []
        for number, start in enumerate(onsets):
            last = number == len(onsets) - 1
            only: frozenset[int] | None = None
            if bar == _HALF and last:
                only = frozenset({-3, -1, 1, 4, 6})
            elif bar == _APPROACH and last:
                only = frozenset({1, -1})
            elif bar == _CLOSE:
                only = frozenset({0})
            root = roots[-1] if len(roots) > 1 and (start >= turn or (last and only is not None)) else roots[0]
            weight = 2 if start in heavy or (bar == _HALF and last) else 1 if start in beats else 0
            made.append(Place(bar, root, weight, only, bar == _HALF + 1 and number == 0))
        found.append(made)
    return found


def _try(given: _Opening, rng: Random, low: int, high: int, again: int) -> tuple[Rhythm, tuple[Pitch, ...]] | None:
    slots = slots_of(given.time)
    rows = _rhythm(given, again, slots, rng)
    if rows is None:
        return None
    places = _places(rows, given.pickup, slots, _chords(again, rng))
    spot = _climax(given, places, high, again, rng)
    if spot is None:
        return None
    bar, number, peak = spot
    places = [[_under_peak(place, peak) for place in row] for row in places]
    places[bar][number] = replace(places[bar][number], only=frozenset({peak}))
    frame = Frame(max(low, min(-4, *given.steps)), peak, given.key.is_minor)
    line = _line(given, places, frame, spot, again, rng)
    if line is None:
        return None
    flat = [place for row in places for place in row]
    breaths = frozenset(index for index, place in enumerate(flat) if place.breath)
    pitches = list(spell(given.key, given.tonic, line, [place.root for place in flat], breaths))
    count = len(given.pitches)
    pitches[:count] = given.pitches
    begin, back = sum(len(row) for row in places[: _HALF + 1]), sum(len(row) for row in places[:again])
    pitches[begin : begin + back] = given.pitches[:back]
    if not singable(pitches[count - 1 :], frozenset(one - count + 1 for one in breaths if one >= count)):
        return None
    bars = (*rows[:_HALF], (*rows[_HALF], *given.pickup), *rows[_HALF + 1 :])
    led = (given.pickup, *bars) if given.pickup else bars
    return Rhythm(given.time, led, ticks_of(given.pickup)), tuple(pitches)


def _under_peak(place: Place, peak: int) -> Place:
    return place if place.only is None else replace(place, only=frozenset(step for step in place.only if step < peak))


def _climax(
    given: _Opening, places: list[list[Place]], high: int, again: int, rng: Random
) -> tuple[int, int, int] | None:
    """Where the one highest note stands, and its step: above all that is given, a note of the chord there."""
    top = max(given.steps)
    found = [
        (bar, number, peak)
        for bar in _CLIMAX_BARS[again]
        for number, place in enumerate(places[bar])
        for peak in range(max(1, top + 1), min(high, top + 4) + 1)
        if place.only is None and not place.breath and place.weight and peak % 7 in TRIAD[place.root]
        if peak % 7 != LEADING and peak <= 2 * sum(len(row) for row in places[bar:]) + 2
    ]
    return rng.choice(found) if found else None


def _line(
    given: _Opening, places: list[list[Place]], frame: Frame, spot: tuple[int, int, int], again: int, rng: Random
) -> Steps | None:
    """The steps of the whole melody: those given, those that come back, and new ones between them."""
    flat = [place for row in places for place in row]
    starts = [sum(len(row) for row in places[:bar]) for bar in range(BARS + 1)]
    back, begun = starts[again], starts[_HALF + 1]
    for index, step in enumerate(given.steps[:back]):
        flat[begun + index] = replace(flat[begun + index], only=frozenset({step}))
    bounds = _bounds(flat, frame)
    top = starts[spot[0]] + spot[1]
    aims = _aims(len(flat), top, given.steps[-1], spot[2], len(given.steps))
    line: Steps = list(given.steps)
    while len(line) < len(flat):
        begin = len(line)
        if back and begin == begun:
            line += given.steps[:back]
            continue
        bar = next(one for one in range(BARS) if starts[one] <= begin < starts[one + 1])
        end = starts[bar + 1]
        ahead = end + (end < len(flat) and not (back and end == begun))
        before_it = replace(flat[begin - 1], root=_under(line[-1], flat[begin - 1].root))
        made = extend(line, flat[begin:ahead], before_it, frame, bounds[begin:ahead], aims[begin:ahead], rng)
        if made is None:
            return None
        line += made[: end - begin]
    return line


def _under(step: int, root: int) -> int:
    """The chord under a given note: the one planned if the note is in it, else one that holds it."""
    return next(one for one in (root, TONIC, DOMINANT, SUBDOMINANT) if step % 7 in TRIAD[one])


def _bounds(places: Sequence[Place], frame: Frame) -> list[Bounds]:
    """The lowest and highest step of each note, from which those that are fixed later can still be reached."""
    found: list[Bounds] = []
    low, high = frame.low, frame.peak - 1
    for place in reversed(places):
        if place.only is not None:
            low, high = min(place.only), max(place.only)
            found.append((low, high))
            low, high = low - 2, high + 2
        else:
            found.append((max(low, frame.low), min(high, frame.peak - 1)))
        low, high = low - 2, high + 2
        if place.breath:
            low, high = frame.low, frame.peak - 1
    return found[::-1]


def _aims(count: int, top: int, start: int, peak: int, given: int) -> list[float]:
    """The contour: from the last note given up to the climax, and down to the tonic."""
    rise = [start + (peak - 1 - start) * max(0, index - given) / max(1, top - given) for index in range(top)]
    fall = count - top
    return rise + [peak - peak * (index / max(1, fall - 1)) ** 0.8 for index in range(fall)]
