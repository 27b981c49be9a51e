"""Tied rows read as sounds: which written values make one sound, where it begins, and what may stand in its place."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from stavewright.questions.values import WrittenValue
from stavewright.theory.duration import Duration, total_ticks
from stavewright.theory.metre import TimeSignature
from stavewright.theory.regroup import as_one, over_bars

Row = tuple[WrittenValue, ...]


@dataclass(frozen=True, slots=True)
class Sound:
    """One rest, one note, or notes tied together: their places in the row (from 1) and the first one's tick."""

    values: Row
    first: int
    start: int

    @property
    def durations(self) -> tuple[Duration, ...]:
        """The values written for it."""
        return tuple(one.duration for one in self.values)

    @property
    def tied(self) -> bool:
        """Whether it is written with a tie."""
        return len(self.values) > 1

    @property
    def ids(self) -> tuple[str, ...]:
        """The ids of its notes on the printed stave."""
        return tuple(f"n{self.first + place}" for place in range(len(self.values)))


def sounds(row: Sequence[WrittenValue]) -> tuple[Sound, ...]:
    """The row as it is heard.

    >>> [len(one.values) for one in sounds([WrittenValue("minim", tie=True), WrittenValue("quaver")])]
    [2]
    """
    found: list[Sound] = []
    held: list[WrittenValue] = []
    start = clock = 0
    for place, one in enumerate(row, 1):
        if not held:
            start = clock
        held.append(one)
        clock += one.duration.ticks
        if not one.tie or place == len(row):
            found.append(Sound(tuple(held), place - len(held) + 1, start))
            held = []
    return tuple(found)


def rewritten(row: Sequence[WrittenValue], change: Callable[[Sound], Sequence[Duration]]) -> Row:
    """The row with every sound written as `change` says, tied where it takes several values."""
    found: list[WrittenValue] = []
    for sound in sounds(row):
        values = list(change(sound))
        last = len(values) - 1
        found += [WrittenValue.of(one, rest=sound.values[0].rest, tie=place < last) for place, one in enumerate(values)]
    return tuple(found)


def fewest(sound: Sound, time: TimeSignature, dots: int) -> tuple[Duration, ...]:
    """The fewest values for a tied sound that the metre allows, with so many dots at most; others as they are."""
    if not sound.tied:
        return sound.durations
    into = sound.start % time.ticks
    one = as_one(sound.durations, time, into, max_dots=dots)
    if one is not None:
        return (one,)
    found = [value for bar in over_bars(into, total_ticks(list(sound.durations)), time) for value in bar]
    return tuple(found) if len(found) < len(sound.values) else sound.durations
