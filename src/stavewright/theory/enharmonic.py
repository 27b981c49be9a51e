"""Enharmonic notes: different names for one key of the keyboard."""

from __future__ import annotations

from stavewright.theory.pitch import NoteName, Pitch
from stavewright.theory.transposition import respell

__all__ = ["are_twins", "simplest", "twin_names", "twin_pitches"]


def twin_names(name: NoteName, most: int = 2) -> tuple[NoteName, ...]:
    """List the other names of a note with no more than ``most`` signs, fewest signs first.

    >>> [twin.short for twin in twin_names(NoteName("C"))]
    ['B#', 'Dbb']
    """
    reach = range(name.fifths % 12 - 12 * (most + 1), 12 * (most + 2), 12)
    others = (NoteName.from_fifths(fifths) for fifths in reach if fifths != name.fifths)
    return tuple(sorted((twin for twin in others if abs(twin.alter) <= most), key=lambda twin: abs(twin.alter)))


def twin_pitches(pitch: Pitch, most: int = 2) -> tuple[Pitch, ...]:
    """List the other spellings of a pitch with no more than ``most`` signs; octave numbers follow the letter.

    Source: Gehrkens, Music Notation and Terminology (1914) §27.

    >>> [twin.short for twin in twin_pitches(Pitch("C", 0, 4))]
    ['B#3', 'Dbb4']
    """
    answer: list[Pitch] = []
    for twin in twin_names(pitch.name, most):
        letters = (twin.index - pitch.name.index) % 7
        near = (letters, letters - 7)
        answer.extend(spelt for spelt in (respell(pitch, letter) for letter in near) if spelt.name == twin)
    return tuple(answer)


def are_twins(first: NoteName | Pitch, second: NoteName | Pitch) -> bool:
    """Whether two notes sound the same under different names; pitches must be in the same octave too.

    >>> are_twins(NoteName("F", 1), NoteName("G", -1)), are_twins(Pitch("B", 1, 4), Pitch("C", 0, 4))
    (True, False)
    """
    if first == second:
        return False
    if isinstance(first, Pitch) and isinstance(second, Pitch):
        return first.midi == second.midi
    return _keyboard(first) == _keyboard(second)


def _keyboard(note: NoteName | Pitch) -> int:
    return note.name.pitch_class if isinstance(note, Pitch) else note.pitch_class


def simplest(pitch: Pitch) -> Pitch:
    """Spell a pitch with the fewest signs; a black key already spelt with one sign is left alone.

    >>> simplest(Pitch("F", 2, 4)).short, simplest(Pitch("E", 1, 4)).short
    ('G4', 'F4')
    """
    return min((pitch, *twin_pitches(pitch)), key=lambda spelt: abs(spelt.alter))
