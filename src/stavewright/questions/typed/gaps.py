"""A typed stave with gaps in its bars: the values that are printed, and the places left to fill."""

from __future__ import annotations

from typing import Any

from msgspec import to_builtins

from stavewright.questions.values import WrittenValue
from stavewright.score.event import Chord, Gap, Note, Rest
from stavewright.score.stave import Score


def bars_with_gaps(score: Score) -> dict[str, Any] | None:
    """The time signature, the values of each bar, and each run of gaps: its bar, how many values stand before, ticks.

    >>> from stavewright.score.compact.reading import read_music
    >>> bars_with_gaps(read_music("treble 2/4: C5:4 _:4"))["gaps"]
    [{'bar': 0, 'after': 1, 'ticks': 161280}]
    """
    stave = score.staves[0]
    gaps: list[dict[str, int]] = []
    bars: list[list[dict[str, Any]]] = []
    for number, bar in enumerate(stave.bars):
        row: list[dict[str, Any]] = []
        for event in bar.events:
            if not isinstance(event, Gap):
                beam = None if event.beam is None else event.beam + 1
                tie = isinstance(event, Note | Chord) and event.tie
                written = WrittenValue.of(event.duration, rest=isinstance(event, Rest), tie=tie, beam=beam)
                row.append(to_builtins(written))
            elif gaps and (gaps[-1]["bar"], gaps[-1]["after"]) == (number, len(row)):
                gaps[-1]["ticks"] += event.ticks
            else:
                gaps.append({"bar": number, "after": len(row), "ticks": event.ticks})
        bars.append(row)
    return None if stave.time is None else {"time": stave.time.text, "bars": bars, "gaps": gaps}
