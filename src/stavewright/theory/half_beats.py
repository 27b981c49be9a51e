"""Beams over demisemiquavers, parted in the middle of their beat."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import product
from typing import Final

from stavewright.theory.duration import Duration

_FINE: Final = Duration("semiquaver").tails
_MOST: Final = 16

Run = tuple[int, ...]
"""The places of the notes under one beam."""

Span = tuple[int, int, int]
"""Where a note begins and ends in its bar, in ticks, and how many tails it has."""


def by_half_beats(groups: Sequence[int | None], notes: Sequence[Span], beat: int) -> Iterator[tuple[Run, ...]]:
    """The runs under each beam, with the demisemiquavers of one beat, or of several, in two runs each.

    ``groups``: a beam number for each event; ``notes``: its span; ``beat``: ticks of a beat. The beams as they were
    come first. Source: quartets by Haydn and Mozart in music21's corpus, where both ways are printed; from memory.

    >>> quaver = Duration("quaver").ticks
    >>> notes = [(at * quaver // 4, (at + 1) * quaver // 4, 3) for at in range(8)]
    >>> list(by_half_beats([0] * 8, notes, 2 * quaver))
    [((0, 1, 2, 3, 4, 5, 6, 7),), ((0, 1, 2, 3), (4, 5, 6, 7))]
    """
    numbers = dict.fromkeys(number for number in groups if number is not None)
    runs = [tuple(at for at, group in enumerate(groups) if group == number) for number in numbers]
    ways = [((run,), halves) if (halves := _halves(run, notes, beat)) else ((run,),) for run in runs]
    for _, chosen in zip(range(_MOST), product(*ways), strict=False):
        yield tuple(part for parts in chosen for part in parts)


def _halves(run: Run, notes: Sequence[Span], beat: int) -> tuple[Run, ...]:
    """The notes of one beat before and after its middle, where each half has demisemiquavers; else nothing."""
    middle = notes[run[0]][0] // beat * beat + beat // 2
    first = tuple(at for at in run if notes[at][1] <= middle)
    second = tuple(at for at in run if notes[at][0] >= middle)
    fine = all(any(notes[at][2] > _FINE for at in part) for part in (first, second))
    within = notes[run[-1]][1] <= middle + beat // 2 and len(first) + len(second) == len(run)
    return (first, second) if fine and within else ()
