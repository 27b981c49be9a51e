"""A rhythm for verse by rule: every foot begins on a beat, lines end on longer notes, the last bar pays the upbeat."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from stavewright.questions.values import WrittenValue
from stavewright.theory.duration import of_ticks
from stavewright.theory.grouping import beam
from stavewright.theory.metre import TimeSignature
from stavewright.theory.verse import Syllable, feet, foot_lengths

Line = Sequence[Syllable]
_USUAL = ("2/4", "3/4", "4/4", "6/8")
Lengths = list[tuple[int, bool]]
"""Ticks, and whether nothing is sung."""


@dataclass(frozen=True, slots=True)
class Setting:
    """A rhythm as it is written: its values, and after how many of them each bar line stands."""

    row: tuple[WrittenValue, ...]
    bar_lines: tuple[int, ...]

    @property
    def bars(self) -> tuple[tuple[WrittenValue, ...], ...]:
        """The values bar by bar."""
        ends = (0, *self.bar_lines, len(self.row))
        return tuple(self.row[start:end] for start, end in pairwise(ends))


def settings(lines: Sequence[Line], time: TimeSignature, *, rests: bool = True) -> tuple[Setting, ...]:
    """Every rhythm the rule gives: plain, then with the first foot of each line dotted; shorter feet first.

    A foot of two syllables is halved in simple time and parted long and short where it goes in three; one of three is
    long and two short, or three alike. `rests` False leaves out those that need a rest.

    >>> from stavewright.theory.verse import read_line
    >>> lines = [read_line("*Who has *seen the *wind?"), read_line("*Nei-ther *I nor *you:")]
    >>> [value.duration.text for value in settings(lines, TimeSignature(4, 4))[0].row[:5]]
    ['crotchet', 'crotchet', 'crotchet', 'crotchet', 'semibreve']
    """
    found: list[Setting] = []
    for foot in foot_lengths(time):
        for dotted in (False, True):
            lengths = _lengths(lines, time, foot, dotted=dotted)
            upbeat = sum(_upbeat(len(feet(lines[0])[0]), foot, three=_in_three(time)))
            made = None if lengths is None else _written(lengths, time, upbeat)
            if made is not None and made not in found and (rests or not any(value.rest for value in made.row)):
                found.append(made)
    return tuple(found)


def times_that_fit(lines: Sequence[Line]) -> str:
    """Which of the usual time signatures the rule finds a rhythm in, as advice.

    >>> from stavewright.theory.verse import read_line
    >>> times_that_fit([read_line("*Boats ^sail ~on the *riv-ers,"), read_line("And *ships ^sail ~on the *seas;")])
    'try 2/4, 3/4, 4/4 or 6/8'
    """
    found = [text for text in _USUAL if settings(lines, TimeSignature.parse(text))]
    if not found:
        return "mark other beats, or take other lines"
    return f"try {' or '.join([', '.join(found[:-1]), found[-1]] if len(found) > 1 else found)}"


def _in_three(time: TimeSignature) -> bool:
    return time.kind == "compound" or time.count == 3


def _parts(count: int, foot: int, *, three: bool, dotted: bool = False) -> list[int]:
    """The ticks of each syllable of a foot that is filled to its end."""
    shares = {1: (6,), 2: (4, 2), 3: (2, 2, 2), 4: (2, 2, 1, 1)} if three else {1: (4,), 2: (2, 2), 3: (2, 1, 1)}
    if dotted and count == (3 if three else 2):
        row: tuple[int, ...] = (3, 1, 2) if three else (3, 1)
    else:
        row = shares.get(count, (1,) * count)
    return [foot * share // sum(row) for share in row]


def _upbeat(count: int, foot: int, *, three: bool) -> list[int]:
    return _parts(count + 1, foot, three=three)[1:]


def _lengths(lines: Sequence[Line], time: TimeSignature, foot: int, *, dotted: bool) -> Lengths | None:
    """The upbeat, and line by line the feet, the last of each lasting to the upbeat of the next line."""
    three = _in_three(time)
    parted = [feet(line) for line in lines]
    upbeats = [_upbeat(len(before), foot, three=three) for before, _ in parted]
    found: Lengths = []
    to_a_bar = time.ticks // foot
    for place, (_, row) in enumerate(parted):
        found += [(ticks, False) for ticks in upbeats[place]]
        for number, one in enumerate(row[:-1]):
            found += [
                (ticks, False) for ticks in _parts(len(one), foot, three=three, dotted=dotted and number == 0)
            ]
        left_over = -len(row) % to_a_bar
        room = (left_over + 1) * foot - sum(upbeats[(place + 1) % len(parted)])
        last = _last(len(row[-1]), foot, room, three=three)
        if last is None:
            return None
        found += last
    return found


def _last(count: int, foot: int, room: int, *, three: bool) -> Lengths | None:
    """The last foot of a line: its last note fills the room, or what is left of the foot, and a rest the remainder."""
    head = [(ticks, False) for ticks in _parts(count, foot, three=three)[:-1]]
    left = room - sum(ticks for ticks, _ in head)
    if left <= 0 and three:
        head = [(foot // 3, False)] * len(head)
        left = room - len(head) * foot // 3
    if left <= 0:
        return None
    if not head and of_ticks(left, max_dots=1) is not None:
        return [(left, False)]
    note = min(left, foot - sum(ticks for ticks, _ in head)) if head else left // foot * foot
    if note <= 0:
        return None
    return [*head, (note, False), *([(left - note, True)] if left > note else [])]


def _written(lengths: Lengths, time: TimeSignature, upbeat: int) -> Setting | None:
    """The values with their beams and bar lines; None where one value cannot stand for a length or crosses a line."""
    place = time.ticks - upbeat if upbeat else 0
    row: list[WrittenValue] = []
    lines: list[int] = []
    bar: list[tuple[int, bool]] = []
    start = place
    for number, (ticks, rest) in enumerate(lengths):
        bar.append((ticks, rest))
        place += ticks
        if place > time.ticks:
            return None
        if place == time.ticks or number == len(lengths) - 1:
            done = _bar(bar, time, start)
            if done is None:
                return None
            row += done
            lines.append(len(row))
            bar, place, start = [], 0, 0
    return Setting(tuple(row), tuple(lines[:-1]))


def _bar(bar: Lengths, time: TimeSignature, start: int) -> list[WrittenValue] | None:
    events = [(of_ticks(ticks, max_dots=1), rest) for ticks, rest in bar]
    known = [(value, rest) for value, rest in events if value is not None]
    if len(known) < len(events):
        return None
    groups = beam(known, time, start=start)
    return [
        WrittenValue.of(value, rest=rest, beam=None if group is None else group + 1)
        for (value, rest), group in zip(known, groups, strict=True)
    ]
