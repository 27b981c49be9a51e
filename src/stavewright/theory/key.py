"""Major and minor keys and their signatures."""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import lru_cache
from typing import Final

from stavewright.theory.clef import Clef
from stavewright.theory.errors import UnknownKeyError
from stavewright.theory.pitch import NoteName, Pitch, name_of

__all__ = [
    "ALL_KEYS",
    "MODES",
    "Key",
    "key_of",
    "nearest_key",
    "signature_alter",
    "signature_layout",
    "signature_signs",
    "signature_text",
]

MODES: Final = ("major", "minor")
MOST_SIGNS: Final = 7

_SHARPS: Final = tuple(name_of(step, 1) for step in "FCGDAEB")
_FLATS: Final = tuple(name_of(step, -1) for step in "BEADGCF")
_OFFSET: Final = {"major": 0, "minor": -3}
_MODE_WORDS: Final = {"major": "major", "maj": "major", "minor": "minor", "min": "minor", "m": "minor"}

# Open Music Theory, version 1 (2014), keySignatures, pictures of the seven sharps and seven flats in four clefs.
_LAYOUT: Final = {
    ("treble", 1): "F5 C5 G5 D5 A4 E5 B4",
    ("treble", -1): "B4 E5 A4 D5 G4 C5 F4",
    ("alto", 1): "F4 C4 G4 D4 A3 E4 B3",
    ("alto", -1): "B3 E4 A3 D4 G3 C4 F3",
    ("tenor", 1): "F3 C4 G3 D4 A3 E4 B3",
    ("tenor", -1): "B3 E4 A3 D4 G3 C4 F3",
    ("bass", 1): "F3 C3 G3 D3 A2 E3 B2",
    ("bass", -1): "B2 E3 A2 D3 G2 C3 F2",
}


@dataclass(frozen=True, slots=True)
class Key:
    """A major or minor key, by tonic and mode.

    ``fifths`` is its signature: sharps counted up, flats counted down, 0 for none.

    Raises:
        UnknownKeyError: the mode is neither major nor minor, or the key would need more than seven signs.

    >>> Key(NoteName("F", 1), "minor").fifths
    3
    """

    tonic: NoteName
    mode: str
    fifths: int = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        if self.mode not in _OFFSET:
            raise UnknownKeyError(f"{self.mode!r} is not a mode", right="use 'major' or 'minor'")
        fifths = self.tonic.fifths + _OFFSET[self.mode]
        if abs(fifths) > MOST_SIGNS:
            raise UnknownKeyError(
                f"{self.tonic.text} {self.mode} would need {abs(fifths)} signs",
                right=f"use {nearest_key(self.tonic, self.mode).text}",
            )
        object.__setattr__(self, "fifths", fifths)

    @property
    def is_minor(self) -> bool:
        """Whether the key is minor."""
        return self.mode == "minor"

    @property
    def text(self) -> str:
        """The key in words: ``"F sharp minor"``."""
        return f"{self.tonic.text} {self.mode}"

    @property
    def short(self) -> str:
        """The tonic in plain type, a small letter for minor: ``"f#"``, ``"Bb"``."""
        tonic = self.tonic.short
        return tonic[0].lower() + tonic[1:] if self.is_minor else tonic

    @property
    def relative(self) -> Key:
        """The key of the other mode with the same signature.

        >>> Key.parse("Eb major").relative.text
        'C minor'
        """
        return key_of(self.fifths, "major" if self.is_minor else "minor")

    @property
    def parallel(self) -> Key:
        """The key of the other mode on the same tonic, respelled where it would need more than seven signs.

        >>> Key.parse("C minor").parallel.text, Key.parse("Db major").parallel.text
        ('C major', 'C sharp minor')
        """
        return nearest_key(self.tonic, "major" if self.is_minor else "minor")

    @property
    def enharmonic(self) -> Key | None:
        """The key that sounds the same under another name, if its signature has seven signs or fewer.

        Source: Gehrkens, Music Notation and Terminology (1914) §83.

        >>> Key.parse("Gb").enharmonic.text
        'F sharp major'
        """
        other = self.fifths - 12 if self.fifths > 0 else self.fifths + 12
        return key_of(other, self.mode) if abs(other) <= MOST_SIGNS else None

    @property
    def signature(self) -> tuple[NoteName, ...]:
        """The signs of the signature, in the order they are printed."""
        return signature_signs(self.fifths)

    @property
    def leading_note(self) -> NoteName:
        """The note a semitone below the tonic: in a minor key the raised 7th."""
        return NoteName.from_fifths(self.tonic.fifths + 5)

    def alter_of(self, step: str) -> int:
        """What the signature does to a letter: 1 sharp, -1 flat, 0 nothing.

        >>> Key.parse("D major").alter_of("F")
        1
        """
        return signature_alter(self.fifths, step)

    def holds(self, name: NoteName) -> bool:
        """Whether the note belongs to the signature, so that it needs no accidental.

        >>> Key.parse("D major").holds(NoteName("F", 1))
        True
        """
        return -1 <= name.fifths - self.fifths <= 5

    @staticmethod
    def parse(text: str) -> Key:
        """Read a key from ``"F# minor"``, ``"F sharp minor"``, ``"f#"``, ``"Amin"``, ``"Bb"`` or ``"E flat"``.

        Without a mode a capital means major and a small letter minor.

        Raises:
            UnknownKeyError: the text is not a key, or the key would need more than seven signs.

        >>> Key.parse("f#").text, Key.parse("Bb").text, Key.parse("Amin").text
        ('F sharp minor', 'B flat major', 'A minor')
        """
        return _parse(text)

    @staticmethod
    def from_signature(fifths: int, mode: str) -> Key:
        """Find the key of a mode by its signature: sharps counted up, flats counted down.

        >>> Key.from_signature(-3, "minor").text
        'C minor'
        """
        return key_of(fifths, mode)


