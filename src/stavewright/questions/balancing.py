"""Which wrong options stand beside the right one, so that being most like the others does not tell it."""

from __future__ import annotations

from collections.abc import Hashable, Sequence
from itertools import combinations
from random import Random
from typing import Final

from stavewright.questions.chord_reading import read_label
from stavewright.questions.values import Value

LOOKED_AT: Final = 9
"""How many wrong options are weighed, in the order of their likelihood."""
_WRONG: Final = 3
_LATER: Final = 0.08
"""What each place down that order costs, beside a place in likeness."""


def features(value: Value) -> frozenset[Hashable]:
    """What two options may have in common: words, notes in their places, the parts of chord labels.

    >>> sorted(features(Value(words="minor 3rd")))
    ['3rd', 'minor']
    """
    if value.words is not None:
        return frozenset(value.words.split())
    if value.chords is not None:
        labels = [read_label(label) for label in value.chords]
        parts = [(label.rstrip("abcd7"), label[len(label.rstrip("abcd7")) :]) for label in labels]
        return frozenset((at, part, which) for at, both in enumerate(parts) for which, part in enumerate(both))
    found: list[Hashable] = [("clef", value.clef), ("signature", value.signature), ("time", value.time)]
    for at, note in enumerate(value.notes or ()):
        found += [(at, note.step, note.octave), (at, note.accidental)]
    found += [(at, one) for at, one in enumerate(value.rhythm or ())]
    return frozenset(found)


def beside(right: Value, wrong: Sequence[Value], rng: Random) -> list[Value]:
    """Choose three wrong options of many, which stand in the order of their likelihood; the first is always there.

    In a row of options the right one would often be the one most like the others, because each wrong one changes one
    thing about it. So a place in the order of likeness is drawn for it by chance, and wrong options are looked for that
    put it near that place, the likelier first.

    >>> wrong = [Value(words=words) for words in ("D minor", "A major", "F major", "B minor", "A minor")]
    >>> sorted(one.words for one in beside(Value(words="D major"), wrong, Random(4)))
    ['A major', 'B minor', 'D minor']
    """
    every = [right, *wrong[:LOOKED_AT]]
    if len(every) <= 1 + _WRONG:
        return every[1:]
    sets = [features(one) for one in every]
    shared = [[len(one & other) for other in sets] for one in sets]
    target = rng.randrange(1 + _WRONG)
    to_right, to_first = shared[0], shared[1]
    best, least = (2, 3), float("inf")
    for one, other in combinations(range(2, len(every)), 2):
        between = shared[one][other]
        mine = to_right[1] + to_right[one] + to_right[other]
        theirs = (
            to_right[1] + to_first[one] + to_first[other],
            to_right[one] + to_first[one] + between,
            to_right[other] + to_first[other] + between,
        )
        above = sum([1.0 if like > mine else 0.5 if like == mine else 0.0 for like in theirs])
        cost = abs(above - target) + _LATER * (one + other)
        if cost < least:
            best, least = (one, other), cost
    return [every[1], *(every[at] for at in best)]
