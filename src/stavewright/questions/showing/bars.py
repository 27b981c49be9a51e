"""Rhythms as scores: bars of one repeated note, with rests, gaps, beams and bar lines as they are written."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from stavewright.questions.values import WrittenValue
from stavewright.score.event import Event, Gap, Note, Rest
from stavewright.score.stave import Bar, Score, Stave
from stavewright.theory.duration import TICKS, Duration, of_ticks
from stavewright.theory.errors import StavewrightError
from stavewright.theory.metre import TimeSignature
from stavewright.theory.pitch import Pitch

MIDDLE = Pitch("B", 0, 4)
_LONGEST_FIRST = sorted(TICKS.values(), reverse=True)


def event_of(value: WrittenValue, id: str) -> Event:
    """One written value as a note or rest on the middle line; a value that does not exist is drawn as a crotchet.

    >>> event_of(WrittenValue("quaver", rest=True), "r1").duration.text
    'quaver'
    """
    try:
        length = value.duration
    except StavewrightError:
        length = Duration("crotchet")
    if value.rest:
        return Rest(length, id)
    return Note(MIDDLE, length, id, tie=value.tie, beam=value.beam)


def gaps_of(ticks: int, id: str, label: str | None = None) -> tuple[Gap, ...]:
    """Empty room of so many ticks: one gap, or several where no one value is so long; the first bears the label.

    >>> [gap.duration.text for gap in gaps_of(5 * Duration("quaver").ticks, "g1")]
    ['minim', 'quaver']
    """
    whole = of_ticks(ticks, max_dots=1)
    if whole is not None:
        return (Gap(whole, id, label),)
    row: list[Gap] = []
    for size in _LONGEST_FIRST:
        while ticks >= size:
            length = of_ticks(size)
            if length is None:
                raise AssertionError(f"no value lasts {size} ticks")
            row.append(Gap(length, f"{id}-{len(row) + 1}" if row else id, None if row else label))
            ticks -= size
    return tuple(row)


def bars_score(
    bars: Sequence[Sequence[Event]], time: TimeSignature | None, *, last: str = "single", free: bool = False
) -> Score:
    """Bars of a rhythm on one stave; a bar that does not add up is drawn as it is.

    >>> row = [event_of(WrittenValue("minim"), f"n{i}") for i in (1, 2)]
    >>> bars_score([row], TimeSignature(3, 4)).staves[0].bars[0].free
    True
    """
    lines = ["single"] * (len(bars) - 1) + [last]
    made = tuple(
        Bar((tuple(_beams(row)),), line=line, free=free or not _adds_up(row, time))
        for row, line in zip(bars, lines, strict=True)
    )
    return Score((Stave("treble", made, time=time),))


def _beams(row: Sequence[Event]) -> Iterable[Event]:
    """A beam of one note is no beam."""
    groups = [event.beam for event in row if isinstance(event, Note | Rest)]
    for event in row:
        if isinstance(event, Note) and event.beam is not None and groups.count(event.beam) < 2:
            yield Note(event.pitch, event.duration, event.id, tie=event.tie)
        else:
            yield event


def _adds_up(row: Sequence[Event], time: TimeSignature | None) -> bool:
    if time is None:
        return False
    if len(row) == 1 and isinstance(row[0], Rest) and row[0].whole_bar:
        return True
    return sum(event.ticks for event in row) == time.ticks
