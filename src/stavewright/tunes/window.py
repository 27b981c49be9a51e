"""Where in a line of music an extract may begin and end: whole phrases, with the pick-up that belongs to them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from stavewright.score.event import Chord, Event, Gap, Note, Rest
from stavewright.score.stave import Bar
from stavewright.tunes.tune import LineBar, TuneBar

__all__ = ["LENGTHS", "Window", "any_windows", "phrase_windows", "strain_windows"]

LENGTHS: Final = (4, 8)
"""Bars in an extract, the pick-up not counted."""


@dataclass(frozen=True, slots=True)
class Window:
    """So many bars from the bar at index ``first``, and the ticks of pick-up before them (0 for none)."""

    first: int
    bars: int
    pick_up: int = 0


def sounding_length(bar: Bar) -> int:
    """Ticks of the first voice of a short bar, without the gaps it may begin with; more than any for a full one."""
    events = bar.events
    if not bar.free and not (events and isinstance(events[0], Gap)):
        return 1 << 62
    start = 0
    while start < len(events) and isinstance(events[start], Gap):
        start += 1
    return sum([event.ticks for event in events[start:]])


def strain_windows(bars: Sequence[TuneBar]) -> Iterator[Window]:
    """Windows of a folk tune: from the beginning of a strain, or 4 or 8 bars on, and never into the next strain.

    A tune of strains with a pick-up is cut with it: an extract takes the pick-up before its first bar and leaves the
    one of the next phrase.
    """
    pick_up = place = 0
    for index, read in enumerate(bars):
        length = sounding_length(read.bar) if read.bar is not None else read.time.ticks
        partial = length < read.time.ticks
        if read.strain:
            place = 0
            pick_up = length if partial and _begins(bars, index) else 0
            if pick_up:
                continue
        if place % 4 == 0:
            for count in LENGTHS:
                if place % count == 0 and _one_strain(bars, index, count):
                    yield Window(index, count, pick_up)
        place += 1


def _begins(bars: Sequence[TuneBar], index: int) -> bool:
    """Whether a short bar at the head of a strain is a pick-up to the next bar, not a strain of its own."""
    return index + 1 < len(bars) and not bars[index + 1].strain


def _one_strain(bars: Sequence[TuneBar], first: int, count: int) -> bool:
    last = first + count
    if last > len(bars):
        return False
    inside = bars[first:last]
    return not any(read.strain for read in inside[1:]) and not any(
        read.bar is not None and (read.bar.ending or 0) > 1 for read in inside
    )


def phrase_windows(bars: Sequence[LineBar]) -> Iterator[Window]:
    """Windows of a voice or part: from the beginning of a phrase to the end of one.

    Where the line has fermatas they end its phrases (chorales); elsewhere a phrase ends on a note at least a beat long
    that a rest or a bar line follows, and begins after a rest or such a note.
    """
    if not bars:
        return
    first = bars[0]
    pick_up = 0
    if first.bar is not None and first.time is not None:
        length = sounding_length(first.bar)
        pick_up = length if 0 < length < first.time.ticks else 0
    marked = any(
        isinstance(event, Note | Chord) and "fermata" in event.marks
        for read in bars
        if read.bar is not None
        for event in read.bar.events
    )
    for index in range(1 if pick_up else 0, len(bars)):
        if _breathes_before(bars, index, pick_up, marked):
            for count in LENGTHS:
                end = index + count - 1
                if end < len(bars) and _closes(bars[end], pick_up, marked):
                    yield Window(index, count, pick_up)


def any_windows(bars: Sequence[LineBar]) -> Iterator[Window]:
    """Every window from a bar line to a note at least a beat long, for music that shows no phrases of its own."""
    for index in range(len(bars)):
        for count in LENGTHS:
            end = index + count - 1
            if end < len(bars) and _closes(bars[end], 0, marked=False):
                yield Window(index, count)


def _breathes_before(bars: Sequence[LineBar], index: int, pick_up: int, marked: bool) -> bool:
    if index == 0 or (index == 1 and pick_up):
        return True
    before = _event_before(bars[index - 1], pick_up)
    if before is None:
        return bool(pick_up) and index > 1 and _ends_phrase(_event_before(bars[index - 2], 0), bars[index - 2], marked)
    return _ends_phrase(before, bars[index - 1], marked)


def _ends_phrase(event: Event | None, read: LineBar, marked: bool) -> bool:
    if isinstance(event, Rest):
        return not marked
    if not isinstance(event, Note) or event.tie:
        return False
    if marked:
        return "fermata" in event.marks
    return read.time is not None and event.ticks >= read.time.beat.ticks


def _closes(read: LineBar, pick_up: int, marked: bool) -> bool:
    """Whether an extract may end in a bar: on a note that ends a phrase, and on a strong beat if no fermata marks it.

    It is the last note before the next pick-up, or the last one of a bar that is short by it.
    """
    if read.bar is None or read.time is None:
        return False
    short = sounding_length(read.bar) < read.time.ticks
    last = _event_before(read, 0 if short else pick_up)
    if not isinstance(last, Note) or not _ends_phrase(last, read, marked):
        return False
    length = sum(event.ticks for event in read.bar.events)
    start = length - last.ticks - (0 if short else pick_up)
    return marked or start in (0, read.time.middle)


def _event_before(read: LineBar, pick_up: int) -> Event | None:
    """The event that ends where the last `pick_up` ticks of a bar begin; None when none does."""
    if read.bar is None or read.time is None:
        return None
    left = pick_up
    for event in reversed(read.bar.events):
        if left == 0 and event.ticks:
            return event
        left -= event.ticks
        if left < 0:
            return None
    return None
