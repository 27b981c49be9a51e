"""A bar of one repeated note as it stands under its beams, right or wrong, and the empty bar to write it in."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import accumulate

from msgspec.structs import replace as changed

from stavewright.questions.showing.bars import bars_score, event_of, gaps_of
from stavewright.questions.values import WrittenValue
from stavewright.score.event import Event, Note
from stavewright.score.stave import Score
from stavewright.theory.duration import Duration
from stavewright.theory.metre import TimeSignature
from stavewright.theory.tuplet import runs


def beamed_score(row: Sequence[WrittenValue], time: TimeSignature) -> Score:
    """The bar as it is written; beams that no pen can draw are left out, ties and beams lead somewhere.

    >>> two = [WrittenValue("quaver", beam=1), WrittenValue("quaver", beam=1), WrittenValue("crotchet", beam=1)]
    >>> [event.beam for event in beamed_score(two, TimeSignature(2, 4)).events()]
    [1, 1, None]
    """
    if not row:
        return empty_bar(time)
    events: list[Event] = []
    for place, one in enumerate(drawable(row), 1):
        event = event_of(one, f"n{place}")
        loose = isinstance(event, Note) and event.tie and (place == len(row) or row[place].rest)
        events.append(replace(event, tie=False) if loose and isinstance(event, Note) else event)
    return bars_score([events], time)


def empty_bar(time: TimeSignature) -> Score:
    """A bar with nothing in it, with room to write: the parts of its beats as gaps g1, g2, ...

    >>> [gap.duration.text for gap in empty_bar(TimeSignature(2, 4)).events()]
    ['quaver', 'quaver', 'quaver', 'quaver']
    """
    size = time.beat.ticks // 2 if time.kind == "simple" else time.unit_value.ticks
    return bars_score([[gap for n in range(time.ticks // size) for gap in gaps_of(size, f"g{n + 1}")]], time)


def drawable(row: Sequence[WrittenValue]) -> tuple[WrittenValue, ...]:
    """The same values with only the beams that can be drawn, numbered from 1.

    A beam joins notes with tails that follow each other (a rest between is passed over), and it covers an irregular
    group whole or stays inside it.

    >>> drawable([WrittenValue("quaver", beam=7)] * 2)[1].beam
    1
    """
    lengths = [_length(one) for one in row]
    beams: list[list[int]] = []
    last: int | None = None
    for place, one in enumerate(row):
        tailed = not one.rest and lengths[place].tails > 0
        if one.rest and one.beam is None:
            continue
        if not tailed or one.beam is None:
            last = None
        elif one.beam == last:
            beams[-1].append(place)
        else:
            beams.append([place])
            last = one.beam
    groups = _groups(lengths)
    whole = [part for beam in beams for part in _cut(beam, groups) if len(part) > 1]
    number = {place: at for at, part in enumerate(whole, 1) for place in part}
    return tuple(changed(one, beam=number.get(place)) for place, one in enumerate(row))


def _length(one: WrittenValue) -> Duration:
    event = event_of(one, "")
    return event.duration


def _groups(lengths: Sequence[Duration]) -> list[range]:
    starts = [0, *accumulate(one.ticks for one in lengths)][: len(lengths)]
    return [run for run in runs(tuple(lengths), tuple(starts), ()) if len(run) > 1]


def _cut(beam: Sequence[int], groups: Sequence[range]) -> list[list[int]]:
    """The beam in parts, cut at both ends of every irregular group that it covers in part."""
    first, last = beam[0], beam[-1]
    cuts: set[int] = set()
    for group in groups:
        inside = group.start <= first and last < group.stop
        whole = first <= group.start and group.stop - 1 <= last
        if not inside and not whole:
            cuts |= {group.start, group.stop}
    parts: list[list[int]] = [[]]
    for place in beam:
        if parts[-1] and any(parts[-1][-1] < cut <= place for cut in cuts):
            parts.append([])
        parts[-1].append(place)
    return parts
