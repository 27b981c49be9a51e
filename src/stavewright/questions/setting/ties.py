"""Rhythms with a tie where a note would do, or with dots to be undone, and what they become."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

from msgspec.structs import replace

from stavewright.questions.setting.bars import pick_time, rhythm_bar
from stavewright.questions.values import WrittenValue
from stavewright.syllabus.scope import Scope
from stavewright.theory.duration import VALUES, Duration, total_ticks
from stavewright.theory.metre import TimeSignature

_TRIES = 24
_KEPT_SHARE = 0.6
_DOUBLE_SHARE = 0.4
_LONGEST = 12

Row = tuple[WrittenValue, ...]


@dataclass(frozen=True, slots=True)
class Over:
    """A rhythm as it is shown and as it is meant, under its time signature."""

    time: str
    shown: Row
    meant: Row


def over_tied(scope: Scope, rng: Random) -> Over | None:
    """Bars in which one or two notes are written as tied ones that need no tie, often with a tie that must stay."""
    for _ in range(_TRIES):
        time = pick_time(scope, rng, ("simple", "compound"))
        bars = [list(rhythm_bar(scope, rng, time, tuplets=False)) for _ in range(2)]
        if scope.dots > 1 and time.kind == "simple" and rng.random() < _DOUBLE_SHARE:
            _double_dot(bars[0], scope)
        row = [one for bar in bars for one in bar]
        stays = _staying(bars, time) if rng.random() < _KEPT_SHARE else []
        kept = rng.choice(stays) if stays else None
        free = [n for n, one in enumerate(row) if n not in (kept, _after(kept)) and _splits(row, n, time, scope)]
        if not free or not 4 <= len(row) <= _LONGEST:
            continue
        # a long or dotted note is the better one to hide behind a tie
        free.sort(key=lambda n: (row[n].dots, row[n].ticks), reverse=True)
        split = set(free[: rng.choice((1, 2))])
        shown: list[WrittenValue] = []
        meant: list[WrittenValue] = []
        for place, one in enumerate(row):
            parts = _parts(one) if place in split else [one]
            shown += [WrittenValue.of(part, tie=n < len(parts) - 1) for n, part in enumerate(parts)]
            meant.append(WrittenValue.of(one))
            if place == kept:
                shown[-1], meant[-1] = replace(shown[-1], tie=True), replace(meant[-1], tie=True)
        return Over(time.text, tuple(shown), tuple(meant))
    return None


def over_dotted(scope: Scope, rng: Random) -> Over | None:
    """Bars in simple time with one to three dotted notes, and the same with a tie for each dot."""
    for _ in range(_TRIES):
        time = pick_time(scope, rng, ("simple",))
        bars = [list(rhythm_bar(scope, rng, time, tuplets=False)) for _ in range(rng.choice((1, 2)))]
        if scope.dots > 1 and rng.random() < _DOUBLE_SHARE:
            _double_dot(bars[0], scope)
        row = [one for bar in bars for one in bar]
        dotted = [one for one in row if one.dots]
        known = all(part.type in scope.values for one in dotted for part in _parts(one))
        if not 1 <= len(dotted) <= 3 or not known or len(row) > _LONGEST:
            continue
        meant: list[WrittenValue] = []
        for one in row:
            parts = _parts(one) if one.dots else [one]
            meant += [WrittenValue.of(part, tie=n < len(parts) - 1) for n, part in enumerate(parts)]
        return Over(time.text, tuple(WrittenValue.of(one) for one in row), tuple(meant))
    return None


def _double_dot(bar: list[Duration], scope: Scope) -> None:
    """Make the first note double-dotted where it is dotted and the next one fills up its value."""
    if len(bar) < 2 or bar[0].dots != 1 or bar[1].dots or bar[1].ticks * 2 != Duration(bar[0].type).ticks:
        return
    short = VALUES[VALUES.index(bar[1].type) + 1]
    if short in scope.values:
        bar[:2] = [Duration(bar[0].type, 2), Duration(short)]


def _parts(one: Duration) -> list[Duration]:
    """A dotted note as plain ones, a plain note as its halves."""
    place = VALUES.index(one.type)
    if one.dots:
        return [Duration(VALUES[place + n]) for n in range(one.dots + 1)]
    return [Duration(VALUES[place + 1])] * 2


def _splits(row: list[Duration], at: int, time: TimeSignature, scope: Scope) -> bool:
    """Whether the note may be cut in two: its parts are known, and it hides no beat that should show."""
    one = row[at]
    if one.ticks < Duration("crotchet").ticks or one.type == "breve":
        return False
    start = total_ticks(row[:at]) % time.ticks
    end = start + one.ticks
    beat = time.beat.ticks
    inside = start // beat == (end - 1) // beat
    whole = start % beat == 0 and (time.kind == "simple" or end % beat == 0)
    middle = time.count == 4 and 0 < start < 2 * beat < end
    return (inside or whole) and not middle and all(part.type in scope.values for part in _parts(one))


def _staying(bars: list[list[Duration]], time: TimeSignature) -> list[int]:
    """After which notes a tie may lead on and has to stay: at the bar line, and inside at the middle of four beats."""
    found = [len(bars[0]) - 1]
    if time.count == 4:
        for bar, done in ((bars[0], 0), (bars[1], len(bars[0]))):
            for at in range(1, len(bar) - 1):
                if total_ticks(bar[: at + 1]) == 2 * time.beat.ticks:
                    found.append(done + at)
    return found


def _after(kept: int | None) -> int | None:
    return None if kept is None else kept + 1
