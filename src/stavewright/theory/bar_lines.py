"""Bar lines in a row of values: where they go, pick-up included, and how a pupil's own are judged."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from stavewright.theory.duration import Duration, total_ticks
from stavewright.theory.errors import StavewrightError
from stavewright.theory.metre import TimeSignature


class BarLineError(StavewrightError):
    """A row of values in which a bar line would fall inside a note, or a pick-up that is no part of a bar."""


@dataclass(frozen=True, slots=True)
class JudgedBar:
    """One bar as a pupil ended it: places ``first`` up to (not with) ``end``, its length and what it should be."""

    first: int
    end: int
    ticks: int
    wanted: int

    @property
    def right(self) -> bool:
        """Whether the bar adds up."""
        return self.ticks == self.wanted


def bar_line_places(durations: Sequence[Duration], time: TimeSignature, *, anacrusis: int = 0) -> tuple[int, ...]:
    """After how many values each bar line stands; the last is the end of the row when it ends a bar.

    ``anacrusis``: length in ticks of the notes before the first full bar, 0 for none. The last bar may be short: it
    then has no line here (the double bar closes it). Raises: BarLineError when a note would cross a bar line.

    >>> crotchets = [Duration("crotchet")] * 7
    >>> bar_line_places(crotchets, TimeSignature(3, 4), anacrusis=Duration("crotchet").ticks)
    (1, 4, 7)
    """
    check_anacrusis(anacrusis, time)
    places: list[int] = []
    line = anacrusis or time.ticks
    at = 0
    for place, duration in enumerate(durations, start=1):
        at += duration.ticks
        if at > line:
            raise BarLineError(
                f"value {place} ({duration.text}) runs over bar line {len(places) + 1}; tie two values there instead"
            )
        if at == line:
            places.append(place)
            line += time.ticks
    return tuple(places)


def check_anacrusis(anacrusis: int, time: TimeSignature) -> None:
    """Refuse a pick-up that is not shorter than a bar.

    Raises: BarLineError.

    >>> check_anacrusis(0, TimeSignature(3, 4))
    """
    if not 0 <= anacrusis < time.ticks:
        raise BarLineError(f"a pick-up of {anacrusis} ticks is no part of a {time.text} bar of {time.ticks}")


def last_bar_ticks(time: TimeSignature, anacrusis: int) -> int:
    """What the last bar must hold so that it makes a full bar with the pick-up, in ticks.

    Source: common practice. Raises: BarLineError for a pick-up as long as a bar.

    >>> last_bar_ticks(TimeSignature(3, 4), Duration("crotchet").ticks) == Duration("minim").ticks
    True
    """
    check_anacrusis(anacrusis, time)
    return time.ticks - anacrusis


def bars(durations: Sequence[Duration], time: TimeSignature, *, anacrusis: int = 0) -> tuple[tuple[Duration, ...], ...]:
    """The row cut into its bars, the pick-up first when there is one.

    Raises: BarLineError when a note would cross a bar line.

    >>> [len(bar) for bar in bars([Duration("minim")] * 5, TimeSignature(4, 4), anacrusis=Duration("minim").ticks)]
    [1, 2, 2]
    """
    edges = [0, *bar_line_places(durations, time, anacrusis=anacrusis)]
    if edges[-1] != len(durations):
        edges.append(len(durations))
    return tuple(tuple(durations[first:end]) for first, end in pairwise(edges))


def judge_bar_lines(
    lines: Sequence[int], durations: Sequence[Duration], time: TimeSignature, *, anacrusis: int = 0
) -> tuple[JudgedBar, ...]:
    """Each bar a pupil's lines make, judged from the pupil's own line before it, so that one slip costs once.

    ``lines``: after how many values a line stands. A line at the very end may be left out. The closing bar is right
    when it is full or makes a full bar with the pick-up; after an earlier wrong bar it is right unless too long,
    being only what was left. Raises: BarLineError for a line outside the row.

    >>> crotchets = [Duration("crotchet")] * 8
    >>> [bar.right for bar in judge_bar_lines([3, 7], crotchets, TimeSignature(4, 4))]
    [False, True, True]
    """
    check_anacrusis(anacrusis, time)
    edges = sorted(set(lines))
    if any(not 0 < line <= len(durations) for line in edges):
        raise BarLineError(f"a bar line stands after 1 to {len(durations)} values; got {list(lines)}")
    if not edges or edges[-1] != len(durations):
        edges.append(len(durations))
    expected = (anacrusis or time.ticks, *(time.ticks for _ in edges[1:]))
    closing = total_ticks(list(durations)) - anacrusis
    if anacrusis and closing % time.ticks and len(edges) > 1:
        expected = (*expected[:-1], closing % time.ticks)
    firsts = [0, *edges[:-1]]
    judged = [
        JudgedBar(first, end, total_ticks(list(durations[first:end])), wanted)
        for first, end, wanted in zip(firsts, edges, expected, strict=True)
    ]
    closing_bar = judged[-1]
    if not all(bar.right for bar in judged[:-1]) and closing_bar.ticks <= time.ticks:
        judged[-1] = JudgedBar(closing_bar.first, closing_bar.end, closing_bar.ticks, closing_bar.ticks)
    return tuple(judged)


def lines_without_pick_up(durations: Sequence[Duration], time: TimeSignature) -> tuple[int, ...]:
    """Where the lines fall if the pick-up is wrongly counted as the first bar, each at the first chance.

    A line that would cut a note moves to the note's end, as a pupil draws it.

    >>> lines_without_pick_up([Duration("crotchet")] * 7, TimeSignature(3, 4))
    (3, 6)
    """
    places: list[int] = []
    held = 0
    for place, duration in enumerate(durations, start=1):
        held += duration.ticks
        if held >= time.ticks:
            places.append(place)
            held = 0
    return tuple(places)


def faulty_bars(rows: Sequence[Sequence[Duration]], time: TimeSignature, *, anacrusis: int = 0) -> tuple[int, ...]:
    """Which bars (counted from 0) hold too much or too little; with a pick-up the first and last make one bar.

    >>> faulty_bars([[Duration("minim")] * 2, [Duration("minim")] * 3], TimeSignature(4, 4))
    (1,)
    """
    check_anacrusis(anacrusis, time)
    wanted = [time.ticks] * len(rows)
    if anacrusis and rows:
        wanted[0] = anacrusis
    faulty = [place for place, row in enumerate(rows) if total_ticks(list(row)) != wanted[place]]
    last = len(rows) - 1
    if anacrusis and last in faulty and total_ticks(list(rows[-1])) == time.ticks - anacrusis:
        faulty.remove(last)
    return tuple(faulty)
