"""The notes of a tonic triad one after another: arpeggios and broken chords, right and by the known wrong rules."""

from __future__ import annotations

from collections.abc import Sequence

from stavewright.theory.chord import ChordLabel, chord_notes
from stavewright.theory.key import Key
from stavewright.theory.pitch import NoteName, Pitch, pitch_at

TONIC = ChordLabel(1)


def climb(names: Sequence[NoteName], octave: int, count: int) -> tuple[Pitch, ...]:
    """So many notes upwards, the names over and over, the first of them in `octave`.

    >>> [pitch.short for pitch in climb((NoteName("A"), NoteName("C"), NoteName("E")), 3, 5)]
    ['A3', 'C4', 'E4', 'A4', 'C5']
    """
    place = 7 * octave + names[0].index
    found = [pitch_at(place, names[0].alter)]
    for number in range(1, count):
        name = names[number % len(names)]
        place += (name.index - place - 1) % 7 + 1
        found.append(pitch_at(place, name.alter))
    return tuple(found)


def tonic_names(key: Key) -> tuple[NoteName, ...]:
    """The 1st, 3rd and 5th notes of a key.

    >>> [name.text for name in tonic_names(Key.parse("E flat"))]
    ['E flat', 'G', 'B flat']
    """
    return chord_notes(key, TONIC)


def turned(row: Sequence[Pitch], direction: str) -> tuple[Pitch, ...]:
    """A rising row as it is asked for: "up", "down" or "both" ways."""
    up = tuple(row)
    return {"up": up, "down": up[::-1], "both": (*up, *up[-2::-1])}[direction]
