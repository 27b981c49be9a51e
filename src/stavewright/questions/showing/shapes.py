"""What notes and rests look like, in words that do not name their value."""

from __future__ import annotations

from stavewright.theory.duration import Duration

_NUMBER = ("no", "one", "two", "three", "four")
_DOTS = ("", ", with a dot after it", ", with two dots after it", ", with three dots after it")
_RESTS = {
    "breve": "a block that fills the space between two lines",
    "semibreve": "a block that hangs below a line",
    "minim": "a block that sits on a line",
    "crotchet": "an upright zigzag",
}
_HEADS = {
    "breve": "an open head with an upright line on each side",
    "semibreve": "an open head with no stem",
    "minim": "an open head with a stem",
}


def shape(duration: Duration, *, rest: bool = False) -> str:
    """Describe the sign of a value and its dots.

    Source: Gehrkens, Music Notation and Terminology (1914) §1 (notes), §5 (rests), §49-51 (dots).

    >>> shape(Duration("minim", 1))
    'an open head with a stem, with a dot after it'
    >>> shape(Duration("semiquaver"), rest=True)
    'a slanting stroke with two hooks'
    """
    tails = duration.tails
    count = _NUMBER[tails]
    if rest:
        found = _RESTS.get(duration.type) or f"a slanting stroke with {count} hook{'s' if tails > 1 else ''}"
    else:
        tail = "tail" if tails == 1 else "tails"
        found = _HEADS.get(duration.type) or f"a filled head with a stem and {count} {tail}"
    return found + _DOTS[duration.dots]
