"""Whether a bar's beams are accepted, and the wrong ways of grouping it, each by the name of its fault."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Final

from stavewright.theory.beam_groups import Groups, numbered
from stavewright.theory.beam_plan import beam_plan
from stavewright.theory.beaming import (
    Beaming,
    Event,
    GroupingError,
    Placed,
    accepted_beamings,
    beam,
    place,
)
from stavewright.theory.metre import TimeSignature

__all__ = [
    "FAULTS",
    "BeamVerdict",
    "Beaming",
    "Event",
    "GroupingError",
    "Groups",
    "WrongBeaming",
    "accepted_beamings",
    "beam",
    "is_accepted",
    "wrong_beamings",
]

IMPOSSIBLE: Final = "beam on a rest or a note without a tail"
NOTHING: Final = "nothing beamed"
COMPOUND_AS_SIMPLE: Final = "compound as simple"
SIMPLE_AS_COMPOUND: Final = "simple as compound"
ACROSS_MIDDLE: Final = "across the middle"
RUN_TOGETHER: Final = "beats run together"
ACROSS_BEAT: Final = "across the beat"
BROKEN: Final = "beat broken"

FAULTS: Final = {
    IMPOSSIBLE: "a beam joins neighbouring notes with tails; a rest or a longer note stops it",
    NOTHING: "the tails of a beat belong under one beam",
    COMPOUND_AS_SIMPLE: "the beats are dotted, so their thirds go in threes, not in twos",
    SIMPLE_AS_COMPOUND: "the beats are not dotted, so the bar must not fall into two halves of three",
    ACROSS_MIDDLE: "a beam never crosses the middle of a bar of four beats",
    RUN_TOGETHER: "one beam covers beats that must be told apart",
    ACROSS_BEAT: "a beam hides the beginning of a beat or group",
    BROKEN: "the notes of one beat, or of one group, are parted",
}
"""Each fault's name and what is wrong."""


@dataclass(frozen=True, slots=True)
class BeamVerdict:
    """Whether a beaming is accepted, the reason, and the fault's name when it is not."""

    accepted: bool
    reason: str
    fault: str | None = None


@dataclass(frozen=True, slots=True)
class WrongBeaming:
    """A wrong beaming and the name of its fault."""

    groups: Groups
    fault: str


def is_accepted(
    beams: Sequence[int | None],
    events: Sequence[Event],
    time: TimeSignature,
    *,
    grouping: tuple[int, ...] | None = None,
    start: int = 0,
) -> BeamVerdict:
    """Whether these beams are one of the accepted ways, with the reason, and the fault's name if not.

    ``beams``: a group number for each event, None without a beam; the numbers only need to differ.
    Raises: GroupingError when there is not one entry for each event or the bar is overfull.

    >>> from stavewright.theory.duration import Duration
    >>> quavers = [(Duration("quaver"), False)] * 6
    >>> is_accepted([0, 0, 1, 1, 2, 2], quavers, TimeSignature(6, 8)).fault
    'compound as simple'
    """
    if len(beams) != len(events):
        raise GroupingError(f"{len(beams)} beam entries for {len(events)} events; give one for each")
    placed = place(events, time, start)
    groups = [
        [event for event, _ in members]
        for number, members in groupby(zip(placed, beams, strict=True), key=lambda pair: pair[1])
        if number is not None
    ]
    groups = [group for group in groups if len(group) > 1]
    numbers = [beams[group[0].index] for group in groups]
    if len(set(numbers)) < len(numbers) or not all(event.beamable for group in groups for event in group):
        return BeamVerdict(False, FAULTS[IMPOSSIBLE], IMPOSSIBLE)
    wanted = numbered([[event.index for event in group] for group in groups], len(events))
    for beaming in accepted_beamings(events, time, grouping=grouping, start=start):
        if beaming.groups == wanted:
            return BeamVerdict(True, beaming.reason)
    fault = _fault(groups, time, grouping)
    return BeamVerdict(False, FAULTS[fault], fault)


