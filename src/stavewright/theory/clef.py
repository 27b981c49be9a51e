"""The four clefs, and where pitches sit on their staves."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from stavewright.theory.errors import UnknownClefError
from stavewright.theory.interval import ordinal
from stavewright.theory.pitch import Pitch, pitch_at

__all__ = ["CLEFS", "Clef", "clef", "place_text"]

TOP_LINE: Final = 8


@dataclass(frozen=True, slots=True)
class Clef:
    """A clef: which note it names, and on which line it stands.

    ``sign`` is ``G``, ``F`` or ``C``; ``line`` counts from 1 at the bottom; ``bottom_line`` is the pitch there.
    Places count lines and spaces from the bottom line: 0 bottom line, 1 first space, 8 top line, negative below.
    Source: Gehrkens, Music Notation and Terminology (1914) §§15-17.
    """

    name: str
    sign: str
    line: int
    bottom_line: Pitch

    @property
    def text(self) -> str:
        """The clef in words: ``"treble clef"``."""
        return f"{self.name} clef"

    @property
    def named_pitch(self) -> Pitch:
        """The pitch on the clef's own line: G4, F3 or C4.

        >>> clef("alto").named_pitch.short
        'C4'
        """
        return self.pitch_at(2 * self.line - 2)

    def place(self, pitch: Pitch) -> int:
        """Find the place of a pitch: 0 the bottom line, 1 the space above it, 8 the top line.

        >>> clef("treble").place(Pitch("C", 0, 4)), clef("bass").place(Pitch("C", 0, 4))
        (-2, 10)
        """
        return pitch.diatonic - self.bottom_line.diatonic

    def pitch_at(self, place: int, alter: int = 0) -> Pitch:
        """Find the pitch at a place, altered or not.

        >>> clef("tenor").pitch_at(6).short
        'C4'
        """
        return pitch_at(self.bottom_line.diatonic + place, alter)

    def ledger_lines(self, pitch: Pitch) -> int:
        """Count the ledger lines a pitch needs: positive above the stave, negative below.

        >>> clef("treble").ledger_lines(Pitch("C", 0, 4))
        -1
        """
        place = self.place(pitch)
        return max(0, (place - TOP_LINE) // 2) if place >= 0 else -(-place // 2)


def place_text(place: int) -> str:
    """Name a place on the stave: ``"the 2nd line"``, ``"the 3rd space"``, ``"the 1st ledger line below"``.

    >>> place_text(0), place_text(9), place_text(-2)
    ('the 1st line', 'the space above the top line', 'the 1st ledger line below the stave')
    """
    if 0 <= place <= TOP_LINE:
        return f"the {ordinal(place // 2 + 1)} {'space' if place % 2 else 'line'}"
    side = "above" if place > TOP_LINE else "below"
    count = (place - TOP_LINE) // 2 if place > TOP_LINE else -place // 2
    if place % 2 == 0:
        return f"the {ordinal(count)} ledger line {side} the stave"
    if count == 0:
        return f"the space {side} the {'top' if side == 'above' else 'bottom'} line"
    return f"the space {side} the {ordinal(count)} ledger line {side} the stave"


CLEFS: Final = {
    "treble": Clef("treble", "G", 2, Pitch("E", 0, 4)),
    "alto": Clef("alto", "C", 3, Pitch("F", 0, 3)),
    "tenor": Clef("tenor", "C", 4, Pitch("D", 0, 3)),
    "bass": Clef("bass", "F", 4, Pitch("G", 0, 2)),
}
"""The four clefs by name, from the highest stave to the lowest."""


def clef(name: str) -> Clef:
    """Find a clef by name: treble, alto, tenor or bass.

    Raises:
        UnknownClefError: no clef of that name.

    >>> clef("bass").bottom_line.short
    'G2'
    """
    found = CLEFS.get(name.removesuffix(" clef"))
    if found is None:
        raise UnknownClefError(f"{name!r} is not a clef", right="use treble, alto, tenor or bass")
    return found
