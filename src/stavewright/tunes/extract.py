"""An extract cut out of a line of music: only what qualifies, with the key its notes prove."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Final

from stavewright.score.event import Event, Note, Rest
from stavewright.score.stave import Bar, Direction
from stavewright.theory.duration import Duration
from stavewright.theory.key import Key
from stavewright.theory.key_proof import prove_key
from stavewright.theory.metre import TimeSignature
from stavewright.theory.pitch import Pitch
from stavewright.tunes.tune import LineBar
from stavewright.tunes.window import Window

__all__ = ["Line", "Passage", "cut"]

_FEWEST, _MOST = 1.5, 10.0
_WIDEST: Final = 11
_FEWEST_PLACES: Final = 4
_SHORTEST_TAILS: Final = 3
_KEPT: Final = ("dynamic", "crescendo", "diminuendo", "text")
_TUPLETS: Final = (2, 3)


@dataclass(frozen=True, slots=True)
class Passage:
    """A passage that qualifies, as it stands in its source.

    ``bars`` are the events bar by bar, the pick-up first when ``pick_up`` (ticks) is not 0; ``key`` is what the notes
    prove, or None.
    """

    bars: tuple[tuple[Event, ...], ...]
    directions: tuple[tuple[Direction, ...], ...]
    time: TimeSignature
    fifths: int
    pick_up: int
    key: Key | None
    low: Pitch
    high: Pitch

    @property
    def pitches(self) -> tuple[Pitch, ...]:
        """The pitches in order."""
        return tuple(event.pitch for bar in self.bars for event in bar if isinstance(event, Note))


class Line:
    """A line of music with what is asked of its bars again and again worked out once."""

    def __init__(self, bars: Sequence[LineBar]) -> None:
        self.bars = bars
        self._plain: dict[int, bool] = {}

    def plain(self, index: int) -> bool:
        """Whether a bar was understood and is one voice of notes and rests that an extract may hold, with a note."""
        known = self._plain.get(index)
        if known is None:
            bar = self.bars[index].bar
            known = self._plain[index] = bar is not None and len(bar.voices) == 1 and _all_plain(bar.events)
        return known


def cut(line: Line, window: Window, *, proved: bool = False) -> Passage | None:
    """The passage in a window of a line, or None when it does not qualify.

    It qualifies when it is one voice of single notes in one clef, signature and time, its bars are full (the last one
    short by the pick-up), it holds 1.5 to 10 notes a bar within a 12th, nothing shorter than a demisemiquaver, no
    grace notes, begins and ends on a note, and no tie or tuplet is cut through. ``proved`` asks for a proved key too.
    """
    first, end = window.first, window.first + window.bars
    if end > len(line.bars) or not all(line.plain(index) for index in range(first, end)):
        return None
    inside = line.bars[first:end]
    head = inside[0]
    if head.time is None or head.fifths is None or head.clef is None:
        return None
    closing = _closing_bar(inside[-1], head.time, window.pick_up)
    if not closing or not isinstance(closing[-1], Note) or closing[-1].tie:
        return None
    if proved and closing[-1].pitch.name.fifths - head.fifths not in _TONICS:
        return None
    cells = _whole_bars(inside, head, closing)
    if cells is None:
        return None
    rows = cells
    if window.pick_up:
        before = _pick_up(line, window, head)
        if before is None:
            return None
        rows = [tuple(before), *cells]
    if not _sound(rows, window, line):
        return None
    pitches = [event.pitch for row in rows for event in row if isinstance(event, Note)]
    low, high = min(pitches, key=lambda p: p.diatonic), max(pitches, key=lambda p: p.diatonic)
    if high.diatonic - low.diatonic > _WIDEST or len({pitch.diatonic for pitch in pitches}) < _FEWEST_PLACES:
        return None
    key = prove_key(pitches, head.fifths).key
    if proved and key is None:
        return None
    marks = [_kept_directions(read.bar, row) for read, row in zip(inside, cells, strict=True) if read.bar is not None]
    return Passage(
        bars=tuple(rows),
        directions=tuple([(), *marks] if window.pick_up else marks),
        time=head.time,
        fifths=head.fifths,
        pick_up=window.pick_up,
        key=key,
        low=low,
        high=high,
    )


_TONICS: Final = (0, 3)
"""Where a major and a minor tonic lie from the signature's major, on the line of fifths."""


def _closing_bar(read: LineBar, time: TimeSignature, pick_up: int) -> tuple[Event, ...] | None:
    """The events of the last bar, without the next pick-up if they fill it."""
    bar = read.bar
    if bar is None:
        return None
    if not pick_up:
        return None if bar.free else bar.events
    if not bar.free:
        return _without_tail(bar.events, pick_up)
    return bar.events if sum([event.ticks for event in bar.events]) == time.ticks - pick_up else None


