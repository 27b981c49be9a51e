"""A rhythm of several bars as it is written, right or wrong, with its usual beams; the same in words; empty bars."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import accumulate

from msgspec.structs import replace as changed

from stavewright.questions.showing.bars import bars_score, event_of, gaps_of
from stavewright.questions.showing.beams import drawable
from stavewright.questions.values import WrittenValue
from stavewright.score.event import Event, Note
from stavewright.score.stave import Score
from stavewright.theory.duration import TICKS
from stavewright.theory.errors import StavewrightError
from stavewright.theory.grouping import beam
from stavewright.theory.metre import TimeSignature

Row = Sequence[WrittenValue]


def barred_score(
    row: Row, time: TimeSignature | None, *, counts: Sequence[int] = (), pickup: int = 0, last: str = "final"
) -> Score:
    """The rhythm with a bar line wherever a bar is full, notes n1, n2, ... on the middle line.

    A bar in which no beam is given gets its usual beams; one that comes out too long is drawn as it is, and so is the
    whole rhythm without a time signature. `counts`: how many values stand in each bar, where the lines are given and
    so many values are there. `pickup`: ticks before the first bar line, 0 for none.

    >>> row = [WrittenValue("minim"), WrittenValue("quaver"), WrittenValue("quaver")] * 2
    >>> [[event.beam for event in bar.events] for bar in barred_score(row, TimeSignature(3, 4)).staves[0].bars]
    [[None, 1, 1], [None, 1, 1]]
    """
    if not row:
        return empty_bars(time, 1)
    bars: list[list[Event]] = []
    given = sum(counts) == len(row)
    cut = cut_at_counts(row, counts) if given else cut_at_bars(row, time, pickup=pickup)
    for number, bar in enumerate(cut):
        start = time.ticks - pickup if time is not None and pickup and not number else 0
        done = sum(map(len, bars))
        bars.append([event_of(one, f"n{done + i}") for i, one in enumerate(_beamed(bar, time, start), 1)])
    return bars_score(_tied(bars), time, last=last)


def cut_at_bars(row: Row, time: TimeSignature | None, *, pickup: int = 0) -> list[Row]:
    """The values bar by bar; a bar ends as soon as it is full or more than full.

    >>> [len(bar) for bar in cut_at_bars([WrittenValue("minim")] * 5, TimeSignature(4, 4))]
    [2, 2, 1]
    """
    if time is None:
        return [row]
    bars: list[list[WrittenValue]] = [[]]
    held, wanted = 0, pickup or time.ticks
    for one in row:
        if held >= wanted:
            bars.append([])
            held, wanted = 0, time.ticks
        bars[-1].append(one)
        held += length_of(one)
    return list(bars)


def cut_at_counts(row: Row, counts: Sequence[int]) -> list[Row]:
    """The values bar by bar, so many in each.

    >>> [len(bar) for bar in cut_at_counts([WrittenValue("minim")] * 5, (2, 3))]
    [2, 3]
    """
    ends = list(accumulate(counts))
    return [row[end - count : end] for end, count in zip(ends, counts, strict=True)]


def length_of(one: WrittenValue) -> int:
    """The ticks of a written value; one that does not exist is drawn, and so counted, as a crotchet."""
    return event_of(one, "").ticks


def _beamed(bar: Row, time: TimeSignature | None, start: int) -> Row:
    """The bar under its beams; what stands beyond a full bar is beamed as if a new one had begun."""
    if time is None or any(one.beam is not None for one in bar):
        return drawable(bar)
    fits = [end for end in range(1, len(bar) + 1) if start + sum(map(length_of, bar[:end])) <= time.ticks]
    end = max(fits, default=1)
    lengths = [event_of(one, "").duration for one in bar[:end]]
    try:
        groups = beam([(length, one.rest) for length, one in zip(lengths, bar, strict=False)], time, start=start)
    except StavewrightError:
        groups = (None,) * end
    first = drawable([changed(one, beam=group) for one, group in zip(bar, groups, strict=False)])
    if end == len(bar):
        return first
    used = max((one.beam or 0 for one in first), default=0)
    more = _beamed(bar[end:], time, 0)
    both = (*first, *(changed(one, beam=None if one.beam is None else used + one.beam) for one in more))
    return drawable(both)  # an irregular group may stand over the place where the bar is full


def _tied(bars: list[list[Event]]) -> list[list[Event]]:
    """Ties that lead to a note; one to a rest, or off the end, is left out."""
    row = [event for bar in bars for event in bar]
    loose = {
        one.id
        for one, after in zip(row, [*row[1:], None], strict=True)
        if isinstance(one, Note) and one.tie and not isinstance(after, Note)
    }
    return [[replace(e, tie=False) if isinstance(e, Note) and e.id in loose else e for e in bar] for bar in bars]


def empty_bars(time: TimeSignature | None, count: int, *, shown: bool = True) -> Score:
    """Bars with nothing in them, with room to write, gaps g1, g2, ...; `shown` False leaves the signature out.

    >>> [gap.id for gap in empty_bars(TimeSignature(2, 4), 2).events()]
    ['g1', 'g2', 'g3', 'g4']
    """
    beats = 4 if time is None else time.count
    size = TICKS["crotchet"] if time is None else time.beat.ticks
    bars = [
        [gap for beat in range(beats) for gap in gaps_of(size, f"g{bar * beats + beat + 1}")] for bar in range(count)
    ]
    return bars_score(bars, time if shown else None, last="final", free=not shown)


def spoken(row: Row) -> str:
    """The values in words, ties included.

    >>> spoken([WrittenValue("minim", tie=True), WrittenValue("quaver"), WrittenValue("crotchet", rest=True)])
    'minim tied to quaver, crotchet rest'
    """
    words = ""
    for one in row:
        joint = "" if not words else " tied to " if words.endswith("\0") else ", "
        words = words.rstrip("\0") + joint + event_of(one, "").duration.name(rest=one.rest) + ("\0" if one.tie else "")
    return words.rstrip("\0")
