"""Reading the chord under a bracket: chord notes told from passing and neighbour notes."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from stavewright.score.event import Chord, Event, Gap, Note, Rest
from stavewright.score.stave import Bracket, Score
from stavewright.theory.chord import ROMANS, ChordLabel, chord_notes
from stavewright.theory.errors import UnknownChordError
from stavewright.theory.key import Key
from stavewright.theory.pitch import NoteName, Pitch


@dataclass(frozen=True, slots=True)
class Heard:
    """A note that sounds under a bracket: its pitch, when it begins and how long it lasts there, its event's id."""

    pitch: Pitch
    start: int
    length: int
    id: str


@dataclass(frozen=True, slots=True)
class Reading:
    """What a bracket holds: its label, its chord notes, and the notes that do not belong to the chord."""

    label: ChordLabel
    chord: tuple[Heard, ...]
    strays: tuple[Heard, ...]


def under(score: Score, bracket: Bracket) -> tuple[Heard, ...]:
    """Every note that sounds between the ends of a bracket, in all staves, in order of time and then of height.

    Raises:
        UnknownChordError: the bracket's ends are not in one bar.
    """
    for index in range(len(score.staves[0].bars)):
        rows = [_timed(voice) for stave in score.staves for voice in stave.bars[index].voices]
        ends = {event.id: (start, start + event.ticks) for row in rows for start, event in row if event.id}
        if bracket.first in ends and bracket.last in ends:
            begin, end = ends[bracket.first][0], ends[bracket.last][1]
            found = [
                Heard(pitch, max(start, begin), min(start + event.ticks, end) - max(start, begin), event.id)
                for row in rows
                for start, event in row
                if isinstance(event, Note | Chord) and start < end and start + event.ticks > begin
                for pitch in event.pitches
            ]
            return tuple(sorted(found, key=lambda one: (one.start, one.pitch.midi)))
    raise UnknownChordError(f"bracket {bracket.label!r} does not begin and end in one bar")


def _timed(voice: Sequence[Event]) -> list[tuple[int, Event]]:
    found: list[tuple[int, Event]] = []
    now = 0
    for event in voice:
        if not isinstance(event, Rest | Gap):
            found.append((now, event))
        now += event.ticks
    return found


def read_bracket(heard: Sequence[Heard], key: Key, numerals: Sequence[str]) -> Reading:
    """The chord of the key that sounds longest with all its notes; what is left over are passing and neighbour notes.

    The lowest chord note of all is the bass.

    Raises:
        UnknownChordError: no chord of the key has all its notes there, or two have them for as long.
    """
    weights: Counter[NoteName] = Counter()
    for one in heard:
        weights[one.pitch.name] += one.length
    found: list[tuple[int, int]] = []
    for numeral in numerals:
        degree = ROMANS.index(numeral) + 1
        names = chord_notes(key, ChordLabel(degree))
        if all(name in weights for name in names):
            found.append((sum(weights[name] for name in names), degree))
    found.sort(reverse=True)
    if not found or (len(found) > 1 and found[0][0] == found[1][0]):
        spelt = ", ".join(name.text for name in weights)
        raise UnknownChordError(f"{spelt} can be read as {'no' if not found else 'two'} chords of {key.text}")
    degree = found[0][1]
    names = chord_notes(key, ChordLabel(degree))
    chord = tuple(one for one in heard if one.pitch.name in names)
    bass = min(chord, key=lambda one: one.pitch.midi).pitch.name
    strays = tuple(one for one in heard if one.pitch.name not in names)
    return Reading(ChordLabel(degree, names.index(bass)), chord, strays)


def with_seventh(reading: Reading, key: Key) -> ChordLabel | None:
    """The label V7 where the 7th of V passes by under the bracket, else None."""
    if reading.label.degree != 5:
        return None
    seventh = chord_notes(key, ChordLabel(5, seventh=True))[3]
    passes = any(one.pitch.name == seventh for one in reading.strays)
    return ChordLabel(5, reading.label.inversion, seventh=True) if passes else None


def counting_strays(reading: Reading, heard: Sequence[Heard], key: Key) -> ChordLabel | None:
    """The label that comes of taking a passing note for a chord note: the chord that has it and fits best."""
    if not reading.strays:
        return None
    stray = reading.strays[-1]
    now = [one for one in heard if one.start <= stray.start < one.start + one.length]
    names = [one.pitch.name for one in now]
    bass = min(now, key=lambda one: one.pitch.midi).pitch.name
    best: tuple[int, int] = (0, 0)
    for degree in range(1, 8):
        chord = chord_notes(key, ChordLabel(degree))
        if stray.pitch.name in chord:
            best = max(best, (len(set(chord) & set(names)), -degree))
    degree = -best[1]
    if degree == 0:
        return None
    chord = chord_notes(key, ChordLabel(degree))
    return ChordLabel(degree, chord.index(bass) if bass in chord else 0)
