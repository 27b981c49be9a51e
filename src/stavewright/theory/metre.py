"""Time signatures: a table of the metres in use, with their beats, accents and groupings."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Final, Literal

from stavewright.theory.duration import Duration, Words
from stavewright.theory.errors import StavewrightError

Kind = Literal["simple", "compound", "irregular"]


class TimeSignatureError(StavewrightError):
    """A time signature that is not in the table."""


@dataclass(frozen=True, slots=True)
class Metre:
    """One row of the table: the facts of a time signature."""

    kind: Kind
    count: int
    beat: Duration
    groupings: tuple[tuple[int, ...], ...] = ()


_MINIM, _CROTCHET, _QUAVER, _SEMIQUAVER = (Duration(v) for v in ("minim", "crotchet", "quaver", "semiquaver"))
_DOTTED_MINIM, _DOTTED_CROTCHET, _DOTTED_QUAVER = (Duration(v, 1) for v in ("minim", "crotchet", "quaver"))
_FIVES: Final = ((3, 2), (2, 3))

TABLE: Final[dict[tuple[int, int], Metre]] = {
    (2, 2): Metre("simple", 2, _MINIM),
    (3, 2): Metre("simple", 3, _MINIM),
    (4, 2): Metre("simple", 4, _MINIM),
    (2, 4): Metre("simple", 2, _CROTCHET),
    (3, 4): Metre("simple", 3, _CROTCHET),
    (4, 4): Metre("simple", 4, _CROTCHET),
    (2, 8): Metre("simple", 2, _QUAVER),
    (3, 8): Metre("simple", 3, _QUAVER),
    (4, 8): Metre("simple", 4, _QUAVER),
    (3, 16): Metre("simple", 3, _SEMIQUAVER),
    (6, 4): Metre("compound", 2, _DOTTED_MINIM),
    (9, 4): Metre("compound", 3, _DOTTED_MINIM),
    (12, 4): Metre("compound", 4, _DOTTED_MINIM),
    (6, 8): Metre("compound", 2, _DOTTED_CROTCHET),
    (9, 8): Metre("compound", 3, _DOTTED_CROTCHET),
    (12, 8): Metre("compound", 4, _DOTTED_CROTCHET),
    (6, 16): Metre("compound", 2, _DOTTED_QUAVER),
    (9, 16): Metre("compound", 3, _DOTTED_QUAVER),
    (12, 16): Metre("compound", 4, _DOTTED_QUAVER),
    (5, 4): Metre("irregular", 5, _CROTCHET, _FIVES),
    (5, 8): Metre("irregular", 5, _QUAVER, _FIVES),
    (7, 4): Metre("irregular", 7, _CROTCHET, ((4, 3), (3, 4))),
    (7, 8): Metre("irregular", 7, _QUAVER, ((2, 2, 3), (3, 2, 2), (2, 3, 2), (4, 3), (3, 4))),
}
"""Every known (upper figure, lower figure), with its kind, number of main beats, beat and, if irregular, groupings.

