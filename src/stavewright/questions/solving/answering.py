"""Example answers to a rhythm: bars of the question again in another order, and a close that comes to rest."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from functools import lru_cache

from stavewright.questions.criterion import lost
from stavewright.questions.errors import BadDocument
from stavewright.questions.solving.rhythm_report import Row, report
from stavewright.questions.values import WrittenValue
from stavewright.theory.duration import of_ticks
from stavewright.theory.grouping import beam
from stavewright.theory.metre import TimeSignature

_USUAL = {2: ((0,),), 4: ((0, 1, 0), (0, 2, 1))}
"""Which bars of the question begin an answer of so many bars, the likeliest first."""


@lru_cache(maxsize=256)
def example_rhythms(bars: tuple[Row, ...], time: TimeSignature) -> tuple[tuple[Row, ...], ...]:
    """Two answers that meet every criterion, where there are two: one held at the end, one that moves to its last note.

    Source: common practice (question and answer).

    Raises:
        BadDocument: no answer can be made from these bars.

    >>> minim, crotchet = WrittenValue("minim"), WrittenValue("crotchet")
    >>> found = example_rhythms(((minim, crotchet), (crotchet, minim)), TimeSignature(3, 4))
    >>> [(value.type, value.dots) for bar in found[0] for value in bar]
    [('minim', 0), ('crotchet', 0), ('minim', 1)]
    """
    found: list[tuple[Row, ...]] = []
    for held in (True, False):
        good = (one for one in _made(bars, time, held) if not lost(report(sum(one, ()), bars, time)))
        found += [one for one in itertools.islice(good, 1) if one not in found]
    if not found:
        raise BadDocument(f"no rhythm made of these bars of {time.text} answers them: choose others")
    return tuple(found)


def _made(bars: Sequence[Row], time: TimeSignature, held: bool) -> Iterator[tuple[Row, ...]]:
    """Every answer that begins with bars of the question and closes on a long note, the likeliest first."""
    begun = len(bars) - 1
    orders = [*_USUAL.get(len(bars), ()), *itertools.product(range(len(bars)), repeat=begun)]
    closes = [_held(time)] if held else [close for bar in bars for close in _moving(bar, time)]
    for order in orders:
        for close in closes:
            if close:
                yield (*(bars[place] for place in order), close)


def _held(time: TimeSignature) -> Row:
    """A bar of one note; nothing where no one value fills it."""
    whole = of_ticks(time.ticks, max_dots=1)
    return () if whole is None else (WrittenValue.of(whole),)


def _moving(bar: Row, time: TimeSignature) -> Iterator[Row]:
    """A bar that begins as another does and stops on a long note from its middle or its second beat on."""
    cut = time.middle or time.beat.ticks
    row: list[WrittenValue] = []
    for value in bar:
        if sum(one.duration.ticks for one in row) >= cut:
            break
        row.append(value)
    long_note = of_ticks(time.ticks - cut, max_dots=1)
    if long_note is not None and sum(one.duration.ticks for one in row) == cut and len(row) > 1:
        yield _beamed((*row, WrittenValue.of(long_note)), time)


def _beamed(bar: Row, time: TimeSignature) -> Row:
    groups = beam([(value.duration, value.rest) for value in bar], time)
    return tuple(
        WrittenValue(value.type, value.dots, value.rest, value.tie, None if group is None else group + 1, value.tuplet)
        for value, group in zip(bar, groups, strict=True)
    )
