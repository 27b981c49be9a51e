"""Rows of notes with no bar lines that are longer than the page: cut into pieces that can stand on several systems."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import replace

from stavewright.score.event import Event, Gap, Note
from stavewright.score.stave import Bar, Direction, Score


def cut_rows(score: Score, lengths: Sequence[float], room: float) -> tuple[Score, tuple[int, ...]]:
    """The score with every free bar longer than `room` in pieces, and for each drawn bar the index it had.

    `lengths`: how long each bar is, in the units of `room`. Only unnumbered music on one stave is cut, never inside
    a beam, an irregular group or a hairpin. A piece ends with no bar line.

    >>> from stavewright.score.stave import single
    >>> from stavewright.theory.duration import Duration
    >>> row = single("treble", tuple(Gap(Duration("semibreve"), f"g{i}") for i in range(8)))
    >>> cut, origins = cut_rows(row, [100.0], 60.0)
    >>> [len(bar.events) for bar in cut.staves[0].bars], origins
    ([4, 4], (0, 0))
    """
    whole = tuple(range(len(lengths)))
    if len(score.staves) > 1 or score.numbered:
        return score, whole
    bars: list[Bar] = []
    origins: list[int] = []
    for index, bar in enumerate(score.staves[0].bars):
        pieces = [bar]
        if bar.free and len(bar.voices) == 1 and lengths[index] > room:
            pieces = _pieces(bar, math.ceil(lengths[index] / room))
        bars += pieces
        origins += [index] * len(pieces)
    if len(bars) == len(lengths):
        return score, whole
    return replace(score, staves=(replace(score.staves[0], bars=tuple(bars)),)), tuple(origins)


def _pieces(bar: Bar, count: int) -> list[Bar]:
    events = bar.events
    allowed = [place for place in range(1, len(events)) if _may_cut(events, place) and not _held(bar.directions, place)]
    cuts: list[int] = []
    for number in range(1, count):
        wanted = len(events) * number / count
        free = [place for place in allowed if not cuts or place > cuts[-1]]
        if free:
            cuts.append(min(free, key=lambda place: abs(place - wanted)))
    edges = [0, *cuts, len(events)]
    out: list[Bar] = []
    for start, end in itertools.pairwise(edges):
        first, last = start == 0, end == len(events)
        out.append(
            replace(
                bar,
                voices=(events[start:end],),
                line=bar.line if last else "none",
                repeat_start=bar.repeat_start and first,
                time=bar.time if first else None,
                fifths=bar.fifths if first else None,
                clef=bar.clef if first else None,
                directions=tuple(_moved(one, start) for one in bar.directions if start <= one.at < end),
            )
        )
    return out


def _moved(one: Direction, start: int) -> Direction:
    until = None if one.until is None else one.until - start
    return replace(one, at=one.at - start, until=until)


def _held(directions: Sequence[Direction], place: int) -> bool:
    """Whether a hairpin or other long sign runs over the place, or out of the bar."""
    return any(
        one.until is not None and one.at < place and (one.until >= place or one.until_bar > 0) for one in directions
    )


def _may_cut(events: Sequence[Event], place: int) -> bool:
    before, after = events[place - 1], events[place]
    if isinstance(before, Note) and before.grace:
        return False
    if before.duration.tuplet is not None and after.duration.tuplet is not None:
        return False
    left = {event.beam for event in events[:place] if not isinstance(event, Gap)} - {None}
    right = {event.beam for event in events[place:] if not isinstance(event, Gap)} - {None}
    return not left & right