def _fault(groups: list[list[Placed]], time: TimeSignature, grouping: tuple[int, ...] | None) -> str:
    if not groups:
        return NOTHING
    spans = [(group[0].start, group[-1].end) for group in groups]
    beats = beam_plan(time, grouping).beats
    starts = {begin for begin, _ in beats}
    crossing = [span for span in spans if any(span[0] < begin < span[1] for begin in starts)]
    pair, half = 2 * time.unit_value.ticks, time.ticks // 2
    if time.kind == "compound" and any(
        begin % pair == 0 and end % pair == 0 and begin not in starts | {end} for begin, end in crossing
    ):
        return COMPOUND_AS_SIMPLE
    if time.kind == "simple" and time.count == 3 and any(span in {(0, half), (half, time.ticks)} for span in spans):
        return SIMPLE_AS_COMPOUND
    hidden = any(
        begin < beat < end and {begin, end} - starts - {time.ticks} and beat != half
        for begin, end in crossing
        for beat in starts
    )
    if time.count == 4 and not hidden and any(begin < half < end for begin, end in spans):
        return ACROSS_MIDDLE
    if any(begin in starts and end in starts | {time.ticks} for begin, end in crossing):
        return RUN_TOGETHER
    return ACROSS_BEAT if crossing else BROKEN


def wrong_beamings(
    events: Sequence[Event], time: TimeSignature, *, grouping: tuple[int, ...] | None = None, start: int = 0
) -> tuple[WrongBeaming, ...]:
    """Wrong ways a pupil would really group the bar, each with its fault's name; none is ever accepted.

    A bar that can only be beamed in one way, or not at all, may have few or none.
    Raises: GroupingError when the bar is overfull.

    >>> from stavewright.theory.duration import Duration
    >>> quavers = [(Duration("quaver"), False)] * 8
    >>> [wrong.fault for wrong in wrong_beamings(quavers, TimeSignature(4, 4))]
    ['nothing beamed', 'across the middle', 'across the middle', 'across the beat']
    """
    placed = place(events, time, start)
    found: dict[Groups, WrongBeaming] = {}
    for starts in _windows(time, grouping):
        groups = _by_windows(placed, starts)
        fault = is_accepted(groups, events, time, grouping=grouping, start=start).fault
        if fault is not None:
            found.setdefault(groups, WrongBeaming(groups, fault))
    return tuple(found.values())


def _windows(time: TimeSignature, grouping: tuple[int, ...] | None) -> Iterator[tuple[int, ...]]:
    """Where a mistaken writer starts new beams; the empty row beams nothing."""
    plan = beam_plan(time, grouping)
    bar, unit, beat = time.ticks, time.unit_value.ticks, time.beat.ticks
    yield ()
    if time.kind != "simple":
        yield tuple(range(0, bar, 2 * unit))
    if time.count == 3 or time.kind == "irregular":
        yield tuple(range(0, bar, bar // 2 if time.kind == "simple" else 3 * unit))
    if time.count == 4:
        yield (0, beat, 3 * beat)
    yield (0,)
    if time.kind == "irregular":
        early = unit if time.unit == 8 else unit // 2
        yield (0, *(begin - early for begin, _ in plan.beats[1:]))
    else:
        yield (0, *range(beat - (beat // 2 if time.kind == "simple" else unit), bar, beat))
    yield tuple(begin for begin, _ in plan.beats[::2])
    broken = {begin + _first_part(end - begin, unit) for begin, end in plan.beats}
    yield tuple(sorted(broken | {begin for begin, _ in plan.beats}))


def _first_part(length: int, unit: int) -> int:
    """Where a beat is wrongly broken: after a third of a beat of three units, in the middle of any other."""
    return length // 3 if length % (3 * unit) == 0 else length // 2


def _by_windows(placed: tuple[Placed, ...], starts: tuple[int, ...]) -> Groups:
    beams: list[list[int]] = []
    last: int | None = None
    for event in placed:
        window = max((begin for begin in starts if begin <= event.start), default=None)
        if window is None or not event.beamable:
            last = None
        elif window == last:
            beams[-1].append(event.index)
        else:
            beams.append([event.index])
            last = window
    return numbered(beams, len(placed))
