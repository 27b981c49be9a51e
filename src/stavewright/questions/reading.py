"""Reading what was written in words: the many spellings of one answer brought to one form."""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

from stavewright.questions.rhythm_words import full_value, one_way
from stavewright.questions.short_forms import put_in_order, spell_out, take_apart
from stavewright.questions.wording import UK_TO_US

_TO_UK = {us.lower(): uk for uk, us in UK_TO_US.items() if us.lower() != uk}
_US_PATTERN = re.compile(r"\b(" + "|".join(sorted(map(re.escape, _TO_UK), key=len, reverse=True)) + r")\b")
_NUMBER_WORDS = {
    "unison": "1st", "prime": "1st", "second": "2nd", "third": "3rd", "fourth": "4th", "fifth": "5th", "sixth": "6th",
    "seventh": "7th", "eighth": "8th", "octave": "8th", "ninth": "9th", "tenth": "10th", "eleventh": "11th",
    "twelfth": "12th", "thirteenth": "13th", "fourteenth": "14th", "fifteenth": "15th",
}  # fmt: skip
_SHORT = {
    "maj": "major", "min": "minor", "perf": "perfect", "aug": "augmented", "dim": "diminished",
    "ma": "major", "mi": "minor",
}  # fmt: skip
_ACCIDENTALS = {"##": " double sharp", "#": " sharp", "bb": " double flat", "b": " flat", "x": " double sharp"}
_SIGNS = str.maketrans({"♯": "#", "♭": "b", "𝄪": "x", "𝄫": "bb", "♮": " natural"})
_LETTER = re.compile(r"\b([a-g])\s?(##|#|bb|b|x)(?![a-ln-z0-9]|m(?!aj|in))")
_ORDINAL = re.compile(r"\b(" + "|".join(_NUMBER_WORDS) + r")\b")
_SPELT_OUT = {"sixteenth": "16th", "thirty second": "32nd", "sixty fourth": "64th"}
_VALUE_NUMBER = re.compile(r"\b(" + "|".join(_SPELT_OUT) + r")(?= (note|rest)s?\b)")
_ABBREVIATED = re.compile(r"\b(" + "|".join(_SHORT) + r")\b\.?")
_OPENING = re.compile(
    r"^(a|an|the|it is|it s) (?=[a-z]{3})(?!major|minor|sharp|flat|double|(?:harmonic|melodic|natural) minor)"
)
"""Words before an answer that say nothing; "a" before a mode or a sign is the note A."""


@lru_cache(maxsize=8192)
def read_words(text: str) -> str:
    """One spelling for one answer: case, accents, signs, short forms and US words are folded to plain UK words.

    A lone small letter keeps no meaning of its own here: "a" after the music word "minor" is still A.

    >>> read_words("F♯ Min.")
    'f sharp minor'
    >>> read_words("Quarter note") == read_words("crotchet")
    True
    >>> read_words("minor third"), read_words("m3"), read_words("Bbm")
    ('minor 3rd', 'minor 3rd', 'b flat minor')
    """
    folded = spell_out(text.translate(_SIGNS))
    folded = unicodedata.normalize("NFKD", folded.casefold())
    folded = "".join(c for c in folded if not unicodedata.combining(c))
    folded = folded.replace("-", " ").replace("_", " ").replace("&", " and ")
    folded = take_apart(_LETTER.sub(lambda m: m.group(1) + _ACCIDENTALS[m.group(2)], folded))
    folded = re.sub(r"[.,;:!?\"'()]+", " ", folded)
    folded = " ".join(folded.split())
    folded = _ABBREVIATED.sub(lambda m: _SHORT[m.group(1)], folded)
    folded = full_value(folded)
    folded = _VALUE_NUMBER.sub(lambda m: _SPELT_OUT[m.group(1)], folded)
    folded = _US_PATTERN.sub(lambda m: _TO_UK[m.group(1)], folded)
    folded = put_in_order(_ORDINAL.sub(lambda m: _NUMBER_WORDS[m.group(1)], folded))
    return one_way(_OPENING.sub("", folded))
