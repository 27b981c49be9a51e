"""Rhythms written briefly, for tests: "c q_ q" is a crotchet note and a quaver rest and a quaver."""

from __future__ import annotations

from stavewright.questions.values import Value, WrittenValue
from stavewright.theory.duration import Duration

NAMES = {
    "B": "breve", "s": "semibreve", "m": "minim", "c": "crotchet", "q": "quaver", "sq": "semiquaver",
    "dq": "demisemiquaver",
}  # fmt: skip

AMERICAN = {
    "breve": "breve", "semibreve": "whole", "minim": "half", "crotchet": "quarter", "quaver": "eighth",
    "semiquaver": "16th", "demisemiquaver": "32nd", "hemidemisemiquaver": "64th",
}  # fmt: skip
"""What an outside library calls the values."""


def duration(word: str) -> Duration:
    """One value: letters of NAMES, a dot for each dot."""
    return Duration(NAMES[word.rstrip("._")], word.count("."))


def row(text: str, beams: str = "") -> tuple[WrittenValue, ...]:
    """A row of values; `beams` gives a digit for each, 0 for none."""
    words = text.split()
    digits = beams or "0" * len(words)
    return tuple(
        WrittenValue.of(duration(word), rest="_" in word, beam=int(digit) or None)
        for word, digit in zip(words, digits, strict=True)
    )


def rests(text: str) -> Value:
    """An answer of rests, each a letter of NAMES."""
    return Value(rhythm=tuple(WrittenValue.of(duration(word), rest=True) for word in text.split()))
