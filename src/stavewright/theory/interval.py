"""Intervals: number and quality, simple and compound, and their inversions."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Final

from stavewright.theory.errors import UnknownIntervalError
from stavewright.theory.pitch import Pitch

__all__ = ["Interval", "between", "of_size", "ordinal"]

_SEMITONES: Final = (0, 2, 4, 5, 7, 9, 11)
_PERFECT: Final = frozenset({0, 3, 4})
_QUALITY: Final = re.compile(r"P|M|m|A{1,99}|d{1,99}")
_SHORT: Final = re.compile(r"(P|M|m|A+|d+)(\d{1,3})")
_FOLD: Final = {1: "", 2: "doubly ", 3: "triply "}
_WORDS: Final = {"P": "perfect", "M": "major", "m": "minor", "A": "augmented", "d": "diminished"}
_QUALITY_WORDS: Final = {
    **{word: letter for letter, word in _WORDS.items()},
    "doubly augmented": "AA",
    "doubly diminished": "dd",
    "triply augmented": "AAA",
    "triply diminished": "ddd",
}
_ORDINAL_WORDS: Final = {
    "unison": 1,
    "prime": 1,
    "first": 1,
    "second": 2,
    "third": 3,
    "fourth": 4,
    "fifth": 5,
    "sixth": 6,
    "seventh": 7,
    "eighth": 8,
    "octave": 8,
    "ninth": 9,
    "tenth": 10,
    "eleventh": 11,
    "twelfth": 12,
    "thirteenth": 13,
    "fourteenth": 14,
    "fifteenth": 15,
    "double octave": 15,
}
_WRITTEN: Final = re.compile(r"(\d{1,3})(?:st|nd|rd|th)?")


@lru_cache(maxsize=1024)
def ordinal(number: int) -> str:
    """Write a number as an ordinal in figures: 3 is ``"3rd"``.

    >>> ordinal(11), ordinal(22)
    ('11th', '22nd')
    """
    teen = number % 100 in (11, 12, 13)
    return f"{number}{'th' if teen else {1: 'st', 2: 'nd', 3: 'rd'}.get(number % 10, 'th')}"


@lru_cache(maxsize=64)
def _quality_text(quality: str) -> str:
    size = len(quality)
    return f"{_FOLD.get(size, f'{size}-fold ')}{_WORDS[quality[0]]}"


@dataclass(frozen=True, slots=True)
class Interval:
    """An interval by quality and number, such as a minor 6th.

    ``quality`` is ``P`` ``M`` ``m`` ``A`` ``d``, or several ``A`` or ``d`` for doubly, triply; ``number`` counts both
    ends, 1 for a unison. ``steps`` is the number less one, ``semitones`` the size. Perfect kinds are the unison,
    4th, 5th, octave and their compounds; the others are major or minor. A unison is never diminished.
    Source: Gehrkens, Music Notation and Terminology (1914) §§184-195.

    Raises:
        UnknownIntervalError: no such interval, such as a perfect 3rd or a diminished unison.

    >>> Interval("m", 6).semitones, Interval("A", 4).text
    (8, 'augmented 4th')
    """

    quality: str
    number: int
    steps: int = field(init=False, repr=False, compare=False)
    semitones: int = field(init=False, repr=False, compare=False)
    short: str = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        quality, number = self.quality, self.number
        if type(number) is not int or not 1 <= number <= 200:
            raise UnknownIntervalError(f"{number!r} is not an interval number", right="use 1 (unison) upwards")
        if _QUALITY.fullmatch(quality) is None:
            raise UnknownIntervalError(f"{quality!r} is not an interval quality", right="use P, M, m, A or d")
        octaves, simple = divmod(number - 1, 7)
        perfect = simple in _PERFECT
        if quality in ("M", "m") if perfect else quality == "P":
            kinds = "perfect, augmented or diminished" if perfect else "major, minor, augmented or diminished"
            raise UnknownIntervalError(
                f"there is no {_WORDS[quality]} {ordinal(number)}", right=f"a {ordinal(number)} is {kinds}"
            )
        if number == 1 and quality[0] == "d":
            raise UnknownIntervalError(
                "a unison is never diminished", right="name it augmented, from the lower note to the higher"
            )
        object.__setattr__(self, "steps", number - 1)
        object.__setattr__(self, "semitones", 12 * octaves + _SEMITONES[simple] + _offset(quality, perfect=perfect))
        object.__setattr__(self, "short", f"{quality}{number}")

    @property
    def fifths(self) -> int:
        """The distance along the line of fifths: 1 for a perfect 5th, 2 for a major 2nd, -5 for a minor 2nd."""
        return 7 * self.semitones - 12 * self.steps

    @property
    def is_compound(self) -> bool:
        """Whether it is wider than an octave by number: a 9th or more."""
        return self.number > 8

    @property
    def simple(self) -> Interval:
        """The interval with whole octaves taken off; octaves of octaves come down to the octave.

        >>> Interval("M", 10).simple.short, Interval("P", 15).simple.short
        ('M3', 'P8')
        """
        return self if self.number <= 8 else Interval(self.quality, (self.number - 2) % 7 + 2)

    @property
    def inversion(self) -> Interval:
        """The interval left when one note moves past the other by octaves; a compound is first made simple.

        Numbers add to nine; perfect stays perfect, major and minor change places, augmented and diminished too.
        An augmented octave, wider than the octave it would turn in, is turned as an augmented unison is, into a
        diminished octave.
        Source: Gehrkens, Music Notation and Terminology (1914) §195.

        >>> Interval("A", 4).inversion.short
        'd5'
        """
        simple = self.simple
        quality = simple.quality.translate({77: "m", 109: "M", 65: "d", 100: "A"})
        return Interval(quality, 8 if simple.number == 8 and quality[0] == "d" else 9 - simple.number)

    @property
    def quality_text(self) -> str:
        """The quality in words: ``"doubly augmented"``."""
        return _quality_text(self.quality)

    @property
    def number_text(self) -> str:
        """The number in words: ``"6th"``, ``"unison"``, ``"octave"``."""
        return {1: "unison", 8: "octave"}.get(self.number, ordinal(self.number))

    @property
    def text(self) -> str:
        """The interval in words: ``"minor 6th"``, ``"perfect octave"``."""
        return f"{self.quality_text} {self.number_text}"

    @property
    def names(self) -> tuple[str, ...]:
        """Every name a marker takes, the usual one first.

        A compound may be named through its simple interval; an octave is also an 8th, a unison a prime. A tritone
        is not among them: it names a size, and the number and quality are wanted.

        >>> Interval("M", 10).names
        ('major 10th', 'compound major 3rd')
        """
        names = [self.text]
        if self.number == 1:
            names += [f"{self.quality_text} prime", f"{self.quality_text} 1st"]
        if self.number == 8:
            names.append(f"{self.quality_text} 8th")
        if self.number == 15:
            names.append(f"{self.quality_text} double octave")
        if self.is_compound:
            names.append(f"compound {self.simple.text}")
        if self.quality == "A" and self.number == 1:
            names.append("chromatic semitone")
        if self.quality == "m" and self.number == 2:
            names.append("diatonic semitone")
        return tuple(names)

    @staticmethod
    def parse(text: str) -> Interval:
        """Read an interval from ``"m6"``, ``"minor 6th"``, ``"major tenth"`` or ``"compound major 3rd"``.

        Raises:
            UnknownIntervalError: the text is not an interval.

        >>> Interval.parse("compound major 3rd").short
        'M10'
        """
        return _parse(text)

    @staticmethod
    def from_size(steps: int, semitones: int) -> Interval:
        """Find the interval of so many letter steps and so many semitones.

        >>> Interval.from_size(5, 8).short
        'm6'
        """
        return of_size(steps, semitones)


def between(first: Pitch, second: Pitch) -> Interval:
    """Name the interval between two pitches, from the lower to the higher whichever is given first.

    The lower is the one written lower; of two notes on one line or space, the one that sounds lower.
    Source: Gehrkens, Music Notation and Terminology (1914) §§184-194.

    >>> between(Pitch("C", 0, 4), Pitch("C", -1, 4)).text
    'augmented unison'
    """
    steps = second.diatonic - first.diatonic
    semitones = second.midi - first.midi
    if steps < 0 or (not steps and semitones < 0):
        return of_size(-steps, -semitones)
    return of_size(steps, semitones)


@lru_cache(maxsize=4096)
def of_size(steps: int, semitones: int) -> Interval:
    """Give the one shared object of an interval from its letter steps and semitones.

    Raises:
        UnknownIntervalError: the steps are negative, or a unison would be diminished.

    >>> of_size(2, 4).text
    'major 3rd'
    """
    octaves, simple = divmod(steps, 7)
    beyond = semitones - 12 * octaves - _SEMITONES[simple]
    if simple in _PERFECT:
        quality = "A" * beyond if beyond > 0 else "d" * -beyond or "P"
    elif beyond >= 0:
        quality = "A" * beyond or "M"
    else:
        quality = "d" * (-beyond - 1) or "m"
    return Interval(quality, steps + 1)


def _offset(quality: str, *, perfect: bool) -> int:
    if quality[0] == "A":
        return len(quality)
    if quality[0] == "d":
        return -len(quality) if perfect else -len(quality) - 1
    return -1 if quality == "m" else 0


@lru_cache(maxsize=1024)
def _parse(text: str) -> Interval:
    right = "write it as 'm6' or 'minor 6th'"
    match = _SHORT.fullmatch(text.strip())
    if match is not None:
        return Interval(match[1], int(match[2]))
    words = text.lower().replace("-", " ").split()
    compound = words[:1] == ["compound"]
    words = words[compound:]
    for size in (1, 2):
        quality = _QUALITY_WORDS.get(" ".join(words[:size]))
        number = _number(" ".join(words[size:]))
        if quality is not None and number is not None:
            return Interval(quality, number + 7 if compound and number <= 8 else number)
    raise UnknownIntervalError(f"{text!r} is not an interval", right=right)


def _number(text: str) -> int | None:
    match = _WRITTEN.fullmatch(text)
    return int(match[1]) if match else _ORDINAL_WORDS.get(text)
