"""Wrong ways to fill a bar with rests: each with its name, to tell a pupil what went wrong."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from stavewright.theory.duration import TICKS, Duration, of_ticks, total_ticks
from stavewright.theory.metre import TimeSignature
from stavewright.theory.rests import check_gap, fill

WRONG_LENGTH: Final = "wrong length"
BAR_LENGTH_REST: Final = "a rest of the bar's length instead of the whole-bar rest"
DOTTED_BEAT: Final = "dotted rest of a beat or more in simple time"
ACROSS_MIDDLE: Final = "across the middle"
ACROSS_BEAT: Final = "across the beat"
MORE_THAN_NEEDED: Final = "more rests than needed"
WRONG_SPLIT: Final = "right length, wrong split"

FAULTS: Final = {
    WRONG_LENGTH: "the rests are longer or shorter than the silence",
    BAR_LENGTH_REST: "a whole silent bar takes a semibreve rest in any of these metres",
    DOTTED_BEAT: "simple time has no dotted rest of a beat or more; the beats must show",
    ACROSS_MIDDLE: "one rest hides the middle of the bar",
    ACROSS_BEAT: "one rest hides the beginning of a beat",
    MORE_THAN_NEEDED: "the same silence is written with fewer rests",
    WRONG_SPLIT: "the rests add up but come in an order that hides the beats or their parts",
}
"""Each fault's name and what is wrong."""


@dataclass(frozen=True, slots=True)
class RestVerdict:
    """Whether a row of rests is accepted, the reason, and the fault's name when it is not."""

    accepted: bool
    reason: str
    fault: str | None = None


@dataclass(frozen=True, slots=True)
class WrongFill:
    """A wrong row of rests and the name of its fault."""

    rests: tuple[Duration, ...]
    fault: str


def judge(
    rests: tuple[Duration, ...],
    position: int,
    length: int,
    time: TimeSignature,
    *,
    grouping: tuple[int, ...] | None = None,
) -> RestVerdict:
    """Whether these rests fill the gap to convention, and if not, by which fault.

    ``position`` and ``length``: ticks, as in :func:`stavewright.theory.rests.fill`.
    Raises: RestError when the gap is not inside the bar.

    >>> c = Duration("crotchet").ticks
    >>> judge((Duration("minim"),), c, 2 * c, TimeSignature(4, 4)).fault
    'across the middle'
    """
    for answer in fill(position, length, time, grouping=grouping):
        if answer.rests == rests:
            return RestVerdict(True, answer.reason)
    fault = _fault(rests, position, length, time, grouping)
    return RestVerdict(False, FAULTS[fault], fault)


def _fault(
    rests: tuple[Duration, ...], position: int, length: int, time: TimeSignature, grouping: tuple[int, ...] | None
) -> str:
    if total_ticks(rests) != length:
        return WRONG_LENGTH
    if length == time.ticks:
        return BAR_LENGTH_REST if len(rests) == 1 else MORE_THAN_NEEDED
    beat = time.beat.ticks
    if time.kind == "simple" and any(rest.dots and rest.ticks >= beat for rest in rests):
        return DOTTED_BEAT
    spans = tuple(_spans(rests, position))
    if time.middle is not None and any(start < time.middle < end for start, end in spans):
        return ACROSS_MIDDLE
    starts = {start for start, _ in time.spans(grouping)} if time.kind == "irregular" else range(0, time.ticks, beat)
    if any(start < begin < end for start, end in spans for begin in starts):
        return ACROSS_BEAT
    if len(rests) > max(len(answer.rests) for answer in fill(position, length, time, grouping=grouping)):
        return MORE_THAN_NEEDED
    return WRONG_SPLIT


def _spans(rests: tuple[Duration, ...], position: int) -> Iterator[tuple[int, int]]:
    for rest in rests:
        yield position, position + rest.ticks
        position += rest.ticks


def wrong_fills(
    position: int, length: int, time: TimeSignature, *, grouping: tuple[int, ...] | None = None
) -> tuple[WrongFill, ...]:
    """Wrong answers a pupil would really write for a gap, each named; none of them is ever an accepted answer.

    Raises: RestError when the gap is not inside the bar.

    >>> c = Duration("crotchet").ticks
    >>> [(wrong.rests[0].text, wrong.fault) for wrong in wrong_fills(c, 3 * c, TimeSignature(4, 4))][0]
    ('dotted minim', 'dotted rest of a beat or more in simple time')
    """
    check_gap(position, length, time)
    found: dict[tuple[Duration, ...], WrongFill] = {}
    for rests in _tempting(position, length, time, grouping):
        verdict = judge(rests, position, length, time, grouping=grouping)
        if rests and verdict.fault is not None:
            found.setdefault(rests, WrongFill(rests, verdict.fault))
    return tuple(found.values())


def _tempting(
    position: int, length: int, time: TimeSignature, grouping: tuple[int, ...] | None
) -> Iterator[tuple[Duration, ...]]:
    """Rows a pupil may try: one rest, longest first, shortest first, all equal, a beat out, a value out."""
    single = of_ticks(length)
    if single is not None:
        yield (single,)
    greedy = _longest_first(length)
    yield greedy
    yield greedy[::-1]
    for answer in fill(position, length, time, grouping=grouping):
        yield answer.rests[::-1]
    for size in (time.beat.ticks, time.unit_value.ticks, time.unit_value.ticks // 2, time.unit_value.ticks // 4):
        value = of_ticks(size)
        if value is not None and length % size == 0 and length // size <= 8:
            yield (value,) * (length // size)
    for other in (length // 2, length - time.unit_value.ticks, length + time.unit_value.ticks):
        if other > 0 and (value := of_ticks(other, max_dots=1)) is not None:
            yield (value,)
    last = greedy[-1]
    for other in (last.ticks // 2, last.ticks * 2):
        if (value := of_ticks(other)) is not None:
            yield (*greedy[:-1], value)


def _longest_first(length: int) -> tuple[Duration, ...]:
    row: list[Duration] = []
    for value, ticks in TICKS.items():
        while length >= ticks:
            row.append(Duration(value))
            length -= ticks
    return tuple(row)
