"""Signs for the player on a composed melody: a tempo word, dynamics that follow the contour, slurs and staccato."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from random import Random
from typing import Final

from stavewright.score.event import Event, Note
from stavewright.score.stave import Bar, Direction, Score
from stavewright.theory.duration import Duration

LEVELS: Final = ("pp", "p", "mp", "mf", "f", "ff")
"""Dynamics from soft to loud, as far apart as a melody may go."""


def perform(
    score: Score,
    rng: Random,
    *,
    tempo: str = "",
    dynamics: Sequence[str] = ("p", "mp", "mf", "f"),
    hairpins: bool = True,
    slurs: bool = True,
    staccato: bool = False,
) -> Score:
    """Add signs for the player to a melody on one stave.

    It begins at one level, swells in the bar before its highest note, is louder there by a level or two and falls away
    before the end. Slurs cover two to four notes that move by step within a bar; staccato is for all
    notes of one short value that no slur covers.
    Source: common practice.

    >>> from stavewright.composing.melody import compose_melody
    >>> from stavewright.theory.key import Key
    >>> from stavewright.theory.metre import TimeSignature
    >>> from stavewright.theory.pitch import Pitch
    >>> low, high = Pitch.parse("C4"), Pitch.parse("A5")
    >>> made = compose_melody(Random(1), key=Key.parse("C"), time=TimeSignature(3, 4), low=low, high=high)
    >>> perform(made.score, Random(1), tempo="Andante").staves[0].bars[0].directions[0].text
    'Andante'
    """
    stave = score.staves[0]
    bars = list(stave.bars)
    added: list[list[Direction]] = [list(bar.directions) for bar in bars]
    if tempo:
        added[0].append(Direction("tempo", text=tempo, above=True))
    top = _highest_bar(bars)
    short = rng.choice(("crotchet", "quaver")) if staccato else ""
    if dynamics:
        known = [level for level in LEVELS if level in dynamics] or list(dynamics)
        soft = rng.randrange(max(1, len(known) - 1))
        loud = min(len(known) - 1, soft + rng.choice((1, 1, 2)))
        added[0].append(Direction("dynamic", text=known[soft]))
        if top > 0 and loud != soft:
            added[top].append(Direction("dynamic", text=known[loud]))
        if hairpins and top > 1 and len(bars[top - 1].events) > 1:
            added[top - 1].append(Direction("crescendo", 0, until=len(bars[top - 1].events) - 1))
        late = len(bars) - 2
        if hairpins and late > top and len(bars[late].events) > 1:
            added[late].append(Direction("diminuendo", 0, until=len(bars[late].events) - 1))
            added[-1].append(Direction("dynamic", text=known[soft]))
    dressed = [
        replace(bar, directions=tuple(row), voices=(_touch(bar.events, rng, slurs, short),))
        for bar, row in zip(bars, added, strict=True)
    ]
    return replace(score, staves=(replace(stave, bars=tuple(dressed)), *score.staves[1:]))


def _highest_bar(bars: Sequence[Bar]) -> int:
    peaks = [max((event.pitch.midi for event in bar.events if isinstance(event, Note)), default=0) for bar in bars]
    return peaks.index(max(peaks))


def _touch(events: tuple[Event, ...], rng: Random, slurs: bool, short: str) -> tuple[Event, ...]:
    row = list(events)
    index = 0
    while index < len(row):
        end = _stepwise(row, index)
        first, last = row[index], row[end]
        if slurs and end > index and isinstance(first, Note) and isinstance(last, Note) and rng.random() < 0.6:
            row[index], row[end] = replace(first, slur="start"), replace(last, slur="stop")
        elif isinstance(first, Note) and first.duration == Duration(short or "breve") and short and not first.tie:
            row[index] = replace(first, marks=(*first.marks, "staccato"))
            end = index
        index = end + 1
    return tuple(row)


def _stepwise(row: Sequence[Event], start: int) -> int:
    """The last of up to four notes that move by step from the one at `start`, within one beam or from a crotchet."""
    end = start
    one = row[start]
    most = 3 if isinstance(one, Note) and one.beam is not None else 1
    while end + 1 < len(row) and end - start < most:
        one, other = row[end], row[end + 1]
        if not (isinstance(one, Note) and isinstance(other, Note)) or one.tie or other.tie:
            break
        if abs(one.pitch.diatonic - other.pitch.diatonic) != 1 or one.beam != other.beam:
            break
        end += 1
    return end
