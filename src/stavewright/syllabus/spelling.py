"""Spelling slips: a word that nobody knows is read as the one known word it can only be."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import groupby

from rapidfuzz.distance import OSA

_SHORTEST = 4
"""Shorter words have too many neighbours to be mended."""


def nearest(word: str, known: Mapping[str, str]) -> str | None:
    """The word a slip stands for, or None where there is none near enough or two that say different things.

    `known` gives each word its sense. A slip is a letter left out, put in, changed or swapped with its neighbour: one
    in words up to six letters, two up to ten, three beyond; a letter doubled or not counts half, another
    last letter half more. The
    first letter stands, or has changed places with the second. Common practice of pupils' slips, from memory.

    >>> known = {"loud": "loud", "slower": "slower", "fast": "fast", "first": "first", "quiet": "soft"}
    >>> nearest("load", known), nearest("qiuet", known), nearest("farst", known)
    ('loud', 'quiet', None)
    """
    size = len(word)
    if size < _SHORTEST:
        return None
    allowed = 1.5 if size <= 6 else 2.0 if size <= 10 else 3.0
    plain = _undoubled(word)
    found: dict[str, tuple[float, str]] = {}
    for other, sense in known.items():
        if abs(len(other) - size) > 3 or len(other) < 3 or not _begins(word, other):
            continue
        cost = _cost(word, plain, other, allowed)
        if cost is not None:
            found[sense] = min(found.get(sense, (cost, other)), (cost, other))
    ranked = sorted(found.values())
    if not ranked or (len(ranked) > 1 and ranked[1][0] - ranked[0][0] < 0.5):
        return None
    return ranked[0][1]


def _cost(word: str, plain: str, other: str, allowed: float) -> float | None:
    most = int(allowed)
    steps = float(OSA.distance(word, other, score_cutoff=most + 1))
    steps = min(steps, OSA.distance(plain, _undoubled(other), score_cutoff=most) + 0.5)
    steps += 0.5 if word[-1] != other[-1] else 0.0
    return steps if steps <= allowed and steps < len(other) / 2 else None


def _begins(word: str, other: str) -> bool:
    return word[0] == other[0] or (word[0] == other[1] and word[1] == other[0])


def _undoubled(word: str) -> str:
    return "".join(letter for letter, _ in groupby(word))
