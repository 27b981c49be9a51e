"""Cadences: the two chords that close a phrase, and their names."""

from __future__ import annotations

from typing import Final

from stavewright.theory.chord import ChordLabel
from stavewright.theory.errors import UnknownCadenceError
from stavewright.theory.wording import choose

__all__ = [
    "CADENCES",
    "accepted_cadence_names",
    "cadence",
    "cadence_pairs",
    "cadence_reason",
    "cadence_text",
    "parse_cadence",
]

CADENCES: Final = ("perfect", "plagal", "imperfect", "interrupted")

_US: Final = {"perfect": "authentic", "plagal": "plagal", "imperfect": "half", "interrupted": "deceptive"}
_NAMES: Final = {
    "perfect": ("perfect", "authentic", "full close", "complete"),
    "plagal": ("plagal", "amen"),
    "imperfect": ("imperfect", "half", "half close"),
    "interrupted": ("interrupted", "deceptive", "false", "surprise"),
}
_READ: Final = {
    **{name: kind for kind, names in _NAMES.items() for name in names},
    "full": "perfect",
    "perfect authentic": "perfect",
    "semi": "imperfect",
}
_WHY: Final = {
    "perfect": "dominant to tonic, both in root position",
    "plagal": "subdominant to tonic, both in root position",
    "imperfect": "it stops on the dominant",
    "interrupted": "the dominant goes to the submediant instead of the tonic",
}


def cadence(approach: ChordLabel, goal: ChordLabel) -> str | None:
    """Name the cadence two chords make: perfect, plagal, imperfect or interrupted, or None where they make none.

    Only goals in root position count. V and V7 to I is perfect; IV to I plagal; any other chord to V imperfect, with
    Ic and IVb among them; V and V7 to VI interrupted. A chord that stays is no cadence.
    Source: Gehrkens, Music Notation and Terminology (1914) §§203-207; any chord to V and the four names, Open Music
    Theory, version 1, cadenceTypes; root positions, common practice.

    >>> cadence(ChordLabel.parse("V7"), ChordLabel.parse("I")), cadence(ChordLabel.parse("V"), ChordLabel.parse("IV"))
    ('perfect', None)
    """
    if goal.inversion or goal.seventh:
        return None
    start, end = approach.degree, goal.degree
    if end == 5 and start not in (5, 7):
        return "imperfect"
    if approach.inversion:
        return None
    if start == 5 and end in (1, 6):
        return "perfect" if end == 1 else "interrupted"
    return "plagal" if start == 4 and end == 1 and not approach.seventh else None


def cadence_reason(approach: ChordLabel, goal: ChordLabel, words: str = "uk") -> str:
    """Say in a sentence why two chords make their cadence, or none.

    >>> cadence_reason(ChordLabel(2, 1), ChordLabel(5))
    'IIb to V is an imperfect cadence: it stops on the dominant'
    """
    name = cadence(approach, goal)
    pair = f"{approach.text} to {goal.text}"
    if name is not None:
        text = cadence_text(name, words)
        return f"{pair} is {'an' if text[0] in 'aiou' else 'a'} {text}: {_WHY[name]}"
    if goal.inversion or goal.seventh:
        return f"{pair} is no cadence: the last chord is not a triad in root position"
    if approach.degree == goal.degree:
        return f"{pair} is no cadence: the chord stays"
    if approach.inversion and goal.degree in (1, 6):
        return f"{pair} is no full cadence: the chord before the last is not in root position"
    return f"{pair} is none of the four cadences"


def cadence_text(name: str, words: str = "uk") -> str:
    """Write a cadence's name: ``"perfect cadence"``, in American words ``"authentic cadence"``.

    Source: Schmidt-Jones, Understanding Basic Music Theory, m12402.

    Raises:
        UnknownCadenceError: no such cadence.

    >>> cadence_text("imperfect", "us")
    'half cadence'
    """
    kind = parse_cadence(name)
    return f"{choose(words, kind, _US[kind])} cadence"


def accepted_cadence_names(name: str) -> tuple[str, ...]:
    """List every name a marker takes for a cadence, the usual British one first.

    >>> accepted_cadence_names("plagal")
    ('plagal', 'amen')
    """
    return _NAMES[parse_cadence(name)]


def parse_cadence(text: str) -> str:
    """Read a cadence's name, British or American.

    Raises:
        UnknownCadenceError: no such cadence.

    >>> parse_cadence("Half close"), parse_cadence("authentic cadence")
    ('imperfect', 'perfect')
    """
    words = " ".join(text.lower().replace("-", " ").split()).removesuffix(" cadence")
    kind = _READ.get(words)
    if kind is None:
        raise UnknownCadenceError(f"{text!r} is not a cadence", right=f"use one of {', '.join(CADENCES)}")
    return kind


def cadence_pairs(name: str) -> tuple[tuple[ChordLabel, ChordLabel], ...]:
    """List the chord pairs, triads in root position and the cadential Ic, that make a cadence.

    >>> [(a.text, b.text) for a, b in cadence_pairs("perfect")]
    [('V', 'I'), ('V7', 'I')]
    """
    kind = parse_cadence(name)
    chords = [ChordLabel(degree) for degree in range(1, 7)]
    before = [*chords, ChordLabel(1, 2), ChordLabel(2, 1), ChordLabel(4, 1), ChordLabel(5, seventh=True)]
    return tuple((first, last) for first in before for last in chords if cadence(first, last) == kind)
