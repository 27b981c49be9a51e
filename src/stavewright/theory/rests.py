"""Completing a bar with rests: every accepted answer, the preferred one first, and the named wrong ones."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import chain, product
from typing import Final

from stavewright.theory.duration import TICKS, Duration, of_ticks, total_ticks
from stavewright.theory.errors import StavewrightError
from stavewright.theory.metre import TimeSignature

_SHORTEST: Final = TICKS["hemidemisemiquaver"]
_SEMIBREVE: Final = Duration("semibreve")
_BREVE: Final = Duration("breve")

Row = tuple[Duration, ...]
Option = tuple[Row, str]


class RestError(StavewrightError):
    """A gap that lies outside the bar or that no rests can fill."""


@dataclass(frozen=True, slots=True)
class RestFill:
    """One accepted row of rests for a gap, and why it is right.

    ``whole_bar``: the rest means the bar whatever its length, so the ticks need not add up.
    """

    rests: tuple[Duration, ...]
    reason: str
    whole_bar: bool = False


def fill(
    position: int, length: int, time: TimeSignature, *, grouping: tuple[int, ...] | None = None
) -> tuple[RestFill, ...]:
    """Every accepted way to fill a silent gap with rests, the preferred one first.

    ``position``: ticks from the bar's start to the gap; ``length``: its ticks; ``grouping``: that of an irregular bar
    when the bar shows it. Raises: RestError when the gap is outside the bar or finer than a hemidemisemiquaver.
    Sources: The Open University, An introduction to music theory (2016) §4.2-4.4; Gehrkens, Music Notation and
    Terminology (1914) §5, 33; LilyPond Notation Reference, full measure rests; compound part-beats from memory.

    >>> crotchet = Duration("crotchet").ticks
    >>> [rest.text for rest in fill(crotchet, 3 * crotchet, TimeSignature(4, 4))[0].rests]
    ['crotchet', 'minim']
    """
    check_gap(position, length, time)
    if length == time.ticks:
        return _whole_bar(time)
    if time.kind != "irregular":
        return _unique(_filled(position, length, time, None))
    choices = time.groupings if grouping is None else (grouping,)
    time.spans(choices[0])
    return _unique(found for choice in choices for found in _filled(position, length, time, choice))


def check_gap(position: int, length: int, time: TimeSignature) -> None:
    """Refuse a gap that is not inside the bar.

    Raises: RestError saying what would be right.

    >>> check_gap(0, TimeSignature(3, 4).ticks, TimeSignature(3, 4))
    """
    if length <= 0 or position < 0 or position + length > time.ticks:
        raise RestError(
            f"a gap of {length} ticks at {position} is not inside a {time.text} bar; "
            f"it must lie within 0 to {time.ticks}"
        )
    if position % _SHORTEST or length % _SHORTEST:
        raise RestError(
            f"a gap of {length} ticks at {position} is finer than a hemidemisemiquaver; "
            f"both must be multiples of {_SHORTEST}"
        )


def _whole_bar(time: TimeSignature) -> tuple[RestFill, ...]:
    whole = RestFill((_SEMIBREVE,), "a semibreve rest stands for any whole silent bar", True)
    if (time.beats, time.unit) != (4, 2):
        return (whole,)
    return (
        RestFill((_BREVE,), "a 4/2 bar is as long as a breve, and many write a breve rest", True),
        RestFill((_SEMIBREVE,), "also accepted: a semibreve rest stands for any whole silent bar", True),
    )


def _unique(fills: Iterator[RestFill]) -> tuple[RestFill, ...]:
    first: dict[Row, RestFill] = {}
    for found in fills:
        first.setdefault(found.rests, found)
    return tuple(first.values())


@lru_cache(maxsize=4096)
def _options(position: int, length: int, time: TimeSignature, grouping: tuple[int, ...] | None) -> tuple[Option, ...]:
    pieces = tuple(_pieces(position, length, time, grouping))
    found: list[Option] = []
    for rows in product(*pieces):
        reasons = dict.fromkeys(reason for _, reason in rows)
        found.append((tuple(rest for row, _ in rows for rest in row), "; ".join(reasons)))
    return tuple(found)


def _filled(position: int, length: int, time: TimeSignature, grouping: tuple[int, ...] | None) -> Iterator[RestFill]:
    shown = "" if grouping is None else f" (grouped {'+'.join(map(str, grouping))})"
    for rests, reason in _options(position, length, time, grouping):
        yield RestFill(rests, reason + shown)


def _pieces(
    position: int, length: int, time: TimeSignature, grouping: tuple[int, ...] | None
) -> Iterator[tuple[Option, ...]]:
    """The gap cut into the parts that are decided alone, each with its accepted rows."""
    if time.kind == "irregular":
        for start, size in time.spans(grouping):
            begin, end = max(position, start), min(position + length, start + size)
            if begin < end:
                yield from _in_group(begin - start, end - begin, size, time)
        return
    yield from _in_beats(position, length, time.beat.ticks, time.count, compound=time.kind == "compound")


def _value(ticks: int) -> Duration:
    found = of_ticks(ticks)
    if found is None:
        raise RestError(f"no single rest lasts {ticks} ticks")
    return found


def _in_group(offset: int, length: int, size: int, time: TimeSignature) -> Iterator[tuple[Option, ...]]:
    """A group of an irregular bar, treated as a little bar (crotchets) or as one beat (quavers)."""
    unit = time.unit_value.ticks
    count = size // unit
    if time.unit == 8 and count == 3:
        yield from _in_beats(offset, length, size, 1, compound=True)
    elif count == 2 and length == size:
        whole, parts = _value(size), _value(unit)
        yield (((whole,), "one rest for the whole group"), ((parts, parts), "also accepted: one rest for each beat"))
    else:
        yield from _in_beats(offset, length, unit, count, compound=False)


def _in_beats(position: int, length: int, beat: int, count: int, *, compound: bool) -> Iterator[tuple[Option, ...]]:
    end = position + length
    while position < end:
        into = position % beat
        if into or end - position < beat:
            stop = min(end, position - into + beat)
            yield _part_beat(into, stop - position, beat, compound=compound)
        else:
            whole = min((end - position) // beat, 2 if position // beat % 2 == 0 else 1)
            yield _whole_beats(position // beat, whole, beat, count, compound=compound)
            stop = position + whole * beat
        position = stop


def _whole_beats(first: int, whole: int, beat: int, count: int, *, compound: bool) -> tuple[Option, ...]:
    each = _one_beat(beat, compound=compound)
    if whole == 1:
        return each
    spelt = tuple(
        (left[0] + right[0], left[1] if left[1] == right[1] else f"{left[1]}; {right[1]}")
        for left, right in product(each, each)
    )
    both = _value(2 * beat)
    if count == 4:
        half = (((both,), "one rest for the first or last half of the bar"),)
        if compound or both == _SEMIBREVE:
            return half + tuple((row, "also accepted: " + why.removeprefix("also accepted: ")) for row, why in spelt)
        return half
    if count == 3 and first == 0 and not compound and both != _SEMIBREVE:
        return (*spelt, ((both,), "also accepted: some texts allow one rest for beats 1 and 2"))
    return spelt


def _one_beat(beat: int, *, compound: bool) -> tuple[Option, ...]:
    value = _value(beat)
    if not compound:
        return (((value,), "a new rest for each beat"),)
    longer, shorter = _value(beat * 2 // 3), _value(beat // 3)
    return (
        ((value,), "a dotted rest for each whole beat"),
        ((longer, shorter), "also accepted: the beat as two thirds and one third"),
    )


def _part_beat(into: int, length: int, beat: int, *, compound: bool) -> tuple[Option, ...]:
    """Part of one beat: finish the small division that has begun before going on to a larger one."""
    if not compound:
        return _halved(into, length, beat)
    third = beat // 3
    if into == 0 and length >= 2 * third:
        pair, single = _value(2 * third), _value(third)
        rest = _halved(0, length - 2 * third, third) if length > 2 * third else (((), ""),)
        return tuple(
            (row + tail, why)
            for row, why in (
                ((pair,), "one rest for the first two thirds of a beat"),
                ((single, single), "also accepted: one rest for each third of the beat"),
            )
            for tail, _ in rest
        )
    rows = []
    position = into
    while position < into + length:
        stop = min(into + length, position - position % third + third)
        rows.append(_halved(position % third, stop - position, third))
        position = stop
    return tuple(
        (tuple(chain.from_iterable(row for row, _ in chosen)), "each third of the beat is finished before the next")
        for chosen in product(*rows)
    )


def _halved(into: int, length: int, whole: int) -> tuple[Option, ...]:
    """Rests inside an undotted span, each starting where a multiple of its own length falls."""
    rests: list[Duration] = []
    position = into
    while position < into + length:
        size = whole
        while position % size or size > into + length - position:
            size //= 2
        rests.append(_value(size))
        position += size
    reason = "each part of the beat is finished before the next"
    options: list[Option] = [(tuple(rests), reason)]
    if into == 0 and len(rests) == 2 and (dotted := of_ticks(length, max_dots=1)) is not None:
        options.append(((dotted,), "also accepted: some allow a dotted rest at the start of a beat"))
    return tuple(options)


def adds_up(rests: tuple[Duration, ...], length: int) -> bool:
    """Whether the rests last exactly as long as the gap.

    >>> adds_up((Duration("crotchet"), Duration("crotchet")), Duration("minim").ticks)
    True
    """
    return total_ticks(rests) == length
