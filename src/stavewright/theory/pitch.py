"""Note names and pitches on the line of fifths: a letter, an alteration, an octave."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Final

from stavewright.theory.errors import UnknownNoteError

__all__ = ["STEPS", "NoteName", "Pitch", "alteration_text", "name_of", "pitch_at"]

STEPS: Final = "CDEFGAB"
"""The seven letters, from C upwards, as octave numbers count them."""

MOST_SIGNS: Final = 99
"""The largest alteration taken, so that no name grows without bound."""

OCTAVES: Final = range(-9, 20)

_SEMITONE: Final = (0, 2, 4, 5, 7, 9, 11)
_FIFTHS: Final = (0, 2, 4, -1, 1, 3, 5)
_INDEX: Final = {letter: index for index, letter in enumerate(STEPS)}
_NATURAL_FIFTHS: Final = dict(zip(STEPS, _FIFTHS, strict=True))
_LINE: Final = "FCGDAEB"
_WORDS: Final = {1: "", 2: "double ", 3: "triple ", 4: "quadruple "}
_SHORT: Final = {"♯": "#", "♭": "b", "𝄪": "##", "𝄫": "bb", "x": "##", "♮": ""}
_NAME: Final = re.compile(r" ?([A-Ga-g])([#b♯♭𝄪𝄫x♮]{0,99}|[a-z\- ]{1,24}) ?(-?\d{1,2})? ?")
_SIGN_WORDS: Final = {
    "": 0,
    "natural": 0,
    "sharp": 1,
    "flat": -1,
    "double sharp": 2,
    "double flat": -2,
    "triple sharp": 3,
    "triple flat": -3,
    "quadruple sharp": 4,
    "quadruple flat": -4,
}


def alteration_text(alter: int) -> str:
    """Name an alteration in words: ``"sharp"``, ``"double flat"``, and nothing for a natural note.

    Source: Gehrkens, Music Notation and Terminology (1914) §§22-26; beyond double, common practice.

    >>> alteration_text(-2)
    'double flat'
    """
    if not alter:
        return ""
    size = abs(alter)
    return f"{_WORDS.get(size, f'{size}-fold ')}{'sharp' if alter > 0 else 'flat'}"


def _short_sign(alter: int) -> str:
    return "#" * alter if alter > 0 else "b" * -alter


def _symbol_sign(alter: int) -> str:
    size = abs(alter)
    single, double = ("♯", "𝄪") if alter > 0 else ("♭", "𝄫")
    return single * (size % 2) + double * (size // 2)


def _check_name(step: object, alter: object) -> None:
    if not isinstance(step, str) or step not in _INDEX:
        raise UnknownNoteError(f"{step!r} is not a letter name", right="use one of C D E F G A B")
    if type(alter) is not int or abs(alter) > MOST_SIGNS:
        raise UnknownNoteError(
            f"{alter!r} is not an alteration", right="use a whole number of semitones: 1 for a sharp, -1 for a flat"
        )


@dataclass(frozen=True, slots=True)
class NoteName:
    """A note name without its octave, such as F sharp.

    ``alter`` counts semitones from the natural note (1 sharp, -1 flat). ``fifths`` is the place on the line of
    fifths: C is 0, each fifth up adds one.

    Raises:
        UnknownNoteError: the letter is not one of C to B, or the alteration is not a whole number.

    >>> NoteName("F", 1).text, NoteName("B", -1).fifths
    ('F sharp', -2)
    """

    step: str
    alter: int = 0
    fifths: int = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        _check_name(self.step, self.alter)
        object.__setattr__(self, "fifths", _NATURAL_FIFTHS[self.step] + 7 * self.alter)

    @property
    def index(self) -> int:
        """The place of the letter counted from C: C is 0, B is 6."""
        return _INDEX[self.step]

    @property
    def pitch_class(self) -> int:
        """The key of the keyboard, in semitones above C, 0 to 11: equal for enharmonic names."""
        return (_SEMITONE[_INDEX[self.step]] + self.alter) % 12

    @property
    def text(self) -> str:
        """The name in words: ``"F sharp"``."""
        return f"{self.step} {alteration_text(self.alter)}".rstrip()

    @property
    def full_text(self) -> str:
        """The name in words with a natural said too, as when a note is raised from a flat: ``"B natural"``."""
        return self.text if self.alter else f"{self.step} natural"

    @property
    def short(self) -> str:
        """The name in plain type: ``"F#"``, ``"Bb"``, ``"F##"``."""
        return self.step + _short_sign(self.alter)

    @property
    def symbol(self) -> str:
        """The name with musical signs: ``"F♯"``, ``"B♭"``."""
        return self.step + _symbol_sign(self.alter)

    @staticmethod
    def parse(text: str) -> NoteName:
        """Read a note name from ``"F#"``, ``"F sharp"`` or ``"F♯"``.

        Raises:
            UnknownNoteError: the text is not a note name.

        >>> NoteName.parse("e flat").short
        'Eb'
        """
        step, alter, octave = _read(text)
        if octave is not None:
            raise UnknownNoteError(f"{text!r} has an octave number", right="give the name alone, such as 'F#'")
        return name_of(step, alter)

    @staticmethod
    def from_fifths(fifths: int) -> NoteName:
        """Find the note name at a place on the line of fifths.

        >>> NoteName.from_fifths(6).text
        'F sharp'
        """
        alter, place = divmod(fifths + 1, 7)
        return name_of(_LINE[place], alter)


@dataclass(frozen=True, slots=True)
class Pitch:
    """A note name in its octave, such as F sharp 4; C4 is middle C.

    ``diatonic`` counts letters from C0 (middle C is 28), ``midi`` counts semitones with middle C at 60.
    The octave number follows the letter: B sharp 3 sounds as C4. Pitches have no order of their own, since place
    and sound can disagree: sort by ``diatonic`` or by ``midi``.

    Raises:
        UnknownNoteError: the letter, alteration or octave is not one.

    >>> Pitch("F", 1, 4).midi, Pitch("C", -1, 4).midi
    (66, 59)
    """

    step: str
    alter: int
    octave: int
    diatonic: int = field(init=False, repr=False, compare=False)
    midi: int = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        _check_name(self.step, self.alter)
        if type(self.octave) is not int or self.octave not in OCTAVES:
            raise UnknownNoteError(
                f"{self.octave!r} is not an octave number", right="use a whole number; middle C begins octave 4"
            )
        index = _INDEX[self.step]
        object.__setattr__(self, "diatonic", 7 * self.octave + index)
        object.__setattr__(self, "midi", 12 * self.octave + 12 + _SEMITONE[index] + self.alter)

    @property
    def name(self) -> NoteName:
        """The note name without the octave."""
        return name_of(self.step, self.alter)

    @property
    def short(self) -> str:
        """The pitch in plain type: ``"F#4"``."""
        return f"{self.step}{_short_sign(self.alter)}{self.octave}"

    @property
    def symbol(self) -> str:
        """The pitch with musical signs: ``"F♯4"``."""
        return f"{self.step}{_symbol_sign(self.alter)}{self.octave}"

    @property
    def text(self) -> str:
        """The pitch in words: ``"F sharp 4"``."""
        return f"{self.name.text} {self.octave}"

    @property
    def letter_notation(self) -> str:
        """The pitch in letter notation: middle C is ``c'``, the C below it ``c``, then ``C``, ``CC``.

        Source: Gehrkens, Music Notation and Terminology (1914) §48.

        >>> Pitch("B", -1, 2).letter_notation, Pitch("C", 0, 5).letter_notation
        ('Bb', "c''")
        """
        sign = _short_sign(self.alter)
        if self.octave >= 3:
            return f"{self.step.lower()}{sign}{chr(39) * (self.octave - 3)}"
        return f"{self.step * (3 - self.octave)}{sign}"

    def shifted(self, octaves: int) -> Pitch:
        """The same note some octaves higher, or lower when negative.

        >>> Pitch("F", 1, 4).shifted(-1).short
        'F#3'
        """
        return pitch_at(self.diatonic + 7 * octaves, self.alter)

    def altered(self, by: int) -> Pitch:
        """The same letter and octave raised by some semitones, or lowered when negative.

        >>> Pitch("F", 1, 4).altered(-2).short
        'Fb4'
        """
        return pitch_at(self.diatonic, self.alter + by)

    @staticmethod
    def parse(text: str) -> Pitch:
        """Read a pitch from ``"F#4"``, ``"Bb-1"`` or ``"F sharp 4"``.

        Raises:
            UnknownNoteError: the text is not a note name with an octave number.

        >>> Pitch.parse("Bb3").text
        'B flat 3'
        """
        step, alter, octave = _read(text)
        if octave is None:
            raise UnknownNoteError(f"{text!r} has no octave number", right="add one: middle C is 'C4'")
        return pitch_at(7 * octave + _INDEX[step], alter)

    @staticmethod
    def from_diatonic(diatonic: int, alter: int = 0) -> Pitch:
        """Find the pitch some letters above C0 (middle C is 28), altered or not.

        >>> Pitch.from_diatonic(28).short
        'C4'
        """
        return pitch_at(diatonic, alter)


@lru_cache(maxsize=4096)
def name_of(step: str, alter: int) -> NoteName:
    """Give the one shared object of a note name: the same as ``NoteName(step, alter)``, but quicker.

    >>> name_of("C", 0) is name_of("C", 0)
    True
    """
    return NoteName(step, alter)


@lru_cache(maxsize=16384)
def pitch_at(diatonic: int, alter: int = 0) -> Pitch:
    """Give the one shared object of a pitch from its count of letters above C0 and its alteration.

    >>> pitch_at(28, 1).short
    'C#4'
    """
    octave, index = divmod(diatonic, 7)
    return Pitch(STEPS[index], alter, octave)


@lru_cache(maxsize=4096)
def _read(text: str) -> tuple[str, int, int | None]:
    match = _NAME.fullmatch(" ".join(text.split()))
    if match is None:
        raise UnknownNoteError(f"{text!r} is not a note name", right="write it as 'F#', 'Bb' or 'F sharp'")
    letter, sign, octave = match.groups()
    return letter.upper(), _read_sign(text, sign), None if octave is None else int(octave)


def _read_sign(text: str, sign: str) -> int:
    words = " ".join(sign.replace("-", " ").split())
    if words in _SIGN_WORDS:
        return _SIGN_WORDS[words]
    plain = "".join(_SHORT.get(mark, mark) for mark in sign)
    if not set(plain) - {"#"}:
        return len(plain)
    if set(plain) == {"b"}:
        return -len(plain)
    raise UnknownNoteError(f"{text!r} is not a note name", right="write it as 'F#', 'Bb' or 'F sharp'")
