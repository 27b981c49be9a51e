"""The words of the page: UK trade words, or the same sentence in US words."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

# UK -> US names, longest first when applied. Source of the pairs: LilyPond Music Glossary, "duration names";
# Schmidt-Jones, Understanding Basic Music Theory (m11887, m12402); Open Music Theory v1, "Introduction to cadences".
UK_TO_US = {
    "demisemiquavers": "32nd notes",
    "demisemiquaver": "32nd note",
    "semiquavers": "16th notes",
    "semiquaver": "16th note",
    "quavers": "eighth notes",
    "quaver": "eighth note",
    "crotchets": "quarter notes",
    "crotchet": "quarter note",
    "minims": "half notes",
    "minim": "half note",
    "semibreves": "whole notes",
    "semibreve": "whole note",
    "breves": "double whole notes",
    "breve": "double whole note",
    "demisemiquaver rest": "32nd rest",
    "semiquaver rest": "16th rest",
    "quaver rest": "eighth rest",
    "crotchet rest": "quarter rest",
    "minim rest": "half rest",
    "semibreve rest": "whole rest",
    "breve rest": "double whole rest",
    "breve rests": "double whole rests",
    "demisemiquaver rests": "32nd rests",
    "semiquaver rests": "16th rests",
    "quaver rests": "eighth rests",
    "crotchet rests": "quarter rests",
    "minim rests": "half rests",
    "semibreve rests": "whole rests",
    "bar line": "bar line",
    "bar lines": "bar lines",
    "bars": "measures",
    "bar": "measure",
    "staves": "staffs",
    "stave": "staff",
    "semitones": "half steps",
    "semitone": "half step",
    "whole tone": "whole step",
    "tones": "whole steps",
    "tone": "whole step",
    "leading note": "leading tone",
    "leading tone": "leading tone",  # said in US words already
    "perfect cadence": "authentic cadence",
    "imperfect cadence": "half cadence",
    "interrupted cadence": "deceptive cadence",
}

_PATTERN = re.compile(
    r"\b(" + "|".join(sorted(map(re.escape, UK_TO_US), key=len, reverse=True)) + r")\b", re.IGNORECASE
)


_AN = re.compile(r"\b(a) (eighth|authentic)\b", re.IGNORECASE)
_A = re.compile(r"\b(a)n (half|deceptive)\b", re.IGNORECASE)


@lru_cache(maxsize=4096)
def us_words(text: str) -> str:
    """The same sentence in US words.

    >>> us_words("A minim lasts two crotchets; draw the bar line.")
    'A half note lasts two quarter notes; draw the bar line.'
    >>> us_words("It begins with an upbeat of a quaver.")
    'It begins with an upbeat of an eighth note.'
    >>> us_words("an imperfect cadence, a perfect cadence, an interrupted cadence")
    'a half cadence, an authentic cadence, a deceptive cadence'
    """

    def swap(match: re.Match[str]) -> str:
        uk = match.group(0)
        us = UK_TO_US[uk.lower()]
        return us[0].upper() + us[1:] if uk[0].isupper() else us

    return _A.sub(r"\1 \2", _AN.sub(r"\1n \2", _PATTERN.sub(swap, text)))


@dataclass(frozen=True, slots=True)
class Wording:
    """How a question is put: the response form asked for, and UK or US words.

    >>> Wording("words", "us").say("How many quavers are in the bar?")
    'How many eighth notes are in the measure?'
    """

    form: str
    words: str = "uk"

    def say(self, text: str) -> str:
        """The sentence in the reader's words; kinds write UK words."""
        return us_words(text) if self.words == "us" else text

    @property
    def choosing(self) -> bool:
        """Whether the pupil picks from options rather than writes."""
        return self.form in ("choice", "choices")
