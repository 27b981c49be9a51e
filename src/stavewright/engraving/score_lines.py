"""Long empty staves cut into lines, so that there is room to write in every bar."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from stavewright.score.event import Gap
from stavewright.score.stave import Bar, Score

__all__ = ["cut_lines", "is_room"]


def is_room(bar: Bar) -> bool:
    """Whether a bar is empty, to be written in."""
    return all(isinstance(event, Gap) for event in bar.events)


def cut_lines(score: Score, most: int) -> Iterator[Score]:
    """A score in lines of so many bars, an upbeat not counted; the time signature stands on the first.

    >>> from stavewright.score.stave import Stave
    >>> from stavewright.theory.duration import Duration
    >>> score = Score((Stave("treble", (Bar(((Gap(Duration("minim")),),)),) * 6),))
    >>> [len(one.staves[0].bars) for one in cut_lines(score, 4)]
    [4, 2]
    """
    count = len(score.staves[0].bars)
    led = int(score.anacrusis)
    starts = [0, *range(most + led, count, most)]
    for start, end in zip(starts, [*starts[1:], count], strict=True):
        staves = tuple(
            replace(
                stave,
                bars=tuple(replace(bar, free=True) for bar in stave.bars[start:end]),
                time=None if start else stave.time,
            )
            for stave in score.staves
        )
        yield replace(score, staves=staves, brackets=(), numbered=False)
