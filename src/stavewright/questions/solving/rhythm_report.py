"""A rule report on a rhythm that answers another: bar sums, length, ending, balance, grouping, and marks lost."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from stavewright.questions.values import WrittenValue
from stavewright.theory.grouping import is_accepted
from stavewright.theory.metre import TimeSignature

_BAR_MARKS = 2
Row = tuple[WrittenValue, ...]


@dataclass(frozen=True, slots=True)
class Judged:
    """One criterion of the report: what it is, how many marks are lost on it, and why in words."""

    criterion: str
    lost: int
    why: str


def in_bars(row: Sequence[WrittenValue], time: TimeSignature) -> list[Row]:
    """A row of values parted into bars: each bar ends when it is full or overfull.

    >>> row = [WrittenValue("minim"), WrittenValue("crotchet"), WrittenValue("minim")]
    >>> [len(bar) for bar in in_bars(row, TimeSignature(2, 4))]
    [1, 2]
    """
    bars: list[Row] = []
    now: list[WrittenValue] = []
    for value in row:
        now.append(value)
        if sum(one.duration.ticks for one in now) >= time.ticks:
            bars.append(tuple(now))
            now = []
    return [*bars, tuple(now)] if now else bars


def _plain(bar: Row) -> list[tuple[str, int, bool]]:
    return [(value.type, value.dots, value.rest) for value in bar]


def _full(bar: Row, time: TimeSignature) -> bool:
    return sum(value.duration.ticks for value in bar) == time.ticks


def _beamed_well(bar: Row, time: TimeSignature) -> bool:
    groups = tuple(value.beam for value in bar)
    if not any(group is not None for group in groups):
        return True
    return is_accepted(groups, [(value.duration, value.rest) for value in bar], time).accepted


def report(row: Sequence[WrittenValue], given: Sequence[Row], time: TimeSignature) -> tuple[Judged, ...]:
    """The report: bars add up (2), right length (1), ending (1), balance (1), grouping (1).

    An answer ends on a note of a beat or more; it takes up the rhythm of a bar of what it answers, but does not merely
    copy it. Source of the criteria: common practice (question and answer of one length, the second part like the first,
    a long note at the close).
    """
    bars = in_bars(row, time)
    wrong = [number for number, bar in enumerate(bars, 1) if not _full(bar, time)]
    long_enough = sum(value.duration.ticks for value in row) == time.ticks * len(given)
    closing = bool(row) and not row[-1].rest and row[-1].duration.ticks >= time.beat.ticks
    known = [_plain(bar) for bar in given]
    taken = any(_plain(bar) in known for bar in bars)
    copied = [_plain(bar) for bar in bars] == known
    badly = [number for number, bar in enumerate(bars, 1) if _full(bar, time) and not _beamed_well(bar, time)]
    balance = "it only copies the question" if copied else "it takes up a bar of the question"
    sums = f"bar {wrong[0]} does not add up" if wrong else "every bar adds up"
    beams = f"the beams of bar {badly[0]} hide the beat" if badly else "the beams fit"
    return (
        Judged("bars", min(_BAR_MARKS, len(wrong)), sums),
        Judged("length", int(not long_enough), f"it has {len(bars)} of {len(given)} bars"),
        Judged("ending", int(not closing), "it ends on a long note" if closing else "it does not end on a long note"),
        Judged("balance", int(not taken or copied), balance if taken else "no bar is like one of the question"),
        Judged("grouping", int(bool(badly)), beams),
    )
