"""Named errors: each says what is wrong, where, and what would be right."""

from __future__ import annotations

from collections.abc import Iterable

__all__ = [
    "OrnamentError",
    "StavewrightError",
    "UnknownCadenceError",
    "UnknownChordError",
    "UnknownClefError",
    "UnknownDegreeError",
    "UnknownInstrumentError",
    "UnknownIntervalError",
    "UnknownKeyError",
    "UnknownNoteError",
    "UnknownScaleError",
    "UnknownSignError",
    "UnknownVoiceError",
    "UnknownWordsError",
    "together",
]

MOST_TOLD = 8
"""So many faults of one input are told; of more, how many there are."""


def together(faults: Iterable[str]) -> str:
    """All faults of one input in one sentence, each once; of many the first few, and how many more there are.

    >>> together(["no clef", "no time", "no clef"])
    'no clef; no time'
    """
    distinct = list(dict.fromkeys(faults))
    more = len(distinct) - MOST_TOLD
    return "; ".join([*distinct[:MOST_TOLD], *([f"and {more} more"] if more > 0 else [])])


class StavewrightError(ValueError):
    """Anything given to the program that it cannot rightly take.

    ``what`` states the fault, ``where`` the place of it (a field, a bar, a line), ``right`` what would be taken.
    The message joins the three.

    >>> print(StavewrightError("'H' is not a letter name", where="bar 2", right="use A to G"))
    'H' is not a letter name (bar 2): use A to G
    """

    def __init__(self, what: str, *, where: str = "", right: str = "") -> None:
        self.what = what
        self.where = where
        self.right = right
        place = f" ({where})" if where else ""
        remedy = f": {right}" if right else ""
        super().__init__(f"{what}{place}{remedy}")


class UnknownNoteError(StavewrightError):
    """A note name or pitch that cannot be read."""


class UnknownIntervalError(StavewrightError):
    """An interval that does not exist or cannot be read, such as a perfect third."""


class UnknownKeyError(StavewrightError):
    """A key that cannot be read, or that has no signature of seven signs or fewer."""


class UnknownClefError(StavewrightError):
    """A clef outside treble, alto, tenor and bass."""


class UnknownSignError(StavewrightError):
    """An accidental sign that cannot be read."""


class UnknownScaleError(StavewrightError):
    """A scale form that cannot be read."""


class UnknownDegreeError(StavewrightError):
    """A degree of the scale outside 1 to 8, or a degree name that cannot be read."""


class UnknownChordError(StavewrightError):
    """A chord label that cannot be read, or a chord that does not exist."""


class UnknownCadenceError(StavewrightError):
    """A cadence name that cannot be read."""


class UnknownInstrumentError(StavewrightError):
    """An instrument that is not in the table."""


class UnknownVoiceError(StavewrightError):
    """A voice that is not in the table."""


class UnknownWordsError(StavewrightError):
    """A choice of words other than ``uk`` and ``us``."""


class OrnamentError(StavewrightError):
    """An ornament that cannot be read, or cannot be played on the note given."""
