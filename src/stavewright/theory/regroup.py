"""The same sound written otherwise: dots or ties, doubled or halved values, simple or compound time."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from stavewright.theory.beaming import Event
from stavewright.theory.duration import TICKS, VALUES, Duration, Tuplet, of_ticks, total_ticks
from stavewright.theory.errors import StavewrightError
from stavewright.theory.metre import TABLE, TimeSignature

TRIPLET: Final = Tuplet(3, 2)
DUPLET: Final = Tuplet(2, 3)
QUADRUPLET: Final = Tuplet(4, 6)
SEXTUPLET: Final = Tuplet(6, 4)


class RegroupError(StavewrightError):
    """A sound that the other way of writing cannot show."""


def as_ties(duration: Duration) -> tuple[Duration, ...]:
    """A dotted value as plain values tied together, longest first.

    Raises: RegroupError when there is no dot.
    Source: Gehrkens, Music Notation and Terminology (1914) §49-51.

    >>> [value.text for value in as_ties(Duration("minim", 2))]
    ['minim', 'crotchet', 'quaver']
    """
    if not duration.dots:
        raise RegroupError(f"a {duration.text} has no dot to write as a tie")
    place = VALUES.index(duration.type)
    if place + duration.dots >= len(VALUES):
        raise RegroupError(f"the last dot of a {duration.text} is shorter than any value")
    return tuple(Duration(VALUES[place + dot], 0, duration.tuplet) for dot in range(duration.dots + 1))


def as_one(tied: Sequence[Duration], time: TimeSignature, start: int = 0, *, max_dots: int = 2) -> Duration | None:
    """Tied values as one value, dotted if need be, or None when the metre or the notation forbids it.

    ``start``: tick of the first value from its bar's start. Forbidden: over the bar line, across the middle of a bar
    of four beats, across a dotted beat unless on beats, off the beat over the next one unless it is a plain syncopation
    (quaver, crotchet, quaver), and lengths that no single value has.
    Source: The Open University, An introduction to music theory (2016) §3.9; the middle, common practice.

    >>> tied = [Duration("crotchet"), Duration("quaver")]
    >>> as_one(tied, TimeSignature(4, 4)).text
    'dotted crotchet'
    >>> as_one(tied, TimeSignature(4, 4), Duration("crotchet").ticks) is None
    True
    """
    length = total_ticks(list(tied))
    if any(value.tuplet is not None for value in tied) or not _may_hold(start, length, time):
        return None
    return of_ticks(length, max_dots=max_dots)


def _may_hold(start: int, length: int, time: TimeSignature) -> bool:
    end = start + length
    if start < 0 or end > time.ticks:
        return False
    if length == time.ticks:
        return True
    if time.count == 4 and start and time.middle is not None and start < time.middle < end:
        return False
    edges = {begin for begin, _ in time.spans()} | {time.ticks}
    if not any(start < edge < end for edge in edges) or (start in edges and end in edges):
        return True
    beat = time.beat.ticks
    return time.kind == "simple" and (start in edges or (length == beat and start % beat == beat // 2))


def in_bar(start: int, length: int, time: TimeSignature) -> tuple[Duration, ...]:
    """A sound of this length inside one bar, as the fewest values, tied, that keep its beats in sight.

    ``start`` and ``length``: ticks. Raises: RegroupError when it leaves the bar or is too fine to write.

    >>> quaver = Duration("quaver").ticks
    >>> [value.text for value in in_bar(2 * quaver, 3 * quaver, TimeSignature(4, 4))]
    ['crotchet', 'quaver']
    >>> [value.text for value in in_bar(quaver, 4 * quaver, TimeSignature(6, 8))]
    ['crotchet', 'crotchet']
    """
    if length <= 0 or start < 0 or start + length > time.ticks:
        raise RegroupError(f"a sound of {length} ticks at {start} is not inside a {time.text} bar of {time.ticks}")
    row: list[Duration] = []
    while length:
        most = min(length, _to_next_beat(start, time)) if not _may_hold(start, length, time) else length
        step = next((size for size in _sizes() if size <= most and _may_hold(start, size, time)), None)
        if step is None:
            raise RegroupError(f"{length} ticks at {start} are finer than any value")
        value = of_ticks(step, max_dots=1)
        if value is not None:
            row.append(value)
        start, length = start + step, length - step
    return tuple(row)


def _to_next_beat(start: int, time: TimeSignature) -> int:
    """Ticks to the next beat when the sound begins off the beat; the rest of the bar when it begins on one."""
    for begin, size in time.spans():
        if begin < start < begin + size:
            return begin + size - start
    return time.ticks - start


def _sizes() -> list[int]:
    plain = list(TICKS.values())
    return sorted([*plain, *(ticks * 3 // 2 for ticks in plain)], reverse=True)


def over_bars(start: int, length: int, time: TimeSignature) -> tuple[tuple[Duration, ...], ...]:
    """A sound that may run over bar lines: its tied values bar by bar.

    >>> [[value.text for value in bar] for bar in over_bars(TICKS["minim"], TICKS["minim"], TimeSignature(3, 4))]
    [['crotchet'], ['crotchet']]
    """
    rows = []
    while length > 0:
        part = min(length, time.ticks - start)
        rows.append(in_bar(start, part, time))
        start, length = 0, length - part
    return tuple(rows)


def rescaled(events: Iterable[Event], time: TimeSignature, doublings: int) -> tuple[tuple[Event, ...], TimeSignature]:
    """The rhythm in values twice as long (1), half as long (-1), with the signature that goes with it.

    Raises: RegroupError when that signature is not known, DurationError when a value has no double or half.

    >>> events, time = rescaled([(Duration("crotchet", 1), False)], TimeSignature(3, 4), 1)
    >>> (events[0][0].text, time.text)
    ('dotted minim', '3/2')
    """
    unit = time.unit >> doublings if doublings > 0 else time.unit << -doublings
    if (time.beats, unit) not in TABLE:
        raise RegroupError(f"{time.text} with {doublings} doublings would be {time.beats}/{unit}, which is not in use")
    scaled = tuple((duration.scaled(doublings), rest) for duration, rest in events)
    return scaled, TimeSignature(time.beats, unit)


def other_kind(time: TimeSignature) -> TimeSignature:
    """The compound twin of a simple metre and the simple twin of a compound one: as many beats, dotted or not.

    Raises: RegroupError for an irregular metre, or when the twin is not known (3/16).

    >>> other_kind(TimeSignature(2, 4)).text, other_kind(TimeSignature(12, 8)).text
    ('6/8', '4/4')
    """
    if time.kind == "simple":
        figures = (time.beats * 3, time.unit * 2)
    elif time.kind == "compound":
        figures = (time.beats // 3, time.unit // 2)
    else:
        raise RegroupError(f"{time.text} is irregular: it has no twin")
    if figures not in TABLE:
        raise RegroupError(f"the twin of {time.text} would be {figures[0]}/{figures[1]}, which is not in use")
    return TimeSignature(*figures)


@dataclass(frozen=True, slots=True)
class _Beat:
    events: tuple[Event, ...]
    ticks: int


def same_sound(events: Sequence[Event], time: TimeSignature) -> tuple[tuple[Event, ...], TimeSignature]:
    """The same sound in the twin metre, beat for beat (crotchet = dotted crotchet).

    Whole beats gain or lose a dot; thirds become triplets or plain thirds; halves become duplets or plain halves;
    four equal quarters a quadruplet. Raises: RegroupError when a note crosses a beat it does not fill,
    or a part of a beat has no writing in the twin metre.

    >>> events = [(Duration("quaver", tuplet=Tuplet(3, 2)), False)] * 3 + [(Duration("crotchet"), False)]
    >>> written, time = same_sound(events, TimeSignature(2, 4))
    >>> [duration.text for duration, _ in written], time.text
    (['quaver', 'quaver', 'quaver', 'dotted crotchet'], '6/8')
    """
    twin = other_kind(time)
    written: list[Event] = []
    for beat in _by_beats(events, time.beat.ticks):
        written += _rewritten(beat, time, twin)
    return tuple(written), twin


def _by_beats(events: Sequence[Event], beat: int) -> Iterator[_Beat]:
    held: list[Event] = []
    for duration, rest in events:
        held.append((duration, rest))
        ticks = total_ticks([value for value, _ in held])
        if ticks % beat == 0:
            yield _Beat(tuple(held), ticks)
            held = []
        elif ticks > beat:
            raise RegroupError(f"a {duration.text} crosses a beat: split and tie it first")
    if held:
        raise RegroupError("the last beat is not full")


def _rewritten(beat: _Beat, time: TimeSignature, twin: TimeSignature) -> list[Event]:
    to_compound = time.kind == "simple"
    for tuplet in (None, DUPLET) if to_compound else (None, TRIPLET):
        row: list[Event] = []
        for duration, rest in beat.events:
            sound = duration.ticks * twin.beat.ticks // time.beat.ticks
            value = of_ticks(sound if tuplet is None else sound * tuplet.actual // tuplet.normal, max_dots=1)
            dots_may_show = value is not None and (value.dots == 0 or _dot_shows(value, beat, twin, tuplet))
            if value is None or not dots_may_show or sound * time.beat.ticks != duration.ticks * twin.beat.ticks:
                break
            row.append((Duration(value.type, value.dots, tuplet), rest))
        else:
            return _named(row)
    names = ", ".join(duration.text for duration, _ in beat.events)
    raise RegroupError(f"a beat of {names} cannot be written in {twin.text}")


def _named(row: list[Event]) -> list[Event]:
    """Four equal notes in duplet time are a quadruplet, six in triplet time a sextuplet."""
    if len(set(row)) == 1:
        names: dict[tuple[int, Tuplet | None], Tuplet] = {(4, DUPLET): QUADRUPLET, (6, TRIPLET): SEXTUPLET}
        group = names.get((len(row), row[0][0].tuplet))
        if group is not None:
            return [(Duration(duration.type, 0, group), rest) for duration, rest in row]
    return row


def _dot_shows(value: Duration, beat: _Beat, twin: TimeSignature, tuplet: Tuplet | None) -> bool:
    """Dots stand for whole dotted beats, for three quarters of a beat, and inside groups of thirds."""
    if tuplet is not None or len(beat.events) == 1:
        return tuplet != DUPLET or value.ticks < twin.beat.ticks
    if twin.kind == "simple":
        return True
    return any(duration.tuplet == TRIPLET for duration, _ in beat.events)
