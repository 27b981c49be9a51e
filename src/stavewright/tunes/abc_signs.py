"""The signs in force in a bar of ABC music: key signature, accidentals to the bar line, ties."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from stavewright.theory.key import signature_alter
from stavewright.theory.pitch import STEPS, Pitch, pitch_at

__all__ = ["Signs"]


class Signs:
    """What a note without a sign of its own sounds like, bar by bar.

    Source: Gehrkens, Music Notation and Terminology (1914) §24-25.

    >>> signs = Signs(1)
    >>> signs.signed(28, 1).short, signs.sounding(28, None).short, signs.sounding(31, None).short
    ('C#4', 'C#4', 'F#4')
    """

    def __init__(self, fifths: int) -> None:
        self._signature = _signature(fifths)
        self._force: dict[int, int] = {}
        self._altered: dict[int, int] = {}

    def bar_line(self) -> None:
        """Forget the signs of the bar."""
        self._force.clear()
        self._altered.clear()

    def signed(self, place: int, alter: int) -> Pitch:
        """The pitch of a note with a sign, which then holds to the bar line."""
        self._force[place] = self._altered[place % 7] = alter
        return pitch_at(place, alter)

    def sounding(self, place: int, tied: Sequence[Pitch] | None) -> Pitch | None:
        """The pitch of a note without a sign; None where a sign in another octave leaves it in doubt.

        ``tied`` holds the pitches of a note before it that a tie leads on from.
        """
        if place in self._force:
            return pitch_at(place, self._force[place])
        for pitch in tied or ():
            if pitch.diatonic == place:
                return pitch
        alter = self._signature[place % 7]
        if self._altered and self._altered.get(place % 7, alter) != alter:
            return None
        return pitch_at(place, alter)


@lru_cache(maxsize=16)
def _signature(fifths: int) -> tuple[int, ...]:
    """What the key signature does to each letter from C to B."""
    return tuple(signature_alter(fifths, step) for step in STEPS)
