"""What need not be typed because a rule gives it: beams, printed signs, ids, which bars may be short."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from stavewright.score.errors import BadScore
from stavewright.score.event import Chord, Event, Gap, Note, Rest
from stavewright.score.stave import Score
from stavewright.score.writing import with_accidentals
from stavewright.theory.grouping import GroupingError, beam
from stavewright.theory.metre import TimeSignature


def beams_by_rule(voice: Sequence[Event], time: TimeSignature | None, *, upbeat: bool) -> tuple[int | None, ...]:
    """The beam group of each event of a voice as the time signature asks; None everywhere without one.

    >>> from stavewright.theory.duration import Duration
    >>> beams_by_rule([Rest(Duration("quaver"))] * 2, TimeSignature(2, 4), upbeat=False)
    (None, None)
    """
    none: tuple[int | None, ...] = (None,) * len(voice)
    if time is None:
        return none
    timed = [place for place, event in enumerate(voice) if event.ticks]
    row = [(voice[place].duration, isinstance(voice[place], Rest | Gap)) for place in timed]
    length = sum(duration.ticks for duration, _ in row)
    if length > time.ticks:
        return none
    try:
        found = beam(row, time, start=time.ticks - length if upbeat else 0)
    except GroupingError:
        return none
    by_place = dict(zip(timed, found, strict=True))
    return tuple(by_place.get(place) for place in range(len(voice)))


def signs_by_rule(score: Score) -> list[tuple[str | None, ...]]:
    """The signs that each event's pitches need, in the order of `Score.events`; () for rests and gaps."""
    try:
        signed = with_accidentals(score)
    except BadScore:
        return [_unsigned(event) for event in score.events()]
    return [event.accidentals if isinstance(event, Note | Chord) else () for event in signed.events()]


def _unsigned(event: Event) -> tuple[str | None, ...]:
    return (None,) * len(event.pitches) if isinstance(event, Note | Chord) else ()


def signed(event: Event, signs: tuple[str | None, ...]) -> Event:
    """An event with those printed signs."""
    if isinstance(event, Note):
        return event.signed(signs[0])
    return replace(event, accidentals=signs) if isinstance(event, Chord) else event


def free_by_rule(index: int, bars: int, length: int, time: TimeSignature | None, *, upbeat: bool) -> bool:
    """Whether a bar may be short: every bar without a time signature, an upbeat, and the last bar after an upbeat."""
    if time is None:
        return True
    return upbeat and (index == 0 or (index == bars - 1 and length < time.ticks))
