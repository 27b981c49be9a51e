"""Note values: names, dots, and exact lengths in ticks."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from typing import Final, Literal

from stavewright.theory.errors import StavewrightError

Words = Literal["uk", "us"]

CROTCHET_TICKS: Final = 161280
"""Ticks in a crotchet: 2**9 * 3**2 * 5 * 7, so that three dots and the tuplets 2 to 9 come out whole."""

VALUES: Final = (
    "breve",
    "semibreve",
    "minim",
    "crotchet",
    "quaver",
    "semiquaver",
    "demisemiquaver",
    "hemidemisemiquaver",
)
"""The plain values, longest first; each is half of the one before."""

TICKS: Final = {value: CROTCHET_TICKS * 8 >> place for place, value in enumerate(VALUES)}
"""Length of each plain value in ticks."""

US_VALUES: Final = {
    "breve": "double whole",
    "semibreve": "whole",
    "minim": "half",
    "crotchet": "quarter",
    "quaver": "eighth",
    "semiquaver": "16th",
    "demisemiquaver": "32nd",
    "hemidemisemiquaver": "64th",
}
"""American names, without the word "note" or "rest"."""

MAX_DOTS: Final = 3
DOT_WORDS: Final = ("", "dotted ", "double-dotted ", "triple-dotted ")
TUPLET_NAMES: Final = {
    2: "duplet",
    3: "triplet",
    4: "quadruplet",
    5: "quintuplet",
    6: "sextuplet",
    7: "septuplet",
    8: "octuplet",
    9: "nonuplet",
}
"""Names of the irregular groups by the number of notes shown."""


class DurationError(StavewrightError):
    """A note value that does not exist or cannot be written."""


@dataclass(frozen=True, slots=True)
class Tuplet:
    """An irregular group: so many notes (``actual``) in the time of so many (``normal``) of the same value.

    Raises: DurationError when ``actual`` is not 2 to 9, ``normal`` not 1 to 16, or both are equal.
    Source: Gehrkens, Music Notation and Terminology (1914) §55.

    >>> Tuplet(3, 2).name
    'triplet'
    """

    actual: int
    normal: int

    def __post_init__(self) -> None:
        if self.actual not in TUPLET_NAMES:
            raise DurationError(f"a tuplet has 2 to 9 notes, not {self.actual}")
        if not 1 <= self.normal <= 16:
            raise DurationError(f"a tuplet stands for 1 to 16 notes, not {self.normal}")
        if self.actual == self.normal:
            raise DurationError(f"{self.actual} notes in the time of {self.normal} are no tuplet; leave it out")

    @property
    def name(self) -> str:
        """Name of the group by its number of notes, as "triplet"."""
        return TUPLET_NAMES[self.actual]


@dataclass(frozen=True, slots=True)
class Duration:
    """A note value: its kind, its dots and the irregular group it belongs to, if any.

    Raises: DurationError for an unknown value, more than three dots, or a wrong tuplet.
    Source: Gehrkens, Music Notation and Terminology (1914) §1, 49-51.

    >>> Duration("minim", dots=1).ticks == 3 * Duration("crotchet").ticks
    True
    """

    type: str
    dots: int = 0
    tuplet: Tuplet | None = None

    def __post_init__(self) -> None:
        if self.type not in TICKS:
            raise DurationError(f"unknown note value {self.type!r}; known: {', '.join(VALUES)}")
        if not 0 <= self.dots <= MAX_DOTS:
            raise DurationError(f"a note has 0 to {MAX_DOTS} dots, not {self.dots}")

    @property
    def ticks(self) -> int:
        """Length in ticks; a dot adds half of what stands before it, a tuplet scales by normal/actual.

        >>> Duration("quaver", tuplet=Tuplet(3, 2)).ticks * 3 == Duration("crotchet").ticks
        True
        """
        length = TICKS[self.type]
        length = 2 * length - (length >> self.dots)
        if self.tuplet is None:
            return length
        return length * self.tuplet.normal // self.tuplet.actual

    @property
    def text(self) -> str:
        """Name in British words, as "dotted crotchet" or "triplet quaver".

        >>> Duration("crotchet", dots=1).text
        'dotted crotchet'
        """
        return self.name()

    def name(self, words: Words = "uk", *, rest: bool = False, plural: bool = False) -> str:
        """Name of the note or rest in British or American words.

        Source: Schmidt-Jones, Understanding Basic Music Theory, m11887; LilyPond Music Glossary, duration names.

        >>> Duration("crotchet", dots=1).name("us")
        'dotted quarter note'
        >>> Duration("demisemiquaver").name("us", rest=True)
        '32nd rest'
        >>> Duration("quaver").name(rest=True, plural=True)
        'quaver rests'
        """
        stem = self.type if words == "uk" else US_VALUES[self.type]
        noun = " rest" if rest else " note" if words == "us" else ""
        group = "" if self.tuplet is None else self.tuplet.name + " "
        return group + DOT_WORDS[self.dots] + stem + noun + ("s" if plural else "")

    @property
    def plain(self) -> Duration:
        """The same written value outside any tuplet.

        >>> Duration("quaver", tuplet=Tuplet(3, 2)).plain
        Duration(type='quaver', dots=0, tuplet=None)
        """
        return Duration(self.type, self.dots)

    @property
    def tails(self) -> int:
        """Number of tails or beams: 0 for a crotchet and longer, 1 for a quaver, 2 for a semiquaver.

        >>> Duration("semiquaver").tails
        2
        """
        return max(0, VALUES.index(self.type) - VALUES.index("crotchet"))

    def scaled(self, doublings: int) -> Duration:
        """The value twice as long ``doublings`` times over (half as long when negative).

        Raises: DurationError past the breve or the hemidemisemiquaver.

        >>> Duration("quaver", dots=1).scaled(1).text
        'dotted crotchet'
        """
        place = VALUES.index(self.type) - doublings
        if not 0 <= place < len(VALUES):
            raise DurationError(f"no value is {doublings} doublings away from a {self.type}")
        return Duration(VALUES[place], self.dots, self.tuplet)

    @classmethod
    def parse(cls, text: str) -> Duration:
        """The value a name means, in British or American words; "note", "rest" and a plural s are ignored.

        Written dots may follow the name ("crotchet."). Raises: DurationError naming what is known.

        >>> Duration.parse("dotted quarter note") == Duration.parse("crotchet.") == Duration("crotchet", 1)
        True
        """
        return _parsed(text)


_BY_WORD: Final = (
    {value: value for value in VALUES}
    | {us: uk for uk, us in US_VALUES.items()}
    | {"sixteenth": "semiquaver", "thirty-second": "demisemiquaver", "sixty-fourth": "hemidemisemiquaver"}
)
_USUAL_NORMAL: Final = {2: 3, 3: 2, 4: 3, 5: 4, 6: 4, 7: 4, 8: 6, 9: 8}


@lru_cache(maxsize=512)
def _parsed(text: str) -> Duration:
    words = text.strip().lower()
    dots = len(words) - len(words.rstrip("."))
    words = words.rstrip(". ")
    for noun in (" notes", " note", " rests", " rest"):
        words = words.removesuffix(noun)
    tuplet: Tuplet | None = None
    for count, name in TUPLET_NAMES.items():
        if words.startswith(name + " "):
            tuplet, words = Tuplet(count, _USUAL_NORMAL[count]), words.removeprefix(name + " ")
    for count in (3, 2, 1):
        prefix = DOT_WORDS[count]
        for form in (prefix, prefix.replace("-", " "), prefix.replace("e-", "y ")):
            if words.startswith(form):
                dots, words = dots + count, words.removeprefix(form)
    value = _BY_WORD.get(words) or _BY_WORD.get(words.removesuffix("s"))
    if value is None:
        known = ", ".join(f"{uk} ({us})" for uk, us in US_VALUES.items())
        raise DurationError(f"no note value is called {text!r}; known: {known}")
    return Duration(value, dots, tuplet)


@lru_cache(maxsize=4096)
def of_ticks(ticks: int, *, max_dots: int = 2) -> Duration | None:
    """The one plain or dotted value of this length, or None when no single value has it.

    ``ticks``: length in ticks. ``max_dots``: most dots allowed. Tuplets are never guessed.

    >>> of_ticks(3 * CROTCHET_TICKS)
    Duration(type='minim', dots=1, tuplet=None)
    >>> of_ticks(5 * CROTCHET_TICKS) is None
    True
    """
    for dots in range(min(max_dots, MAX_DOTS) + 1):
        for value in VALUES:
            if 2 * TICKS[value] - (TICKS[value] >> dots) == ticks:
                return Duration(value, dots)
    return None


def total_ticks(durations: tuple[Duration, ...] | list[Duration]) -> int:
    """Length of a row of values in ticks.

    >>> total_ticks([Duration("quaver"), Duration("quaver")]) == Duration("crotchet").ticks
    True
    """
    return sum(duration.ticks for duration in durations)