def _whole_bars(inside: Sequence[LineBar], head: LineBar, closing: tuple[Event, ...]) -> list[tuple[Event, ...]] | None:
    """The events of each bar, all but the last one full and without a bar line of another kind."""
    rows: list[tuple[Event, ...]] = []
    for read in inside:
        bar = read.bar
        if bar is None or (read.time, read.fifths, read.clef) != (head.time, head.fifths, head.clef):
            return None
        if read is not inside[-1] and (bar.free or bar.line != "single"):
            return None
        rows.append(bar.events)
    rows[-1] = closing
    return rows


def _without_tail(events: tuple[Event, ...], ticks: int) -> tuple[Event, ...] | None:
    left = ticks
    for place in range(len(events) - 1, -1, -1):
        left -= events[place].ticks
        if left <= 0:
            return events[:place] if left == 0 else None
    return None


def _pick_up(line: Line, window: Window, head: LineBar) -> list[Event] | None:
    """The last so many ticks of the bar before the window."""
    if window.first == 0:
        return None
    before = line.bars[window.first - 1]
    if before.bar is None or len(before.bar.voices) != 1:
        return None
    if (before.time, before.fifths, before.clef) != (head.time, head.fifths, head.clef):
        return None
    found: list[Event] = []
    left = window.pick_up
    for event in reversed(before.bar.events):
        if left == 0:
            break
        found.insert(0, event)
        left -= event.ticks
    return found if left == 0 and _all_plain(tuple(found)) else None


def _sound(rows: Sequence[tuple[Event, ...]], window: Window, line: Line) -> bool:
    first = rows[0][0]
    if not isinstance(first, Note) or not all(_has_note(row) for row in (rows[0], rows[-1])):
        return False
    events = [event for row in rows for event in row]
    notes = sum([isinstance(event, Note) for event in events])
    if not _FEWEST <= notes / window.bars <= _MOST:
        return False
    silence = sum([event.ticks for event in events if isinstance(event, Rest)])
    if silence and 4 * silence > sum([event.ticks for event in events]):
        return False
    return not _tied_into(line.bars, window, first) and all(_whole_tuplets(row) for row in (rows[0], rows[-1]))


def _has_note(row: tuple[Event, ...]) -> bool:
    return any(isinstance(event, Note) for event in row)


def _all_plain(events: tuple[Event, ...]) -> bool:
    sounding = False
    for event in events:
        if isinstance(event, Note):
            if event.grace is not None:
                return False
            sounding = True
        elif not isinstance(event, Rest) or event.whole_bar:
            return False
        if not _usable(event.duration):
            return False
    return sounding


@lru_cache(maxsize=1024)
def _usable(duration: Duration) -> bool:
    if duration.type == "breve" or duration.tails > _SHORTEST_TAILS:
        return False
    return duration.tuplet is None or duration.tuplet.actual in _TUPLETS


def _tied_into(line: Sequence[LineBar], window: Window, first: Event) -> bool:
    """Whether the first note is the end of a tie from before the passage."""
    place = window.first - 1
    if place < 0:
        return False
    bar = line[place].bar
    if bar is None:
        return False
    events = bar.events
    if window.pick_up:
        shorter = _without_tail(events, window.pick_up)
        events = () if shorter is None else shorter
    before = events[-1] if events else None
    return isinstance(before, Note) and before.tie and isinstance(first, Note) and before.pitch == first.pitch


def _whole_tuplets(row: tuple[Event, ...]) -> bool:
    """Whether the tuplets of a cut bar are complete: each run of them has a length that a plain value has."""
    length = 0
    for event in (*row, None):
        tuplet = None if event is None else event.duration.tuplet
        if event is not None and tuplet is not None:
            length += event.ticks
        elif length:
            if length % 10_080:
                return False
            length = 0
    return True


def _kept_directions(bar: Bar, row: Sequence[Event]) -> tuple[Direction, ...]:
    """The dynamics and words that stand wholly in the bar as it was cut."""
    kept: list[Direction] = []
    for direction in bar.directions:
        if direction.kind not in _KEPT or direction.at >= len(row) or direction.until_bar:
            continue
        until = direction.until
        if until is not None and min(until, len(row) - 1) <= direction.at:
            continue  # a hairpin within one note has nothing to be drawn between
        kept.append(direction if until is None else replace(direction, until=min(until, len(row) - 1)))
    return tuple(kept)
