"""Saying in words where a note stands, for text alternatives that give no answer away."""

from __future__ import annotations

from stavewright.theory.accidental import sign_text
from stavewright.theory.clef import place_text


def where(place: int) -> str:
    """A place on the stave with its small word.

    >>> where(2), where(-1)
    ('on the 2nd line', 'in the space below the bottom line')
    """
    return f"{'in' if place % 2 else 'on'} {place_text(place)}"


def with_sign(place: int, sign: str | None) -> str:
    """A place and the sign printed there, without the name of the note.

    >>> with_sign(2, "flat-flat")
    'on the 2nd line, with a double flat before it'
    """
    return f"{where(place)}, with a {sign_text(sign)} before it" if sign else where(place)
