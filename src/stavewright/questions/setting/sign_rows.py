"""Three plain bars in which a named sign has one place to go, for questions on where signs belong."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from random import Random

from stavewright.questions.values import Place
from stavewright.score.event import Note
from stavewright.score.stave import Bar, Score, Stave
from stavewright.score.writing import with_ids
from stavewright.theory.clef import CLEFS
from stavewright.theory.duration import Duration
from stavewright.theory.metre import TimeSignature
from stavewright.theory.pitch import Pitch

TIMES = {"2/4": 2, "3/4": 3, "4/4": 4}
"""The time signatures these bars come in, with their crotchet beats."""

_BARS = 3
_TRIES = 20
_MIDDLE = 4  # places from the bottom line to the middle one
_STEPS = (-3, -2, -1, -1, 1, 1, 2, 3)
_VALUES = ("quaver", "crotchet")


@dataclass(frozen=True, slots=True)
class SignRow:
    """The music, and where the sign is meant to go: the bar and the value it is about, and the places."""

    score: Score
    bar: int
    value: str
    places: tuple[Place, ...]


def sign_row(rng: Random, rule: str, clef: str, low: Pitch, high: Pitch, time: str) -> SignRow | None:
    """Three bars that suit a rule ("each", "above", "first", "longest", "tie", "slur"); None where no draw does.

    >>> made = sign_row(Random(1), "first", "treble", Pitch("C", 0, 4), Pitch("A", 0, 5), "3/4")
    >>> [(place.bar, place.note) for place in made.places]
    [(1, 1), (2, 1), (3, 1)]
    """
    for _ in range(_TRIES):
        bar = rng.randint(1, _BARS)
        rows = [_rhythm(rng, TIMES[time], long=rule == "longest" and at == bar) for at in range(1, _BARS + 1)]
        if rule == "above":
            rows[bar - 1] = ["crotchet"] * TIMES[time]
        heights = _walk(rng, low.diatonic + 1, high.diatonic - 1, sum(map(len, rows)))
        value = rng.choice(_VALUES) if rule == "each" else ""
        if rule == "tie":
            at = rng.randrange(1, len(heights))
            heights[at] = heights[at - 1]
        places = (
            _above(rows, heights, bar, CLEFS[clef].bottom_line.diatonic + _MIDDLE)
            if rule == "above"
            else _meant(rule, rows, heights, bar, value)
        )
        if places:
            asked = bar if rule in ("each", "above", "slur") else 0
            return SignRow(_music(clef, time, rows, heights), asked, value, places)
    return None


def _rhythm(rng: Random, beats: int, *, long: bool) -> list[str]:
    """One bar of crotchets and pairs of quavers; `long` puts one minim in it."""
    row: list[str] = []
    where = rng.randrange(beats - 1) if long else -1
    beat = 0
    while beat < beats:
        if beat == where:
            row.append("minim")
            beat += 2
            continue
        row += rng.choice((["crotchet"], ["quaver", "quaver"]))
        beat += 1
    return row


def _walk(rng: Random, low: int, high: int, count: int) -> list[int]:
    """Heights on the stave, no two neighbours the same."""
    heights = [rng.randint(low, high)]
    while len(heights) < count:
        height = heights[-1] + rng.choice(_STEPS)
        if low <= height <= high:
            heights.append(height)
    return heights


def _meant(rule: str, rows: Sequence[list[str]], heights: list[int], bar: int, value: str) -> tuple[Place, ...]:
    """The places that are meant; none where the music does not suit the rule."""
    flat = [(number, at + 1, length) for number, row in enumerate(rows, 1) for at, length in enumerate(row)]
    if rule == "each":
        fits = [Place(number, at) for number, at, length in flat if number == bar and length == value]
        return tuple(fits) if 2 <= len(fits) < len(rows[bar - 1]) else ()
    if rule == "first":
        return tuple(Place(number, 1) for number in range(1, len(rows) + 1))
    if rule == "longest":
        return tuple(Place(number, at) for number, at, length in flat if length == "minim")
    if rule == "slur":
        return (Place(bar, 1), Place(bar, len(rows[bar - 1]))) if len(rows[bar - 1]) > 2 else ()
    twins = [at for at in range(1, len(heights)) if heights[at] == heights[at - 1]]
    return tuple(Place(*flat[at][:2]) for at in (twins[0] - 1, twins[0])) if len(twins) == 1 else ()


def _above(rows: Sequence[list[str]], heights: Sequence[int], bar: int, middle: int) -> tuple[Place, ...]:
    """The notes of a bar that lie above the middle line, so that their stems go down and signs stand above the head.

    None where a note stands on the middle line, whose stem may go either way, or where all lie on one side.
    """
    start = sum(map(len, rows[: bar - 1]))
    inside = heights[start : start + len(rows[bar - 1])]
    found = tuple(Place(bar, at) for at, height in enumerate(inside, 1) if height > middle)
    return found if middle not in inside and 0 < len(found) < len(inside) else ()


def _music(clef: str, time: str, rows: Sequence[list[str]], heights: Sequence[int]) -> Score:
    """The bars as they are written, quavers beamed in pairs."""
    bars, at = [], 0
    for number, row in enumerate(rows, 1):
        notes, group = [], 0
        for place, length in enumerate(row):
            group += length == "quaver" and row[:place].count("quaver") % 2 == 0
            beam = group if length == "quaver" else None
            notes.append(Note(Pitch.from_diatonic(heights[at]), Duration(length), beam=beam))
            at += 1
        bars.append(Bar((tuple(notes),), line="final" if number == len(rows) else "single"))
    stave = Stave(clef, tuple(bars), time=TimeSignature.parse(time))
    return with_ids(Score((stave,), numbered=True))
