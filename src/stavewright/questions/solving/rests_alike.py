"""Rests that look alike, and how to tell them apart."""

from __future__ import annotations

ALIKE = {"semibreve": "minim", "minim": "semibreve", "crotchet": "quaver", "quaver": "crotchet"}
"""Each rest that is taken for another, with that other (common practice)."""


def tell_apart(value: str) -> str:
    """What to say to a pupil who mixed up the rest of this value with the one like it.

    >>> tell_apart("minim")
    'The longer one hangs below its line, the shorter one sits on it: the heavier one falls.'
    """
    if value in ("crotchet", "quaver"):
        return "The one with a hook is the shorter: one hook for each tail its note has."
    return "The longer one hangs below its line, the shorter one sits on it: the heavier one falls."
