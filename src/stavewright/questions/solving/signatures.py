"""Key signatures as they are laid out on a stave, right and wrong."""

from __future__ import annotations

from collections.abc import Iterable

from stavewright.questions.values import Value, WrittenNote
from stavewright.theory.accidental import sign_name
from stavewright.theory.clef import CLEFS
from stavewright.theory.key import signature_layout
from stavewright.theory.pitch import Pitch

# The tenor clef's sharps in the shape they have in the other clefs; both layouts are in print (common practice).
_TENOR_SHARPS = tuple(Pitch.parse(place).altered(1) for place in "F4 C4 G4 D4 A3 E4 B3".split())
ORDER = {True: "F C G D A E B", False: "B E A D G C F"}
"""The order of sharps (True) and of flats. Source: Gehrkens, Music Notation and Terminology (1914) §83."""


def layouts(fifths: int, clef: str) -> tuple[tuple[Pitch, ...], ...]:
    """Every accepted layout of a signature under a clef, the usual one first.

    >>> [[sign.short for sign in one] for one in layouts(1, "tenor")]
    [['F#3'], ['F#4']]
    """
    usual = signature_layout(fifths, CLEFS[clef])
    return (usual, _TENOR_SHARPS[:fifths]) if clef == "tenor" and fifths > 0 else (usual,)


def written_signs(signs: Iterable[Pitch]) -> Value:
    """Signs as a pupil writes them, one after the other."""
    return Value(notes=tuple(WrittenNote(p.step, octave=p.octave, accidental=sign_name(p.alter)) for p in signs))


def signs_text(signs: Iterable[Pitch]) -> str:
    """Signs in words.

    >>> signs_text(layouts(2, "bass")[0])
    'F sharp, C sharp'
    """
    return ", ".join(sign.name.text for sign in signs) or "nothing"


def octave_off(clef: str, signs: tuple[Pitch, ...]) -> tuple[Pitch, ...]:
    """The signature with its latest movable sign an octave away, still on the stave or next to it; or nothing.

    >>> [sign.short for sign in octave_off("treble", layouts(1, "treble")[0])]
    ['F#4']
    """
    for index in range(len(signs) - 1, -1, -1):
        for octaves in (-1, 1):
            moved = signs[index].shifted(octaves)
            if -1 <= CLEFS[clef].place(moved) <= 9:
                return (*signs[:index], moved, *signs[index + 1 :])
    return ()


def borrowed(clef: str, other: str, fifths: int) -> tuple[Pitch, ...]:
    """The signature on the lines and spaces that it has in another clef.

    >>> [sign.short for sign in borrowed("treble", "bass", 1)]
    ['D#5']
    """
    shift = CLEFS[clef].bottom_line.diatonic - CLEFS[other].bottom_line.diatonic
    return tuple(Pitch.from_diatonic(p.diatonic + shift, p.alter) for p in signature_layout(fifths, CLEFS[other]))
