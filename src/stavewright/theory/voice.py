"""Singing voices: their order, clefs and ranges."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from stavewright.theory.errors import UnknownVoiceError
from stavewright.theory.pitch import Pitch

__all__ = ["SATB", "VOICES", "Voice", "clef_in_score", "voice"]


@dataclass(frozen=True, slots=True)
class Voice:
    """A voice: its range as commonly taught, and the outer limits any source gives.

    ``low`` to ``high`` is the range to write for; a note is wrong only outside ``lowest`` to ``highest``.
    ``octave_lower`` says that its part in the treble clef sounds an octave lower than written.
    """

    name: str
    clefs: tuple[str, ...]
    low: Pitch
    high: Pitch
    lowest: Pitch
    highest: Pitch
    octave_lower: bool = False

    def sings(self, pitch: Pitch) -> bool:
        """Whether a pitch lies in the range as commonly taught.

        >>> voice("soprano").sings(Pitch("C", 0, 4)), voice("bass").sings(Pitch("G", 0, 4))
        (True, False)
        """
        return self.low.midi <= pitch.midi <= self.high.midi

    def can_reach(self, pitch: Pitch) -> bool:
        """Whether a pitch lies inside the outer limits of every source.

        >>> voice("soprano").can_reach(Pitch("C", 0, 6))
        True
        """
        return self.lowest.midi <= pitch.midi <= self.highest.midi


def _voice(name: str, clefs: str, taught: str, limits: str, *, octave_lower: bool = False) -> Voice:
    low, high, lowest, highest = (Pitch.parse(place) for place in f"{taught} {limits}".split())
    return Voice(name, tuple(clefs.split()), low, high, lowest, highest, octave_lower)


# Taught ranges from memory; limits are the widest of Gehrkens, Music Notation and Terminology (1914) Appendix B,
# the MuseScore 3.2.3 instruments table, and the taught range.
VOICES: Final = {
    row.name: row
    for row in (
        _voice("soprano", "treble", "C4 A5", "B3 C6"),
        _voice("mezzo-soprano", "treble", "A3 F5", "A3 A5"),
        _voice("alto", "treble", "F3 D5", "E3 F5"),
        _voice("tenor", "treble bass", "C3 A4", "C3 C5", octave_lower=True),
        _voice("baritone", "bass", "G2 E4", "F2 G4"),
        _voice("bass", "bass", "E2 C4", "D2 E4"),
    )
}
"""The six voices from high to low."""

SATB: Final = ("soprano", "alto", "tenor", "bass")
"""The four voices of a choir, from the top."""


def voice(name: str) -> Voice:
    """Find a voice by name.

    Raises:
        UnknownVoiceError: no voice of that name.

    >>> voice("contralto").name
    'alto'
    """
    plain = name.strip().lower()
    found = VOICES.get(
        {"contralto": "alto", "mezzo soprano": "mezzo-soprano", "mezzo": "mezzo-soprano"}.get(plain, plain)
    )
    if found is None:
        raise UnknownVoiceError(f"{name!r} is not a voice", right=f"use one of {', '.join(VOICES)}")
    return found


def clef_in_score(name: str, score: str) -> str:
    """Say which clef a choir voice reads: in ``"short"`` score (two staves) or ``"open"`` score (four).

    In open score the tenor reads the treble clef and sounds an octave lower. Source: common practice.

    Raises:
        UnknownVoiceError: the voice is not one of the choir's four, or the score is neither short nor open.

    >>> clef_in_score("tenor", "open"), clef_in_score("tenor", "short")
    ('treble', 'bass')
    """
    if name not in SATB or score not in ("short", "open"):
        raise UnknownVoiceError(
            f"no clef for {name!r} in {score!r} score", right="use soprano, alto, tenor, bass and short, open"
        )
    return "bass" if name == "bass" or (name == "tenor" and score == "short") else "treble"
