"""Writing a rhythm and its pitches down as a score: beams, ties, accidentals, ids, the last bar line."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from stavewright.composing.cells import Cell
from stavewright.composing.rhythm import Rhythm
from stavewright.score.event import Event, Note, Rest
from stavewright.score.stave import Bar, Score, Stave
from stavewright.score.writing import with_accidentals
from stavewright.theory.beam_groups import Groups
from stavewright.theory.beaming import beam
from stavewright.theory.key import Key
from stavewright.theory.metre import TimeSignature
from stavewright.theory.pitch import Pitch


@lru_cache(maxsize=8192)
def beams_of(row: Cell, time: TimeSignature, grouping: tuple[int, ...] | None, start: int) -> Groups:
    """The usual beams of one bar; `start` is where its first value stands, later than 0 in a pick-up."""
    return beam([(value.duration, value.rest) for value in row], time, grouping=grouping, start=start)


def write(rhythm: Rhythm, pitches: Sequence[Pitch], key: Key, clef: str, *, numbered: bool = False) -> Score:
    """Write one pitch for every sounding note of a rhythm, tied notes counting once, on a stave with its signature."""
    given = iter(pitches)
    bars: list[Bar] = []
    counter = 0
    held: Pitch | None = None
    last = len(rhythm.bars) - 1
    for index, row in enumerate(rhythm.bars):
        pick = bool(rhythm.pickup) and index == 0
        beams = beams_of(row, rhythm.time, rhythm.grouping, rhythm.time.ticks - rhythm.pickup if pick else 0)
        events: list[Event] = []
        for value, group in zip(row, beams, strict=True):
            counter += 1
            if value.rest:
                events.append(Rest(value.duration, f"n{counter}", beam=group))
                continue
            pitch = next(given) if held is None else held
            events.append(Note(pitch, value.duration, f"n{counter}", tie=value.tie, beam=group))
            held = pitch if value.tie else None
        free = bool(rhythm.pickup) and index in (0, last)
        bars.append(Bar((tuple(events),), line="final" if index == last else "single", free=free))
    stave = Stave(clef, tuple(bars), fifths=key.fifths, time=rhythm.time)
    return with_accidentals(Score((stave,), numbered=numbered, anacrusis=bool(rhythm.pickup)))


def rhythm_score(rhythm: Rhythm, pitch: Pitch | None = None, clef: str = "treble") -> Score:
    """Write a rhythm on one pitch, B4 unless another is given, with no key signature.

    >>> from random import Random
    >>> from stavewright.composing.rhythm import compose_rhythm
    >>> made = rhythm_score(compose_rhythm(Random(1), time=TimeSignature(3, 4), bars=2))
    >>> {note.pitch.short for note in made.notes()}
    {'B4'}
    """
    one = pitch or Pitch("B", 0, 4)
    count = sum(1 for row in rhythm.bars for value in row if not value.rest)
    return write(rhythm, [one] * count, Key.parse("C"), clef)
