"""Verses that can be set in the times of a scope, and one rhythm for each, by the moments at which syllables begin."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from random import Random

from stavewright.questions.setting.picking import pick
from stavewright.questions.values import WrittenValue
from stavewright.syllabus.scope import Scope
from stavewright.syllabus.verses import Verse, all_verses
from stavewright.theory.duration import of_ticks
from stavewright.theory.grouping import beam
from stavewright.theory.metre import TimeSignature
from stavewright.theory.verse import Syllable, feet, foot_lengths

_TWELFTHS = {
    True: {1: (0,), 2: (0, 8), 3: (0, 4, 8), 4: (0, 4, 8, 10)},
    False: {1: (0,), 2: (0, 6), 3: (0, 6, 9), 4: (0, 3, 6, 9)},
}
"""When the syllables of a foot begin, in twelfths of it: where the foot goes in three, and where it is halved."""
_TIMES = ("2/4", "3/4", "4/4", "C", "2/2", "cut C", "3/8", "6/8")


@dataclass(frozen=True, slots=True)
class VerseRhythm:
    """A verse, the time it is set in, and a rhythm that would do: values and bar lines."""

    verse: Verse
    time: TimeSignature
    row: tuple[WrittenValue, ...]
    bar_lines: tuple[int, ...]

    @property
    def rests(self) -> bool:
        """Whether something is silent in it."""
        return any(value.rest for value in self.row)


def pick_verse(scope: Scope, rng: Random, *, rests: bool = True) -> VerseRhythm | None:
    """One verse in one time of the scope; None where the scope has no time for verse."""
    known = [one for one in fitting(scope.times) if rests or not one.rests]
    return pick(rng, known) if known else None


@lru_cache(maxsize=16)
def fitting(times: tuple[str, ...]) -> tuple[VerseRhythm, ...]:
    """Every verse in every one of these times that it can be set in.

    >>> sorted({one.time.text for one in fitting(("3/4", "5/4"))})
    ['3/4']
    """
    found: list[VerseRhythm] = []
    for verse in all_verses().values():
        for text in times:
            made = _set(verse, TimeSignature.parse(text)) if text in _TIMES else None
            if made is not None:
                found.append(made)
    return tuple(found)


def _begins(lines: Sequence[Sequence[Syllable]], foot: int, bar: int, three: bool) -> tuple[list[int], list[int], int]:
    """The tick at which each syllable begins, the first full bar at 0; which of them end a line; where all ends."""
    table = _TWELFTHS[three]
    parted = [feet(line) for line in lines]
    ups = [[foot * (at - 12) // 12 for at in table[len(before) + 1][1:]] for before, _ in parted]
    begins, ends = list(ups[0]), []
    at = 0
    for place, (_, row) in enumerate(parted):
        over = at + -(-len(row) * foot // bar) * bar
        coming = [over + up for up in ups[(place + 1) % len(parted)]]
        for number, one in enumerate(row):
            start = at + number * foot
            moments = [start + foot * twelfth // 12 for twelfth in table[len(one)]]
            if number == len(row) - 1 and coming and moments[-1] >= coming[0]:
                moments = [start + foot * twelfth // 12 for twelfth in table[len(one) + len(coming)][: len(one)]]
            begins += moments
        ends.append(len(begins) - 1)
        at = over
        if place < len(parted) - 1:
            begins += coming
    return begins, ends, at + (ups[0][0] if ups[0] else 0)


def _set(verse: Verse, time: TimeSignature) -> VerseRhythm | None:
    if not foot_lengths(time):
        return None
    foot = max(foot_lengths(time))
    begins, ends, over = _begins(verse.syllables, foot, time.ticks, time.kind == "compound" or time.count == 3)
    lengths: list[tuple[int, bool]] = []
    for number, (start, end) in enumerate(pairwise([*begins, over])):
        room = end - start
        if room <= 0:
            return None
        note = room
        if number in ends and (start % foot or of_ticks(room, max_dots=1) is None):
            note = min(room, foot - start % foot)
        lengths.append((note, False))
        if room > note:
            lengths.append((room - note, True))
    return _written(verse, time, lengths, -begins[0])


def _written(verse: Verse, time: TimeSignature, lengths: list[tuple[int, bool]], upbeat: int) -> VerseRhythm | None:
    bars: list[list[tuple[int, bool]]] = [[]]
    place = -upbeat
    for ticks, rest in lengths:
        if place % time.ticks == 0 and bars[-1]:
            bars.append([])
        bars[-1].append((ticks, rest))
        if place % time.ticks + ticks > time.ticks:
            return None
        place += ticks
    row: list[WrittenValue] = []
    lines: list[int] = []
    for number, bar in enumerate(bars):
        values = [(of_ticks(ticks, max_dots=1), rest) for ticks, rest in bar]
        events = [(value, rest) for value, rest in values if value is not None]
        if len(events) < len(values):
            return None
        groups = beam(events, time, start=time.ticks - upbeat if number == 0 and upbeat else 0)
        for (value, rest), group in zip(events, groups, strict=True):
            row.append(WrittenValue.of(value, rest=rest, beam=None if group is None else group + 1))
        lines.append(len(row))
    return VerseRhythm(verse, time, tuple(row), tuple(lines[:-1]))