def nearest_key(tonic: NoteName, mode: str) -> Key:
    """Find the key on a tonic, respelled where it would need more than seven signs.

    >>> nearest_key(NoteName("G", 1), "major").text
    'A flat major'
    """
    fifths = tonic.fifths + _OFFSET[mode]
    if abs(fifths) > MOST_SIGNS:
        fifths = (fifths + 5) % 12 - 5
    return key_of(fifths, mode)


@lru_cache(maxsize=64)
def key_of(fifths: int, mode: str) -> Key:
    """Give the one shared object of a key from its signature and mode.

    Raises:
        UnknownKeyError: more than seven signs, or no such mode.

    >>> key_of(2, "major").text
    'D major'
    """
    _check_signature(fifths)
    if mode not in _OFFSET:
        raise UnknownKeyError(f"{mode!r} is not a mode", right="use 'major' or 'minor'")
    return Key(NoteName.from_fifths(fifths - _OFFSET[mode]), mode)


def signature_signs(fifths: int) -> tuple[NoteName, ...]:
    """List the signs of a signature in the order they are printed.

    Source: Gehrkens, Music Notation and Terminology (1914) §83.

    Raises:
        UnknownKeyError: more than seven signs.

    >>> [sign.short for sign in signature_signs(-3)]
    ['Bb', 'Eb', 'Ab']
    """
    _check_signature(fifths)
    return _SHARPS[:fifths] if fifths > 0 else _FLATS[: max(-fifths, 0)]


def signature_alter(fifths: int, step: str) -> int:
    """What a signature does to a letter: 1 sharp, -1 flat, 0 nothing.

    >>> signature_alter(-1, "B")
    -1
    """
    place = name_of(step, 0).fifths
    return 1 if fifths > place + 1 else -1 if place - 5 >= fifths + 1 else 0


def signature_layout(fifths: int, clef: Clef) -> tuple[Pitch, ...]:
    """Place the signs of a signature on the stave of a clef, in printed order.

    Source: the pictures of Open Music Theory, version 1, page on key signatures. The tenor clef's sharps start low.

    Raises:
        UnknownKeyError: more than seven signs.

    >>> from stavewright.theory.clef import clef
    >>> [sign.short for sign in signature_layout(2, clef("tenor"))]
    ['F#3', 'C#4']
    """
    _check_signature(fifths)
    return _full_layout(clef.name, 1 if fifths > 0 else -1)[: abs(fifths)]


@lru_cache(maxsize=8)
def _full_layout(clef: str, alter: int) -> tuple[Pitch, ...]:
    return tuple(Pitch.parse(place).altered(alter) for place in _LAYOUT[clef, alter].split())


def signature_text(fifths: int) -> str:
    """Describe a signature in words: ``"3 flats"``, ``"1 sharp"``, ``"no sharps or flats"``.

    >>> signature_text(-3)
    '3 flats'
    """
    _check_signature(fifths)
    if not fifths:
        return "no sharps or flats"
    return f"{abs(fifths)} {'sharp' if fifths > 0 else 'flat'}{'s' if abs(fifths) > 1 else ''}"


def _check_signature(fifths: int) -> None:
    if type(fifths) is not int or abs(fifths) > MOST_SIGNS:
        raise UnknownKeyError(f"{fifths!r} is not a key signature", right="use -7 (seven flats) to 7 (seven sharps)")


@lru_cache(maxsize=512)
def _parse(text: str) -> Key:
    right = "write it as 'F# minor' or 'E flat major'"
    words = text.split()
    tail = words[-1] if words else ""
    mode = None
    if len(words) > 1 and (tail.lower() in _MODE_WORDS) and tail != "M":
        mode, words = _MODE_WORDS[tail.lower()], words[:-1]
    elif len(words) == 1:
        for ending in ("major", "minor", "maj", "min", "m"):
            if tail.endswith(ending) and len(tail) > len(ending):
                mode, words = _MODE_WORDS[ending], [tail[: -len(ending)]]
                break
    note = " ".join(words)
    try:
        tonic = NoteName.parse(note)
    except ValueError:
        raise UnknownKeyError(f"{text!r} is not a key", right=right) from None
    return Key(tonic, mode or ("minor" if note[0].islower() else "major"))


ALL_KEYS: Final = tuple(key_of(fifths, mode) for mode in MODES for fifths in range(-MOST_SIGNS, MOST_SIGNS + 1))
"""The thirty keys: fifteen major from seven flats to seven sharps, then fifteen minor."""
