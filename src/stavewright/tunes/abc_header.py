"""The fields of ABC notation that say key, metre, unit length, title and transcriber."""

from __future__ import annotations

import re
from collections.abc import Sequence
from fractions import Fraction
from functools import lru_cache
from typing import Final

from stavewright.theory.duration import CROTCHET_TICKS
from stavewright.theory.errors import StavewrightError
from stavewright.theory.metre import TimeSignature
from stavewright.tunes.errors import NotUnderstoodTune

__all__ = ["fifths_of", "metre_of", "transcriber_of", "unit_of", "usual_unit"]

_KEY: Final = re.compile(r"([A-G])([#b]?) ?([A-Za-z]*)")
_MODES: Final = {
    "": 0, "maj": 0, "ion": 0, "mix": -1, "dor": -2, "m": -3, "min": -3, "aeo": -3, "phr": -4, "loc": -5, "lyd": 1,
}  # fmt: skip
_LINE: Final = "FCGDAEB"
_SHORT: Final = re.compile(r"[0-9]{1,3}")
_SEMIBREVE: Final = 4 * CROTCHET_TICKS


@lru_cache(maxsize=256)
def fifths_of(text: str) -> int:
    """The key signature of a ``K:`` field, sharps counted up.

    Raises:
        NotUnderstoodTune: a key with signs of its own, a bagpipe key, or no key at all.

    Source: the ABC music standard 2.1 (2011), K: key.

    >>> fifths_of("E Dorian"), fifths_of("Bb"), fifths_of("F# Minor")
    (2, -2, 3)
    """
    found = _KEY.fullmatch(text.strip())
    mode = found.group(3) if found else ""
    mode = mode if mode == "m" else mode[:3].lower()
    if found is None or (mode not in _MODES) or (mode == "m" and found.group(3) != "m"):
        raise NotUnderstoodTune(f"the key {text.strip()[:20]!r}")
    place = _LINE.index(found.group(1)) - 1 + {"": 0, "#": 7, "b": -7}[found.group(2)]
    fifths = place + _MODES[mode]
    if not -7 <= fifths <= 7:
        raise NotUnderstoodTune(f"the key {text.strip()[:20]!r} has more than seven signs")
    return fifths


@lru_cache(maxsize=256)
def metre_of(text: str) -> TimeSignature:
    """The time signature of an ``M:`` field.

    Raises:
        NotUnderstoodTune: free metre, or one that is not in the table of metres.

    >>> metre_of("C|").text
    'cut C'
    """
    try:
        return TimeSignature.parse(text)
    except StavewrightError:
        raise NotUnderstoodTune(f"the metre {text.strip()[:20]!r}") from None


@lru_cache(maxsize=64)
def unit_of(text: str) -> int:
    """The ticks of a note without a figure, from an ``L:`` field.

    Raises:
        NotUnderstoodTune: no fraction of a semibreve.
    """
    upper, slash, lower = text.strip().partition("/")
    if not (slash and _SHORT.fullmatch(upper) and _SHORT.fullmatch(lower) and int(upper) and 0 < int(lower) <= 64):
        raise NotUnderstoodTune(f"the unit length {text.strip()[:20]!r}")
    ticks = Fraction(int(upper), int(lower)) * _SEMIBREVE
    if ticks.denominator != 1:
        raise NotUnderstoodTune(f"the unit length {text.strip()[:20]!r}")
    return int(ticks)


def usual_unit(time: TimeSignature) -> int:
    """The unit where no ``L:`` field names one: a quaver, or a semiquaver in bars shorter than three crotchets.

    Source: the ABC music standard 2.1 (2011), L: unit note length.
    """
    return CROTCHET_TICKS // (2 if time.ticks >= 3 * CROTCHET_TICKS else 4)


_LEAD: Final = re.compile(
    r'(?i)["\s]*(?:(?:transcri\w*|contributed)\s*(?:[\d:-][\d: -]{5,20})?(?:by|be)?|\d{4,8}(?:\s+by)?)\s*'
)
_NAME: Final = re.compile(r"(?:[A-Z][\w.'’-]*|de|van)(?: (?:[A-Z][\w.'’-]*|de|van)){1,3}(?![\w@:/])")
_ADDRESS: Final = re.compile(r"\S*[@:/]\S*")
_ALONE: Final = re.compile(r"[A-Za-z]{3,20}$")
_NAMED_ADDRESS: Final = re.compile(r"([a-z]+)\.([a-z]+)@")
_SLIPS: Final = {"Trish O'Nei": "Trish O'Neil", "Trish sO'Nei": "Trish O'Neil", "Lee Worman": "A. Lee Worman"}


def transcriber_of(texts: Sequence[str]) -> str:
    """The name in the ``Z:`` fields of a tune, without the address that often follows it.

    Fields that hold remarks are passed over; a name is told from an address that stands alone. Empty where no field
    names anyone.

    >>> transcriber_of(['"Transcribed by Bob Example, rjs@example.org"']), transcriber_of(["abc 1.6", "J.B.Example"])
    ('Bob Example', 'J. B. Example')
    """
    for text in texts:
        lead = _LEAD.match(text)
        rest = text[lead.end() if lead else 0 :].strip(' "')
        address = _NAMED_ADDRESS.match(rest)
        if address:
            return f"{address.group(1).title()} {address.group(2).title()}"
        spaced = re.sub(r"\.(?=[A-Z])", ". ", _ADDRESS.sub(",", rest))
        name = _NAME.match(spaced)
        if name is not None and (lead or len(spaced) == name.end() or spaced[name.end() :].lstrip()[:1] in ",*<("):
            words = [word.title() if word.isupper() and len(word) > 2 else word for word in name.group().split()]
            plain = " ".join(words).rstrip(".")
            return _SLIPS.get(plain, plain)
        if lead and _ALONE.match(rest):
            return rest
    return ""
