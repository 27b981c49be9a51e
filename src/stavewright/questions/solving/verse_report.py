"""A rule report on a rhythm written for verse: syllables, bars, stress, line ends and grouping, with their marks."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import accumulate, pairwise

from stavewright.questions.criterion import Criterion, criterion
from stavewright.questions.values import WrittenValue
from stavewright.theory.grouping import is_accepted
from stavewright.theory.metre import TimeSignature
from stavewright.theory.verse import Syllable

Line = Sequence[Syllable]
Row = Sequence[WrittenValue]
TOO_LITTLE = "too little is written to be judged"
UNFINISHED = "a part of the verse has no notes"
UNTOLD = "too few bars add up to tell"
EARNS = {
    "syllables": "There is one note for each syllable.",
    "bars": "Every bar adds up, and the last one leaves out what an upbeat took.",
    "stress": "Strong syllables fall on beats, and no weak one on the first beat of a bar.",
    "ends": "Each line ends on a note no shorter than the one before, and the last one has time to ring.",
    "grouping": "Beams show where the beats are.",
}
"""What earns the marks of each criterion."""


@dataclass(frozen=True, slots=True)
class Bar:
    """One bar as the pupil drew it: its number (0: an upbeat), its values, and whether it adds up.

    `first` counts the values before it, `start` is the tick of the bar where they begin.
    """

    number: int
    values: tuple[WrittenValue, ...]
    first: int
    start: int
    good: bool

    @property
    def name(self) -> str:
        """How the report calls it."""
        return f"bar {self.number}" if self.number else "the upbeat"


@dataclass(frozen=True, slots=True)
class Struck:
    """A note that begins, not one that a tie leads to: which value, its bar and tick there, how long it sounds."""

    index: int
    bar: Bar
    place: int
    ticks: int


def bars_of(row: Row, lines: Sequence[int] | None, time: TimeSignature) -> tuple[Bar, ...]:
    """The bars that the lines make.

    The first may be short, and then the last leaves out as much (common practice); every other bar is full (Gehrkens,
    Music Notation and Terminology, 1914, §96).
    """
    ticks = [value.duration.ticks for value in row]
    inside = sorted({line for line in lines or () if 0 < line < len(row)})
    ends = [0, *inside, len(row)]
    sizes = [sum(ticks[start:end]) for start, end in pairwise(ends)]
    upbeat = sizes[0] if len(sizes) > 1 and sizes[0] < time.ticks else 0
    found: list[Bar] = []
    for place, ((start, end), size) in enumerate(zip(pairwise(ends), sizes, strict=True)):
        first, last = place == 0 and upbeat > 0, place == len(sizes) - 1
        wanted = size if first else time.ticks - upbeat if last else time.ticks
        number = place if upbeat else place + 1
        found.append(Bar(number, tuple(row[start:end]), start, time.ticks - upbeat if first else 0, size == wanted))
    return tuple(found)


def struck(bars: Sequence[Bar]) -> tuple[Struck, ...]:
    """Every note that is sung anew."""
    found: list[Struck] = []
    held = False
    for bar in bars:
        places = accumulate((value.duration.ticks for value in bar.values), initial=bar.start)
        for number, (value, place) in enumerate(zip(bar.values, places, strict=False)):
            if value.rest:
                held = False
                continue
            if held and found:
                last = found[-1]
                found[-1] = Struck(last.index, last.bar, last.place, last.ticks + value.duration.ticks)
            else:
                found.append(Struck(bar.first + number, bar, place, value.duration.ticks))
            held = value.tie
    return tuple(found)


def weight(place: int, time: TimeSignature) -> int:
    """How strong a place of the bar is: 3 its first beat, 2 its middle, 1 another beat, 0 off the beat.

    Source: Gehrkens, Music Notation and Terminology (1914) §100.
    """
    if place % time.ticks == 0:
        return 3
    beat, into = time.beat_at(place % time.ticks)
    return 0 if into else 2 if beat in time.strong_beats else 1


def _pairs(lines: Sequence[Line], notes: Sequence[Struck]) -> Iterator[list[tuple[Syllable, Struck]]]:
    """Each syllable with its note; where there are too few or too many, with the gap at every place it may be."""
    words = [syllable for line in lines for syllable in line]
    spare, extra = max(0, len(words) - len(notes)), max(0, len(notes) - len(words))
    for gap in range(min(len(words), len(notes)) + 1 if spare or extra else 1):
        left = [*words[:gap], *words[gap + spare :]]
        yield list(zip(left, [*notes[:gap], *notes[gap + extra :]], strict=True))


def _misplaced(pairs: Sequence[tuple[Syllable, Struck]], time: TimeSignature) -> list[str]:
    """Every syllable at the wrong place, in words; bars that do not add up are passed over."""
    found: list[str] = []
    heavy = 0
    for number, (syllable, note) in enumerate(pairs):
        here = weight(note.place, time)
        begins = number == 0 or not pairs[number - 1][0].goes_on
        heavy = here if begins or syllable.stress == "strong" else heavy
        if not note.bar.good:
            continue
        plain = syllable.text.strip(".,;:!?")
        if syllable.stress == "strong" and here == 0:
            found.append(f"the strong “{plain}” is off the beat in {note.bar.name}")
        elif syllable.stress == "weak" and here == 3:
            found.append(f"the weak “{plain}” is on the first beat of {note.bar.name}")
        elif syllable.stress == "weak" and not begins and here > heavy:
            found.append(f"the weak “{plain}” is on a stronger beat than the rest of its word in {note.bar.name}")
    return found


def _short_ends(lines: Sequence[Line], notes: Sequence[Struck], row: Row, time: TimeSignature) -> list[str]:
    """Lines that do not come to rest, in words. With a wrong number of notes only the very end can be judged."""
    found: list[str] = []
    if not notes:
        return ["nothing is written"]
    closing = notes[-1]
    if len(notes) == sum(len(line) for line in lines):
        begin = 0
        for number, line in enumerate(lines, 1):
            last = begin + max(place for place, syllable in enumerate(line) if syllable.beats)
            closing = notes[last]
            if last and closing.ticks < notes[last - 1].ticks:
                found.append(f"line {number} ends on a note shorter than the one before")
            begin += len(line)
    upbeat = notes[0].bar.values if notes[0].bar.number == 0 else ()
    wanted = time.beat.ticks - (sum(v.duration.ticks for v in upbeat) if time.kind == "compound" else 0)
    if sum(value.duration.ticks for value in row[closing.index :]) < wanted:
        found.append("the last syllable has no time to ring")
    return found


def _badly_grouped(bars: Sequence[Bar], time: TimeSignature) -> list[Bar]:
    """Bars whose beams hide the beat; without any beam there is nothing to mend, for sung words may go without."""
    found: list[Bar] = []
    for bar in bars:
        groups = [value.beam for value in bar.values]
        if not bar.good or not any(group is not None for group in groups):
            continue
        events = [(value.duration, value.rest) for value in bar.values]
        if not is_accepted(groups, events, time, start=bar.start).accepted:
            found.append(bar)
    return found


def rhythm_criteria(
    lines: Sequence[Line], row: Row, bar_lines: Sequence[int] | None, time: TimeSignature, most: dict[str, int]
) -> tuple[Criterion, ...]:
    """The report: `most` names the criteria (syllables, bars, stress, ends, grouping) and the marks of each.

    An answer of fewer than half the notes earns nothing, one of fewer than three quarters half the marks of each
    criterion at most. One cause costs once: stress and grouping are judged in bars that add up (where most do not, a
    third of the marks for stress is all there is), and where there are too few or too many notes, as if the gap were
    where it does least harm. A rhythm without any bar line is read with its best upbeat. Source of the criteria: common
    practice (stressed syllables on beats, unstressed ones not on the first of the bar, rest at the end of each line).
    """
    wanted = sum(len(line) for line in lines)
    undrawn = not bar_lines and sum(value.duration.ticks for value in row) > time.ticks
    readings = [bars_of(row, bar_lines, time)] if not undrawn else _readings(row, time)
    judged = [min((_misplaced(pairs, time) for pairs in _pairs(lines, struck(bars))), key=len) for bars in readings]
    best = min(range(len(readings)), key=lambda at: len(judged[at]))
    bars, astray = readings[best], judged[best]
    notes = struck(bars)
    if 2 * len(notes) < wanted:
        return tuple(criterion(name, of, of, EARNS[name], TOO_LITTLE) for name, of in most.items())
    wrong = [bar.name for bar in bars if not bar.good]
    short = _short_ends(lines, notes, row, time)
    hidden = [bar.name for bar in _badly_grouped(bars, time)]
    sums = "no bar line is drawn" if undrawn else f"{_list(wrong)} {'do' if len(wrong) > 1 else 'does'} not add up"
    told = {
        "syllables": (int(len(notes) != wanted), f"{wanted} syllables, {len(notes)} notes"),
        "bars": (most["bars"] if undrawn else len(wrong), sums if undrawn or wrong else "every bar adds up"),
        "stress": (len(astray), _list(astray[:2]) if astray else "the strong syllables are on the beats"),
        "ends": (len(short), _list(short) if short else "each line comes to rest"),
        "grouping": (len(hidden), f"the beams of {_list(hidden)} hide the beat" if hidden else "the beams fit"),
    }
    if 2 * len(wrong) > len(bars):
        told["stress"] = max(len(astray), most["stress"] - most["stress"] // 3), UNTOLD
    found = (criterion(name, of, told[name][0], EARNS[name], told[name][1]) for name, of in most.items())
    if 4 * len(notes) < 3 * wanted:
        halved = [(one, max(one.lost, one.of - one.of // 2)) for one in found]
        return tuple(criterion(one.name, one.of, off, one.earns, UNFINISHED) for one, off in halved)
    return tuple(found)


def _readings(row: Row, time: TimeSignature) -> list[tuple[Bar, ...]]:
    """A rhythm without bar lines, read with every upbeat it may have."""
    ends = list(accumulate(value.duration.ticks for value in row))
    found: list[tuple[Bar, ...]] = []
    for upbeat in (0, *(end for end in ends if end < time.ticks)):
        lines = [place for place, end in enumerate(ends, 1) if end >= upbeat and (end - upbeat) % time.ticks == 0]
        found.append(bars_of(row, [line for line in lines if line], time))
    return found


def _list(names: Sequence[str]) -> str:
    return " and ".join(names) if len(names) < 3 else f"{', '.join(names[:-1])} and {names[-1]}"