Sources: Open Music Theory (version 1), meter; The Open University, An introduction to music theory (2016) §3.6;
Gehrkens, Music Notation and Terminology (1914) §96-107; 3/8 as simple triple and the groupings of 7/8 and 7/4
from memory; 5/8 as 3+2 from the LilyPond default beaming table, as 2+3 from common practice.
Groupings count the lower figure's value; the first is the preferred one.
"""

COUNT_WORDS: Final = {2: "duple", 3: "triple", 4: "quadruple", 5: "quintuple", 7: "septuple"}
UNIT_VALUES: Final = {2: _MINIM, 4: _CROTCHET, 8: _QUAVER, 16: _SEMIQUAVER}
_SYMBOL_FIGURES: Final = {"common": (4, 4), "cut": (2, 2)}
_SPELLINGS: Final = {
    "c": "common",
    "common": "common",
    "common time": "common",
    "\U0001d134": "common",
    "c|": "cut",
    "cut": "cut",
    "cut c": "cut",
    "cut time": "cut",
    "alla breve": "cut",
    "\u00a2": "cut",
    "\U0001d135": "cut",
}


def known_times() -> str:
    """The figures of the table in words, for messages.

    >>> known_times().startswith("2/2, 3/2, 4/2, 2/4")
    True
    """
    return ", ".join(f"{beats}/{unit}" for beats, unit in TABLE) + ", C (4/4), cut C (2/2)"


@dataclass(frozen=True, slots=True)
class TimeSignature:
    """A time signature: upper figure, lower figure, and the sign C or cut C when printed so.

    Raises: TimeSignatureError when the figures are not in the table or the sign does not fit them.

    >>> TimeSignature(6, 8).description
    'compound duple'
    """

    beats: int
    unit: int
    symbol: Literal["common", "cut"] | None = None
    row: Metre = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        row = TABLE.get((self.beats, self.unit))
        if row is None:
            raise TimeSignatureError(f"unknown time signature {self.beats}/{self.unit}; known: {known_times()}")
        if self.symbol is not None and _SYMBOL_FIGURES.get(self.symbol) != (self.beats, self.unit):
            raise TimeSignatureError(
                f"the sign {self.symbol!r} does not mean {self.beats}/{self.unit}; common is 4/4, cut is 2/2"
            )
        object.__setattr__(self, "row", row)

    @property
    def kind(self) -> Kind:
        """Simple, compound or irregular."""
        return self.row.kind

    @property
    def count(self) -> int:
        """Number of main beats: 2 in 6/8, 5 in 5/8."""
        return self.row.count

    @property
    def beat(self) -> Duration:
        """The main beat as a note value: a dotted crotchet in 6/8."""
        return self.row.beat

    @property
    def unit_value(self) -> Duration:
        """The value the lower figure stands for: a quaver in 6/8.

        >>> TimeSignature(6, 8).unit_value.text
        'quaver'
        """
        return UNIT_VALUES[self.unit]

    @property
    def ticks(self) -> int:
        """Length of a full bar in ticks."""
        return self.beats * self.unit_value.ticks

    @property
    def description(self) -> str:
        """Kind and number of beats, as "simple triple" or "irregular quintuple".

        Source: Open Music Theory (version 1), meter; "irregular" is British common practice.
        """
        return f"{self.kind} {self.number_word}"

    @property
    def number_word(self) -> str:
        """Duple, triple, quadruple, quintuple or septuple, by the main beats.

        >>> TimeSignature(12, 8).number_word
        'quadruple'
        """
        return COUNT_WORDS[self.count]

    @property
    def figures(self) -> str:
        """The two figures, whatever sign is printed: "4/4" for C."""
        return f"{self.beats}/{self.unit}"

    @property
    def text(self) -> str:
        """As said in a question: "3/4", "C" or "cut C"."""
        return {None: self.figures, "common": "C", "cut": "cut C"}[self.symbol]

    @property
    def plain(self) -> TimeSignature:
        """The same metre in figures.

        >>> TimeSignature(4, 4, "common").plain == TimeSignature(4, 4)
        True
        """
        return self if self.symbol is None else TimeSignature(self.beats, self.unit)

    def meaning(self, words: Words = "uk") -> str:
        """What the signature says of a bar: the beats and their value.

        >>> TimeSignature(6, 8).meaning("us")
        '2 dotted quarter note beats in a measure'
        """
        bar = "bar" if words == "uk" else "measure"
        return f"{self.count} {self.beat.name(words)} beats in a {bar}"

    @property
    def middle(self) -> int | None:
        """Ticks from the bar's start to its middle, where a beat begins there; None in triple and irregular time.

        >>> TimeSignature(3, 4).middle is None
        True
        """
        return self.ticks // 2 if self.count in (2, 4) else None

    @property
    def strong_beats(self) -> tuple[int, ...]:
        """The main beats that carry an accent, counted from 1: the first, and the third of four.

        Source: Gehrkens, Music Notation and Terminology (1914) §100.

        >>> TimeSignature(12, 8).strong_beats
        (1, 3)
        """
        return (1, 3) if self.count == 4 else (1,)

    def beat_at(self, position: int) -> tuple[int, int]:
        """The main beat (from 1) sounding at this tick of the bar, and how many ticks of it have gone.

        Raises: TimeSignatureError when the tick is not inside the bar.

        >>> TimeSignature(6, 8).beat_at(4 * Duration("quaver").ticks) == (2, Duration("quaver").ticks)
        True
        """
        if not 0 <= position < self.ticks:
            raise TimeSignatureError(
                f"tick {position} is not inside a {self.text} bar; it must be 0 to {self.ticks - 1}"
            )
        beat, into = divmod(position, self.beat.ticks)
        return beat + 1, into

    @property
    def groupings(self) -> tuple[tuple[int, ...], ...]:
        """Accepted groupings of an irregular bar in lower-figure values, preferred first; empty if regular.

        >>> TimeSignature(5, 8).groupings
        ((3, 2), (2, 3))
        """
        return self.row.groupings

    def spans(self, grouping: tuple[int, ...] | None = None) -> tuple[tuple[int, int], ...]:
        """(start, length) in ticks of each main beat, or of each group of an irregular bar.

        ``grouping``: one of :attr:`groupings`; the first when left out. Raises: TimeSignatureError for another.

        >>> [start // Duration("quaver").ticks for start, _ in TimeSignature(7, 8).spans((3, 2, 2))]
        [0, 3, 5]
        """
        if self.kind != "irregular":
            if grouping is not None:
                raise TimeSignatureError(f"{self.text} is not irregular; leave the grouping out")
            length = self.beat.ticks
            return tuple((place * length, length) for place in range(self.count))
        chosen = self.groupings[0] if grouping is None else grouping
        if chosen not in self.groupings:
            known = ", ".join("+".join(map(str, g)) for g in self.groupings)
            raise TimeSignatureError(f"{self.text} is not grouped {'+'.join(map(str, chosen))}; accepted: {known}")
        starts = [sum(chosen[:place]) * self.unit_value.ticks for place in range(len(chosen))]
        return tuple((start, size * self.unit_value.ticks) for start, size in zip(starts, chosen, strict=True))

    @classmethod
    def parse(cls, text: str) -> TimeSignature:
        """The signature written "3/4", "C", "cut C", "C|" or the sign itself.

        Raises: TimeSignatureError naming the known ones.

        >>> TimeSignature.parse("cut C") == TimeSignature(2, 2, "cut")
        True
        """
        said = text.strip().lower()
        if said in _SPELLINGS:
            return CUT if _SPELLINGS[said] == "cut" else COMMON
        upper, slash, lower = said.partition("/")
        if not (slash and said.isascii() and upper.strip().isdigit() and lower.strip().isdigit()):
            raise TimeSignatureError(f"no time signature is written {text!r}; known: {known_times()}")
        return cls(int(upper), int(lower))


COMMON: Final = TimeSignature(4, 4, "common")
CUT: Final = TimeSignature(2, 2, "cut")
ALL_TIMES: Final = tuple(TimeSignature(beats, unit) for beats, unit in TABLE)
"""Every metre of the table, in figures."""
