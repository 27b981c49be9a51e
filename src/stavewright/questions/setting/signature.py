"""Laying out a signature as the setter means it: by the shape of the pattern, sign after sign up and down the stave."""

from __future__ import annotations

from stavewright.questions.values import Value, WrittenNote
from stavewright.syllabus.scope import Scope
from stavewright.theory.clef import CLEFS
from stavewright.theory.key import Key

# Place of the first sign (0 is the bottom line), then the moves from sign to sign, in lines and spaces.
# Open Music Theory, version 1 (2014), keySignatures, pictures in four clefs.
_SHARPS = {"treble": 8, "alto": 7, "tenor": 2, "bass": 6}
_FLATS = {"treble": 4, "alto": 3, "tenor": 5, "bass": 2}
_SHARP_MOVES = (-3, 4, -3, -3, 4, -3)
_TENOR_MOVES = (4, -3, 4, -3, 4, -3)
_FLAT_MOVES = (3, -4, 3, -4, 3, -4)


def signed_keys(scope: Scope) -> tuple[tuple[Key, ...], tuple[Key, ...]]:
    """The keys of a grade that have a signature to write, and those of them the grade has just added."""
    everything = tuple(key for key in scope.keys if key.fifths)
    majors = scope.fresh.get("majors", ())
    minors = scope.fresh.get("minors", ())
    fresh = tuple(key for key in everything if key.tonic.short in (minors if key.is_minor else majors))
    return everything, fresh


def laid_out(key: Key, clef: str) -> Value:
    """The signature as it is to be written.

    >>> [note.step for note in laid_out(Key.parse("D major"), "alto").notes]
    ['F', 'C']
    """
    sharps = key.fifths > 0
    place = (_SHARPS if sharps else _FLATS)[clef]
    moves = (_TENOR_MOVES if clef == "tenor" else _SHARP_MOVES) if sharps else _FLAT_MOVES
    notes: list[WrittenNote] = []
    for move in (*moves, 0)[: abs(key.fifths)]:
        pitch = CLEFS[clef].pitch_at(place)
        notes.append(WrittenNote(pitch.step, octave=pitch.octave, accidental="sharp" if sharps else "flat"))
        place += move
    return Value(notes=tuple(notes))
