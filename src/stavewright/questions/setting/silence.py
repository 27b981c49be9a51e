"""Putting a rest into a bar of notes, where it is well written."""

from __future__ import annotations

from random import Random

from stavewright.theory.duration import Duration, total_ticks
from stavewright.theory.metre import TimeSignature
from stavewright.theory.rests import fill

Events = list[tuple[Duration, bool]]


def silence(events: Events, rng: Random, time: TimeSignature, *, tails: bool = False) -> None:
    """Turn one note of a full bar into a rest, if that one rest is the usual way to write the silence.

    `tails`: only a note with a tail may go.

    >>> bar = [(Duration("crotchet"), False)] * 2
    >>> silence(bar, Random(1), TimeSignature(2, 4))
    >>> sum(rest for _, rest in bar)
    1
    """
    place = rng.randrange(len(events))
    length, _ = events[place]
    if length.dots or length.tuplet is not None or (tails and length.tails == 0):
        return
    start = total_ticks([one for one, _ in events[:place]])
    if fill(start, length.ticks, time)[0].rests == (length,):
        events[place] = (length, True)
