"""Chords as stacks of thirds: triads and sevenths by root, kind and inversion."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from stavewright.theory.errors import UnknownChordError
from stavewright.theory.pitch import NoteName, Pitch

__all__ = [
    "INVERSION_NAMES",
    "KINDS",
    "TRIADS",
    "Chord",
    "bass_first",
    "chord_of",
    "read_chord",
]

KINDS: Final = {
    "major": (0, 4, 1),
    "minor": (0, -3, 1),
    "diminished": (0, -3, -6),
    "augmented": (0, 4, 8),
    "dominant 7th": (0, 4, 1, -2),
    "major 7th": (0, 4, 1, 5),
    "minor 7th": (0, -3, 1, -2),
    "half-diminished 7th": (0, -3, -6, -2),
    "diminished 7th": (0, -3, -6, -9),
}
"""Each kind of chord as distances along the line of fifths from its root."""

TRIADS: Final = ("major", "minor", "diminished", "augmented")

_SHAPES: Final = {frozenset(distances): kind for kind, distances in KINDS.items()}
_OPEN_SHAPES: Final = {frozenset(distances) - {1}: kind for kind, distances in KINDS.items() if distances[2] == 1}

INVERSION_NAMES: Final = ("root position", "first inversion", "second inversion", "third inversion")

_SYMBOLS: Final = {
    "major": "",
    "minor": "m",
    "diminished": "dim",
    "augmented": "aug",
    "dominant 7th": "7",
    "major 7th": "maj7",
    "minor 7th": "m7",
    "half-diminished 7th": "m7b5",
    "diminished 7th": "dim7",
}


@dataclass(frozen=True, slots=True)
class Chord:
    """A triad or seventh by root and kind, and which of its notes is in the bass.

    ``inversion`` is 0 with the root in the bass, 1 the third, 2 the fifth, 3 the seventh.
    Source: Gehrkens, Music Notation and Terminology (1914) §§196-201, 209.

    Raises:
        UnknownChordError: no such kind, or an inversion the chord does not have.

    >>> [name.short for name in Chord(NoteName("C"), "minor", 1).notes]
    ['Eb', 'G', 'C']
    """

    root: NoteName
    kind: str
    inversion: int = 0

    def __post_init__(self) -> None:
        if self.kind not in KINDS:
            raise UnknownChordError(f"{self.kind!r} is not a kind of chord", right=f"use one of {', '.join(KINDS)}")
        if self.inversion not in range(len(KINDS[self.kind])):
            raise UnknownChordError(
                f"a {self.kind} chord has no inversion {self.inversion!r}",
                right=f"use 0 (root position) to {len(KINDS[self.kind]) - 1}",
            )

    @property
    def notes(self) -> tuple[NoteName, ...]:
        """The notes from the bass upwards in close position."""
        stack = _stack(self.root.fifths, self.kind)
        return stack[self.inversion :] + stack[: self.inversion]

    @property
    def bass(self) -> NoteName:
        """The note in the bass."""
        return self.notes[0]

    @property
    def is_seventh(self) -> bool:
        """Whether the chord has a seventh."""
        return len(KINDS[self.kind]) == 4

    @property
    def text(self) -> str:
        """The chord in words: ``"C minor, first inversion"``."""
        return f"{self.root.text} {self.kind}, {INVERSION_NAMES[self.inversion]}"

    @property
    def symbol(self) -> str:
        """The chord symbol, with the bass after a stroke where it is not the root: ``"Am/C"``.

        Source: Open Music Theory, version 1 (slash for the bass).

        >>> Chord(NoteName("A"), "minor", 1).symbol
        'Am/C'
        """
        bass = f"/{self.bass.short}" if self.inversion else ""
        return f"{self.root.short}{_SYMBOLS[self.kind]}{bass}"


def chord_of(root: NoteName, kind: str, inversion: int = 0) -> tuple[NoteName, ...]:
    """Spell a chord from the bass upwards.

    Raises:
        UnknownChordError: no such kind, or an inversion the chord does not have.

    >>> [name.short for name in chord_of(NoteName("G"), "dominant 7th")]
    ['G', 'B', 'D', 'F']
    """
    return Chord(root, kind, inversion).notes


@lru_cache(maxsize=1024)
def _stack(fifths: int, kind: str) -> tuple[NoteName, ...]:
    return tuple(NoteName.from_fifths(fifths + distance) for distance in KINDS[kind])


def bass_first(notes: Sequence[NoteName | Pitch]) -> tuple[NoteName, ...]:
    """List the different note names of a chord, its bass first.

    Pitches are put in order from the lowest; of bare note names the first is taken as the bass.

    >>> [name.short for name in bass_first([Pitch("C", 0, 5), Pitch("E", 0, 3), Pitch("E", 0, 4)])]
    ['E', 'C']
    """
    pitches = [note for note in notes if isinstance(note, Pitch)]
    if pitches and len(pitches) == len(notes):
        pitches.sort(key=lambda pitch: (pitch.midi, pitch.diatonic))
        return _different(pitch.name for pitch in pitches)
    return _different(note.name if isinstance(note, Pitch) else note for note in notes)


def _different(names: Iterable[NoteName]) -> tuple[NoteName, ...]:
    return tuple(dict.fromkeys(names))


def read_chord(notes: Sequence[NoteName | Pitch], *, without_fifth: bool = False) -> Chord | None:
    """Read sounding notes as a triad or seventh: root, kind and inversion, or None if they are neither.

    Doublings and spacing do not matter. With ``without_fifth`` a chord that lacks its fifth is read as well, as the
    first kind it fits in the order major, minor, dominant 7th, major 7th, minor 7th.

    >>> read_chord([Pitch("F", 1, 4), Pitch("D", 0, 4), Pitch("A", 0, 3)]).text
    'D major, second inversion'
    """
    names = bass_first(notes)
    found = _match(names, full=True)
    return found if found is not None or not without_fifth else _match(names, full=False)


def _match(names: tuple[NoteName, ...], *, full: bool) -> Chord | None:
    shapes = _SHAPES if full else _OPEN_SHAPES
    places = [name.fifths for name in names]
    for root in names:
        kind = shapes.get(frozenset([place - root.fifths for place in places]))
        if kind is not None:
            return Chord(root, kind, KINDS[kind].index(places[0] - root.fifths))
    return None
