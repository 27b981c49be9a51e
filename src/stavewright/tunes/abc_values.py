"""Bars of an ABC tune turned into bars of the score: written values, ties and slurs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import lru_cache

from stavewright.score.event import Chord, Event, Note, Rest
from stavewright.score.stave import Bar
from stavewright.theory.duration import Duration, Tuplet, of_ticks
from stavewright.theory.metre import TimeSignature
from stavewright.theory.pitch import Pitch
from stavewright.tunes.tune import TuneBar

__all__ = ["Item", "Measure", "bars_of"]


@dataclass(slots=True)
class Item:
    """A note, chord or rest while the tune is read. ``ticks`` is its written length, outside any tuplet."""

    pitches: tuple[Pitch, ...]
    ticks: int
    tuplet: tuple[int, int] | None = None
    marks: tuple[str, ...] = ()
    tie: bool = False
    grace: str | None = None
    slurs_open: int = 0
    slurs_close: int = 0
    slur: str | None = None


@dataclass(slots=True)
class Measure:
    """A bar while the tune is read."""

    time: TimeSignature
    fifths: int
    strain: bool = False
    items: list[Item] = field(default_factory=list)
    line: str = "single"
    repeat_start: bool = False
    ending: int | None = None
    reason: str = ""


def bars_of(measures: Sequence[Measure]) -> tuple[TuneBar, ...]:
    """The bars of a tune, ties and slurs resolved; a bar with a length that no note has holds the reason."""
    _ties(measures)
    _slurs(measures)
    return tuple(_bar(measure) for measure in measures)


def _bar(measure: Measure) -> TuneBar:
    events: list[Event] = []
    reason = measure.reason
    for item in measure.items:
        duration = _value(item.ticks, item.tuplet)
        if duration is None:
            reason = reason or "a length that no single note has"
            break
        events.append(_event(item, duration))
    if reason:
        return TuneBar(None, measure.fifths, measure.time, measure.strain, reason)
    free = sum([event.ticks for event in events]) != measure.time.ticks
    bar = Bar((tuple(events),), measure.line, measure.repeat_start, None, None, None, (), free, measure.ending)
    return TuneBar(bar, measure.fifths, measure.time, measure.strain)


@lru_cache(maxsize=2048)
def _value(ticks: int, tuplet: tuple[int, int] | None) -> Duration | None:
    plain = of_ticks(ticks)
    if plain is None or tuplet is None:
        return plain
    return Duration(plain.type, plain.dots, Tuplet(*tuplet))


def _event(item: Item, duration: Duration) -> Event:
    if not item.pitches:
        return Rest(duration)
    if len(item.pitches) == 1:
        return Note(item.pitches[0], duration, tie=item.tie, marks=item.marks, grace=item.grace, slur=item.slur)
    return Chord(item.pitches, duration, tie=item.tie, marks=item.marks, slur=item.slur)


def _items(measures: Sequence[Measure]) -> Iterator[Item]:
    return (item for measure in measures for item in measure.items if item.grace is None)


def _ties(measures: Sequence[Measure]) -> None:
    """A dash ties a note to the next only if that has the same pitch; otherwise it is taken for a short slur."""
    before: Item | None = None
    for item in _items(measures):
        if before is not None and before.tie and not set(before.pitches) & set(item.pitches):
            before.tie = False
        before = item
    if before is not None:
        before.tie = False


def _slurs(measures: Sequence[Measure]) -> None:
    """Outermost slurs only, and only those that have both ends on different notes."""
    depth = 0
    first: Item | None = None
    for item in _items(measures):
        if item.slurs_open:
            if depth == 0 and item.pitches:
                first = item
            depth += item.slurs_open
        if item.slurs_close and depth:
            depth = max(0, depth - item.slurs_close)
            if depth == 0:
                if first is not None and first is not item and item.pitches:
                    first.slur = "both" if first.slur == "stop" else "start"
                    item.slur = "stop"
                first = None
