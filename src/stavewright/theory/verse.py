"""Verse to be sung: lines divided into syllables, their stress, and the feet they fall into."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final, Literal

from stavewright.theory.errors import StavewrightError
from stavewright.theory.metre import TimeSignature

__all__ = [
    "METRES",
    "Foot",
    "Syllable",
    "VerseError",
    "feet",
    "foot_lengths",
    "line_words",
    "metre_of",
    "read_line",
    "written_line",
]

Stress = Literal["strong", "lifted", "lowered", "weak"]
SIGNS: Final[dict[str, Stress]] = {"*": "strong", "~": "lifted", "^": "lowered"}
"""The sign before a syllable, and the stress it means; a syllable without a sign is weak."""

MOST_SYLLABLES: Final = 16
MOST_UPBEAT: Final = 2
MOST_IN_A_FOOT: Final = 4
METRES: Final = {
    (True, 2): "rising duple",
    (False, 2): "falling duple",
    (True, 3): "rising triple",
    (False, 3): "falling triple",
}
"""A metre by an upbeat before the first beat (rising), and two or three syllables to most beats (duple, triple).

Source: common practice of English prosody; iambic, trochaic, anapaestic and dactylic are the older names.
"""


class VerseError(StavewrightError):
    """A line of verse that cannot be read."""


@dataclass(frozen=True, slots=True)
class Syllable:
    """One syllable: what is printed, its stress, and whether the word goes on after it.

    A ``strong`` one belongs on a beat, a ``weak`` one never on the first beat of a bar; small words that the metre
    lifts and full words that it passes over may stand on either.
    """

    text: str
    stress: Stress = "weak"
    goes_on: bool = False

    @property
    def beats(self) -> bool:
        """Whether it begins a foot in the metre of the verse."""
        return self.stress in ("strong", "lifted")

    @property
    def sung(self) -> str:
        """What stands under its note: a hyphen shows that the word goes on.

        >>> Syllable("Twin", "strong", goes_on=True).sung
        'Twin-'
        """
        return f"{self.text}-" if self.goes_on else self.text


Foot = tuple[Syllable, ...]
"""A syllable on the beat and those that follow it before the next."""


@lru_cache(maxsize=512)
def read_line(line: str) -> tuple[Syllable, ...]:
    """A line of verse, its words parted by hyphens and each beat marked: * strong, ~ lifted, ^ full but passed over.

    Raises: VerseError naming the syllable that is empty, has two signs or stands in a line without a strong one.

    >>> [syllable.stress for syllable in read_line("*How I *won-der")]
    ['strong', 'weak', 'strong', 'weak']
    """
    found: list[Syllable] = []
    for word in line.split():
        parts = word.split("-")
        for place, part in enumerate(parts):
            stress = SIGNS.get(part[:1], "weak")
            text = part[1:] if stress != "weak" else part
            if not any(letter.isalpha() for letter in text) or any(sign in text for sign in SIGNS):
                raise VerseError(
                    f"the syllable {part!r} of {line!r} cannot be read: write letters, a hyphen between syllables, "
                    "and at most one of * ~ ^ before each"
                )
            found.append(Syllable(text, stress, place < len(parts) - 1))
    if not 2 <= len(found) <= MOST_SYLLABLES:
        raise VerseError(f"{line!r} has {len(found)} syllables; a line has 2 to {MOST_SYLLABLES}")
    if not any(syllable.stress == "strong" for syllable in found):
        raise VerseError(f"{line!r} has no strong syllable; put * before each")
    feet(found)
    return tuple(found)


def feet(syllables: Sequence[Syllable]) -> tuple[Foot, tuple[Foot, ...]]:
    """The syllables before the first beat, and the feet of the line.

    Raises: VerseError when the upbeat has more than two syllables or a foot more than four.

    >>> upbeat, row = feet(read_line("The *year's at the *spring"))
    >>> len(upbeat), [len(foot) for foot in row]
    (1, [3, 1])
    """
    starts = [place for place, syllable in enumerate(syllables) if syllable.beats]
    upbeat = tuple(syllables[: starts[0]]) if starts else tuple(syllables)
    row = tuple(
        tuple(syllables[start:end]) for start, end in zip(starts, [*starts[1:], len(syllables)], strict=True)
    )
    if len(upbeat) > MOST_UPBEAT or any(len(foot) > MOST_IN_A_FOOT for foot in row):
        raise VerseError(
            f"{line_words(syllables)!r} has too many syllables between two beats: at most {MOST_UPBEAT} before the "
            f"first and {MOST_IN_A_FOOT} from one to the next; mark more beats with * or ~"
        )
    return upbeat, row


def line_words(syllables: Sequence[Syllable]) -> str:
    """The line as it is read, without hyphens and signs.

    >>> line_words(read_line("*Twin-kle, *twin-kle, *lit-tle *star,"))
    'Twinkle, twinkle, little star,'
    """
    return "".join(one.text if one.goes_on else f"{one.text} " for one in syllables).strip()


def written_line(syllables: Sequence[Syllable]) -> str:
    """The line as `read_line` reads it, signs and hyphens included.

    >>> written_line(read_line("The *owl ~is a-*sleep"))
    'The *owl ~is a-*sleep'
    """
    sign = {stress: mark for mark, stress in SIGNS.items()}
    return "".join(f"{sign.get(one.stress, '')}{one.sung}{'' if one.goes_on else ' '}" for one in syllables).strip()


def metre_of(lines: Sequence[Sequence[Syllable]]) -> str:
    """The metre of some lines, by the first upbeat and by most of the feet (the last of a line left out).

    >>> metre_of([read_line("The *year's at the *spring")]), metre_of([read_line("*Pip-ing *down the *val-leys *wild")])
    ('rising triple', 'falling duple')
    """
    parted = [feet(line) for line in lines]
    inner = [len(foot) for _, row in parted for foot in row[:-1]]
    threes = sum(size > 2 for size in inner)
    return METRES[bool(parted[0][0]), 3 if 2 * threes > len(inner) else 2]


def foot_lengths(time: TimeSignature) -> tuple[int, ...]:
    """How long a foot of verse may be in a time signature, in ticks, the usual length first; none where none fits.

    A foot begins on a beat, and every bar begins with one: a beat or a whole bar in duple time, half a bar in
    quadruple, a whole bar in simple triple time. Source: common practice of setting verse.

    >>> [length // time.unit_value.ticks for time in (TimeSignature(6, 8), TimeSignature(3, 4)) for length in
    ...     foot_lengths(time)]
    [3, 3]
    """
    if time.count == 2:
        return (time.beat.ticks, time.ticks) if time.kind == "simple" else (time.beat.ticks,)
    if time.count == 4:
        return (time.ticks // 2,)
    return (time.ticks,) if time.count == 3 and time.kind == "simple" else ()
