"""Values that hide the beats: a minim across the middle of 6/8, a note across the middle of 4/4."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Final

from stavewright.theory.beaming import Event, Placed, is_silent_bar, place
from stavewright.theory.metre import TimeSignature
from stavewright.theory.rest_faults import judge

ACROSS_MIDDLE: Final = "note across the middle"
ACROSS_BEAT: Final = "note across the beat"
RESTS: Final = "rests not to convention"


@dataclass(frozen=True, slots=True)
class ValueFault:
    """One event whose value hides the metre.

    ``index``: its place among the events; ``always``: wrong in any question, where the others are wrong only when the
    question is on grouping.
    """

    index: int
    fault: str
    reason: str
    always: bool


def value_faults(
    events: Sequence[Event], time: TimeSignature, *, grouping: tuple[int, ...] | None = None, start: int = 0
) -> tuple[ValueFault, ...]:
    """The notes and rests of a bar that hide its beats, in order.

    ``start``: tick of the first event in a pick-up bar. Raises: GroupingError when the bar is overfull.
    Sources: The Open University, An introduction to music theory (2016) §3.9, 4.2-4.4; minims in 6/8 and
    syncopations from memory.

    >>> from stavewright.theory.duration import Duration
    >>> bar = [(Duration("quaver"), False), (Duration("minim"), False), (Duration("quaver"), False)]
    >>> [fault.fault for fault in value_faults(bar, TimeSignature(6, 8))]
    ['note across the beat']
    """
    placed = place(events, time, start)
    found = [*_notes(placed, time, grouping), *_rests(placed, time, grouping)]
    return tuple(sorted(found, key=lambda fault: fault.index))


def _notes(placed: tuple[Placed, ...], time: TimeSignature, grouping: tuple[int, ...] | None) -> Iterator[ValueFault]:
    spans = time.spans(grouping)
    starts = {begin for begin, _ in spans}
    edges = starts | {time.ticks}
    for event in placed:
        crossed = sorted(begin for begin in starts if event.start < begin < event.end)
        if event.rest or not crossed or (event.start, event.end) == (0, time.ticks) or event.tuplet_run is not None:
            continue
        on_beats = event.start in edges and event.end in edges
        if time.kind == "simple" and time.count == 3 and event.start * 2 == time.ticks == event.duration.ticks * 2:
            yield ValueFault(event.index, ACROSS_BEAT, "half a bar of three beats reads as compound time", True)
        elif time.count == 4 and time.middle in crossed and event.start:
            yield ValueFault(event.index, ACROSS_MIDDLE, "the middle of the bar should show: tie two notes", False)
        elif time.kind == "compound" and not on_beats:
            yield ValueFault(event.index, ACROSS_BEAT, "a dotted beat begins inside the note: tie two notes", True)
        elif time.kind == "simple" and not on_beats and event.start not in starts and not _syncopation(event, time):
            yield ValueFault(event.index, ACROSS_BEAT, "a beat begins inside the note: tie two notes", False)
        elif time.kind == "irregular" and not on_beats:
            yield ValueFault(event.index, ACROSS_BEAT, "a group begins inside the note: tie two notes", False)


def liberties(events: Sequence[Event], time: TimeSignature) -> int:
    """How many notes begin off a beat and run across the next: correct, but against the metre's grain.

    Raises: GroupingError when the bar is overfull.

    >>> from stavewright.theory.duration import Duration
    >>> bar = [(Duration(value), False) for value in ("quaver", "crotchet", "quaver")]
    >>> liberties(bar, TimeSignature(2, 4))
    1
    """
    starts = {begin for begin, _ in time.spans()}
    return sum(
        event.start not in starts and any(event.start < begin < event.end for begin in starts)
        for event in place(events, time)
        if event.tuplet_run is None
    )


def _syncopation(event: Placed, time: TimeSignature) -> bool:
    """A note of one beat, begun half a beat late: quaver, crotchet, quaver."""
    beat = time.beat.ticks
    return event.duration.ticks == beat and event.start % beat == beat // 2


def _rests(placed: tuple[Placed, ...], time: TimeSignature, grouping: tuple[int, ...] | None) -> Iterator[ValueFault]:
    for silent, members in groupby(placed, key=lambda event: event.rest):
        if not silent:
            continue
        row = list(members)
        silent_bar = is_silent_bar([(event.duration, event.rest) for event in placed])
        length = time.ticks if silent_bar else row[-1].end - row[0].start
        if any(event.tuplet_run is not None for event in row):
            continue
        verdict = judge(tuple(event.duration for event in row), row[0].start, length, time, grouping=grouping)
        if not verdict.accepted:
            yield ValueFault(row[0].index, RESTS, f"{verdict.fault}: {verdict.reason}", True)
