"""Transposition by an exact interval: pitches, note names, keys and whole melodies."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from stavewright.theory.errors import UnknownNoteError
from stavewright.theory.interval import Interval
from stavewright.theory.key import Key, key_of
from stavewright.theory.pitch import OCTAVES, NoteName, Pitch, pitch_at

__all__ = ["respell", "transpose", "transpose_key", "transpose_melody", "transpose_name"]

_NATURAL_MIDI: Final = {
    7 * octave + index: 12 * octave + 12 + semitones
    for octave in OCTAVES
    for index, semitones in enumerate((0, 2, 4, 5, 7, 9, 11))
}


def transpose(pitch: Pitch, interval: Interval, *, up: bool = True) -> Pitch:
    """Move a pitch up or down by an interval, spelled exactly.

    Raises:
        UnknownNoteError: the result would leave the octaves that have numbers.

    >>> from stavewright.theory.interval import Interval
    >>> transpose(Pitch("B", -1, 4), Interval("M", 2)).short
    'C5'
    >>> transpose(Pitch("F", 1, 4), Interval("m", 3), up=False).short
    'D#4'
    """
    if up:
        diatonic = pitch.diatonic + interval.steps
        midi = pitch.midi + interval.semitones
    else:
        diatonic = pitch.diatonic - interval.steps
        midi = pitch.midi - interval.semitones
    try:
        return pitch_at(diatonic, midi - _NATURAL_MIDI[diatonic])
    except KeyError:
        raise UnknownNoteError(
            f"{pitch.short} moved by a {interval.text} leaves the octaves that have numbers",
            right="use a smaller interval",
        ) from None


def transpose_name(name: NoteName, interval: Interval, *, up: bool = True) -> NoteName:
    """Move a note name up or down by an interval, spelled exactly.

    >>> transpose_name(NoteName("E", -1), Interval("P", 5), up=False).text
    'A flat'
    """
    return NoteName.from_fifths(name.fifths + (interval.fifths if up else -interval.fifths))


def transpose_key(key: Key, interval: Interval, *, up: bool = True) -> Key:
    """Move a key up or down by an interval; past seven signs it takes its enharmonic name.

    >>> transpose_key(Key.parse("F sharp major"), Interval("M", 2)).text
    'A flat major'
    """
    return key_of(_signature(key, interval, up=up)[0], key.mode)


def transpose_melody(
    pitches: Sequence[Pitch], key: Key, interval: Interval, *, up: bool = True
) -> tuple[Key, tuple[Pitch, ...]]:
    """Move a melody and its key by an interval; where the key is respelled, every note is respelled with it.

    >>> new, notes = transpose_melody([Pitch("F", 1, 4), Pitch("E", 1, 4)], Key.parse("F# major"), Interval("M", 2))
    >>> new.text, [note.short for note in notes]
    ('A flat major', ['Ab4', 'G4'])
    """
    fifths, letters = _signature(key, interval, up=up)
    moved = (transpose(pitch, interval, up=up) for pitch in pitches)
    return key_of(fifths, key.mode), tuple(respell(pitch, letters) for pitch in moved)


def respell(pitch: Pitch, letters: int) -> Pitch:
    """Write the same sound some letters higher, or lower when negative.

    >>> respell(Pitch("G", 1, 4), 1).short
    'Ab4'
    """
    diatonic = pitch.diatonic + letters
    return pitch_at(diatonic, pitch.midi - _NATURAL_MIDI[diatonic])


def _signature(key: Key, interval: Interval, *, up: bool) -> tuple[int, int]:
    """Give the new signature, and by how many letters its notes are respelled to keep within seven signs."""
    fifths = key.fifths + (interval.fifths if up else -interval.fifths)
    letters = 0
    while fifths > 7:
        fifths, letters = fifths - 12, letters + 1
    while fifths < -7:
        fifths, letters = fifths + 12, letters - 1
    return fifths, letters
