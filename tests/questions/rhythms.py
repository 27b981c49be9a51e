"""Rhythms written briefly, for tests: "c q_ q~ q3" is a crotchet, a quaver rest, a tied quaver, a triplet quaver."""

from __future__ import annotations

from fractions import Fraction

import music21

from stavewright.questions.values import Value, WrittenValue
from stavewright.theory.duration import Duration, Tuplet

NAMES = {
    "B": "breve", "s": "semibreve", "m": "minim", "c": "crotchet", "q": "quaver", "sq": "semiquaver",
    "dq": "demisemiquaver",
}  # fmt: skip

AMERICAN = {
    "breve": "breve", "semibreve": "whole", "minim": "half", "crotchet": "quarter", "quaver": "eighth",
    "semiquaver": "16th", "demisemiquaver": "32nd", "hemidemisemiquaver": "64th",
}  # fmt: skip
"""What an outside library calls the values."""


GROUPS = {"2": Tuplet(2, 3), "3": Tuplet(3, 2)}


def duration(word: str) -> Duration:
    """One value: letters of NAMES, a dot for each dot, 2 or 3 for a duplet or triplet."""
    group = GROUPS.get(word[-1])
    return Duration(NAMES[word.rstrip("._~23")], word.count("."), group)


def row(text: str, beams: str = "") -> tuple[WrittenValue, ...]:
    """A row of values; `beams` gives a digit for each, 0 for none."""
    words = text.split()
    digits = beams or "0" * len(words)
    return tuple(
        WrittenValue.of(duration(word), rest="_" in word, tie="~" in word, beam=int(digit) or None)
        for word, digit in zip(words, digits, strict=True)
    )


def heard(one: WrittenValue) -> Fraction:
    """How long an outside library (music21) hears a written value, in crotchets."""
    found = music21.duration.Duration(type=AMERICAN[one.type], dots=one.dots)
    if one.tuplet is not None:
        found.appendTuplet(music21.duration.Tuplet(one.tuplet.actual, one.tuplet.normal))
    return Fraction(found.quarterLength)


def rests(text: str) -> Value:
    """An answer of rests, each a letter of NAMES."""
    return Value(rhythm=tuple(WrittenValue.of(duration(word), rest=True) for word in text.split()))
