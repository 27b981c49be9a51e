"""Degrees of the scale: their numbers, their names and the notes on them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from stavewright.theory.errors import UnknownDegreeError
from stavewright.theory.interval import ordinal
from stavewright.theory.key import Key
from stavewright.theory.pitch import NoteName, Pitch
from stavewright.theory.scale import scale_names
from stavewright.theory.wording import choose

__all__ = [
    "DEGREE_NAMES",
    "Degree",
    "accepted_degree_names",
    "degree_from_name",
    "degree_name",
    "degree_number",
    "degree_of",
    "note_of_degree",
]

DEGREE_NAMES: Final = {
    "uk": ("tonic", "supertonic", "mediant", "subdominant", "dominant", "submediant", "leading note"),
    "us": ("tonic", "supertonic", "mediant", "subdominant", "dominant", "submediant", "leading tone"),
}
"""The technical names of degrees 1 to 7. Source: Gehrkens, Music Notation and Terminology (1914) §91."""

_READ: Final = {
    **{name: number for names in DEGREE_NAMES.values() for number, name in enumerate(names, start=1)},
    "superdominant": 6,
    "subtonic": 7,
}


@dataclass(frozen=True, slots=True)
class Degree:
    """A note's place in a key: its number from the tonic, and how far it stands from the key signature.

    ``alter`` is 0 where the signature already gives the note, 1 where it is raised, -1 where lowered: the leading note
    of a minor key is ``Degree(7, 1)``.
    """

    number: int
    alter: int = 0

    @property
    def text(self) -> str:
        """The degree in words: ``"raised 7th"``."""
        height = "raised " if self.alter > 0 else "lowered " if self.alter < 0 else ""
        return f"{height}{ordinal(self.number)}"


def degree_of(note: NoteName | Pitch, key: Key) -> Degree:
    """Find a note's degree in a key, with its distance from the signature.

    >>> degree_of(NoteName("G", 1), Key.parse("A minor"))
    Degree(number=7, alter=1)
    """
    name = note.name if isinstance(note, Pitch) else note
    number = (name.index - key.tonic.index) % 7 + 1
    return Degree(number, name.alter - key.alter_of(name.step))


def degree_number(note: NoteName | Pitch, key: Key) -> int | None:
    """Find the number of a note in a key, 1 to 7, or None for a note foreign to it.

    A minor key owns its 6th and 7th both as the signature gives them and raised.

    >>> degree_number(NoteName("G", 1), Key.parse("A minor")), degree_number(NoteName("B", -1), Key.parse("A minor"))
    (7, None)
    """
    degree = degree_of(note, key)
    owned = degree.alter == 0 or (key.is_minor and degree.alter == 1 and degree.number in (6, 7))
    return degree.number if owned else None


def note_of_degree(key: Key, number: int, form: str | None = None) -> NoteName:
    """Find the note on a degree of a key, 1 to 8.

    Without a form a minor key is read in its harmonic form, so that the 7th is the leading note.
    Source: Gehrkens, Music Notation and Terminology (1914) §§86, 91.

    Raises:
        UnknownDegreeError: the number is not 1 to 8.
        UnknownScaleError: no such form.

    >>> note_of_degree(Key.parse("E minor"), 7).text, note_of_degree(Key.parse("E minor"), 7, "natural minor").text
    ('D sharp', 'D')
    """
    if type(number) is not int or not 1 <= number <= 8:
        raise UnknownDegreeError(f"{number!r} is not a degree", right="use 1 to 8")
    return scale_names(key.tonic, form or ("harmonic minor" if key.is_minor else "major"))[number - 1]


def degree_name(number: int, *, lowered: bool = False, words: str = "uk") -> str:
    """Give the technical name of a degree; ``lowered`` marks the 7th a whole tone below the tonic.

    Source: Gehrkens, Music Notation and Terminology (1914) §91; subtonic, Open Music Theory, version 1.

    Raises:
        UnknownDegreeError: the number is not 1 to 8.

    >>> degree_name(6), degree_name(7, lowered=True), degree_name(7, words="us")
    ('submediant', 'subtonic', 'leading tone')
    """
    if type(number) is not int or not 1 <= number <= 8:
        raise UnknownDegreeError(f"{number!r} is not a degree", right="use 1 to 8")
    place = (number - 1) % 7
    name = choose(words, DEGREE_NAMES["uk"][place], DEGREE_NAMES["us"][place])
    return "subtonic" if lowered and number == 7 else name


def accepted_degree_names(number: int, *, lowered: bool = False) -> tuple[str, ...]:
    """List every name a marker takes for a degree, the usual one first.

    The lowered 7th is the subtonic, though some call every 7th the leading note; submediant was once superdominant.

    >>> accepted_degree_names(7, lowered=True)
    ('subtonic', 'leading note', 'leading tone')
    """
    usual = degree_name(number, lowered=lowered)
    others = {6: ("superdominant",), 7: ("leading note", "leading tone")}.get(number, ())
    return (usual, *(name for name in others if name != usual))


def degree_from_name(text: str) -> int:
    """Read a degree from its technical name.

    Raises:
        UnknownDegreeError: no such name.

    >>> degree_from_name("Leading-tone"), degree_from_name("subdominant")
    (7, 4)
    """
    number = _READ.get(" ".join(text.lower().replace("-", " ").split()))
    if number is None:
        raise UnknownDegreeError(f"{text!r} is not the name of a degree", right="use tonic, supertonic, mediant ...")
    return number
