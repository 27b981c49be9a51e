"""A rule report on a rhythm that answers another: bar sums, length, ending, balance, grouping, and their marks."""

from __future__ import annotations

from collections.abc import Sequence

from stavewright.questions.criterion import Criterion, criterion, none_of
from stavewright.questions.values import WrittenValue
from stavewright.theory.grouping import is_accepted
from stavewright.theory.metre import TimeSignature

_BAR_MARKS = 2
Row = tuple[WrittenValue, ...]


def in_bars(row: Sequence[WrittenValue], time: TimeSignature) -> list[Row]:
    """A row of values parted into bars: each bar ends when it is full or overfull.

    >>> row = [WrittenValue("minim"), WrittenValue("crotchet"), WrittenValue("minim")]
    >>> [len(bar) for bar in in_bars(row, TimeSignature(2, 4))]
    [1, 2]
    """
    bars: list[Row] = []
    now: list[WrittenValue] = []
    for value in row:
        now.append(value)
        if sum(one.duration.ticks for one in now) >= time.ticks:
            bars.append(tuple(now))
            now = []
    return [*bars, tuple(now)] if now else bars


def _plain(bar: Row) -> list[tuple[str, int, bool]]:
    return [(value.type, value.dots, value.rest) for value in bar]


def _full(bar: Row, time: TimeSignature) -> bool:
    return sum(value.duration.ticks for value in bar) == time.ticks


def _beamed_well(bar: Row, time: TimeSignature) -> bool:
    groups = tuple(value.beam for value in bar)
    if not any(group is not None for group in groups):
        return True
    return is_accepted(groups, [(value.duration, value.rest) for value in bar], time).accepted


def report(row: Sequence[WrittenValue], given: Sequence[Row], time: TimeSignature) -> tuple[Criterion, ...]:
    """The report: bars add up (2), right length (1), ending (1), balance (1), grouping (1).

    An answer ends on a note of a beat or more; it takes up the rhythm of a bar of what it answers, but does not merely
    copy it. A bar that does not add up is one fault, whatever it does to the length. With less than half of the length
    written nothing is earned.
    Source of the criteria: common practice (question and answer of one length, the second part like the first,
    a long note at the close).
    """
    bars = in_bars(row, time)
    wrong = [number for number, bar in enumerate(bars, 1) if not _full(bar, time)]
    over = len(bars) - len(given)
    closing = bool(row) and not row[-1].rest and row[-1].duration.ticks >= time.beat.ticks
    known = [_plain(bar) for bar in given]
    taken = next((number for number, bar in enumerate(bars, 1) if _plain(bar) in known), None)
    copied = [_plain(bar) for bar in bars] == known
    badly = [number for number, bar in enumerate(bars, 1) if _full(bar, time) and not _beamed_well(bar, time)]
    if copied:
        balance = "it only copies the question"
    elif taken is None:
        balance = "no bar is like one of the question"
    else:
        balance = f"bar {taken} has the rhythm of bar {known.index(_plain(bars[taken - 1])) + 1} of the question"
    criteria = (
        criterion(
            "bars",
            _BAR_MARKS,
            len(wrong),
            f"Every bar adds up to {time.text}; each that does not loses its share.",
            f"{named_bars(wrong, 'does', 'do')} not add up" if wrong else "every bar adds up",
        ),
        criterion(
            "length",
            1,
            int(over != 0),
            f"The answer is as long as the question: {len(given)} bars.",
            f"it is {'longer' if over > 0 else 'shorter'} than the question" if over else f"it has {len(given)} bars",
        ),
        criterion(
            "ending",
            1,
            int(not closing),
            "It ends on a note of a beat or longer.",
            "it ends on a long note" if closing else "it does not end on a long note",
        ),
        criterion(
            "balance",
            1,
            int(taken is None or copied),
            "It takes up the rhythm of a bar of the question, and does not only copy it.",
            balance,
        ),
        criterion(
            "grouping",
            1,
            int(bool(badly)),
            "Beams show where the beats are.",
            f"the beams of {named_bars(badly)} hide the beat" if badly else "the beams fit",
        ),
    )
    return none_of(criteria) if 2 * sum(one.duration.ticks for one in row) < time.ticks * len(given) else criteria


def named_bars(numbers: Sequence[int], one: str = "", several: str = "") -> str:
    """Bars by their numbers, with the verb that goes with one or several of them.

    >>> named_bars([2]), named_bars([2, 4], "does", "do"), named_bars([1, 2, 3])
    ('bar 2', 'bars 2 and 4 do', 'bars 1, 2 and 3')
    """
    words = [str(number) for number in dict.fromkeys(numbers)]
    if len(words) == 1:
        return f"bar {words[0]} {one}".rstrip()
    return f"bars {', '.join(words[:-1])} and {words[-1]} {several}".rstrip()
