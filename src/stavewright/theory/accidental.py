"""Accidentals: their signs, how far each holds, and which must be written."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from stavewright.theory.errors import UnknownSignError
from stavewright.theory.key import signature_alter
from stavewright.theory.pitch import STEPS, Pitch, pitch_at

__all__ = [
    "SIGNS",
    "Needed",
    "WrittenNote",
    "sign_alter",
    "sign_name",
    "sign_text",
    "signs_needed",
    "sounding",
]

SIGNS: Final = {
    "double-sharp": 2,
    "sharp": 1,
    "natural": 0,
    "flat": -1,
    "flat-flat": -2,
}
"""The written signs and what each makes of its letter; the flat-flat is the double flat."""

_OLD_SIGNS: Final = {"natural-sharp": 1, "natural-flat": -1, "double-flat": -2, "sharp-sharp": 2}
_READ: Final = {**SIGNS, **_OLD_SIGNS}
_NAMES: Final = {alter: name for name, alter in SIGNS.items()}
_TEXT: Final = {"flat-flat": "double flat", "double-sharp": "double sharp"}


@dataclass(frozen=True, slots=True)
class WrittenNote:
    """A note as written: its line or space, the sign before it if any, and whether a tie leads into it.

    ``diatonic`` counts letters from C0, as in ``Pitch.diatonic``. ``tied`` means that a tie joins it to the note
    before it, which must be on the same line or space.
    """

    diatonic: int
    sign: str | None = None
    tied: bool = False


@dataclass(frozen=True, slots=True)
class Needed:
    """The sign a note needs, if any, and whether a reminder is customary where none is needed.

    ``sign`` must be written; ``reminder`` may be, and is never an error.
    """

    sign: str | None
    reminder: str | None = None


def sign_alter(sign: str) -> int:
    """What a sign makes of its letter: 1 for a sharp, 0 for a natural.

    Older signs that first cancel (a natural before a sharp or flat) are read as the sharp or flat alone.
    Source: Gehrkens, Music Notation and Terminology (1914) §26.

    Raises:
        UnknownSignError: no such sign.

    >>> sign_alter("flat-flat")
    -2
    """
    try:
        return _READ[sign]
    except (KeyError, TypeError):
        raise UnknownSignError(f"{sign!r} is not an accidental", right=f"use one of {', '.join(SIGNS)}") from None


def sign_name(alter: int) -> str:
    """Find the sign for an alteration: ``"sharp"`` for 1, ``"natural"`` for 0.

    Raises:
        UnknownSignError: there is no single sign beyond the doubles.

    >>> sign_name(2)
    'double-sharp'
    """
    try:
        return _NAMES[alter]
    except (KeyError, TypeError):
        raise UnknownSignError(f"no sign alters by {alter!r}", right="signs go from -2 to 2") from None


def sign_text(sign: str) -> str:
    """Name a sign in words: ``"double flat"`` for the flat-flat.

    >>> sign_text("flat-flat")
    'double flat'
    """
    return _TEXT.get(sign, sign_name(sign_alter(sign)).replace("-", " "))


def sounding(bars: Iterable[Iterable[WrittenNote]], fifths: int) -> tuple[tuple[Pitch, ...], ...]:
    """Read written notes bar by bar: the pitch of each, from the signature and the signs in force.

    A sign holds to the end of its bar, on its own line or space only. A tie over the bar line carries the pitch into
    the tied note and no further.
    Source: Gehrkens, Music Notation and Terminology (1914) §§24-25.

    Raises:
        UnknownSignError: a sign that cannot be read.

    >>> bar_1 = [WrittenNote(31, "sharp"), WrittenNote(31), WrittenNote(38)]
    >>> [[pitch.short for pitch in bar] for bar in sounding([bar_1, [WrittenNote(31)]], 0)]
    [['F#4', 'F#4', 'F5'], ['F4']]
    """
    heard: list[tuple[Pitch, ...]] = []
    last: dict[int, int] = {}
    for bar in bars:
        in_force: dict[int, int] = {}
        pitches = []
        for note in bar:
            place = note.diatonic
            if note.sign is not None:
                alter = in_force[place] = sign_alter(note.sign)
            elif note.tied and place in last:
                alter = last[place]
            else:
                alter = in_force.get(place, signature_alter(fifths, STEPS[place % 7]))
            last[place] = alter
            pitches.append(pitch_at(place, alter))
        heard.append(tuple(pitches))
    return tuple(heard)


def signs_needed(
    bars: Iterable[Sequence[Pitch]], fifths: int, tied: Iterable[tuple[int, int]] = ()
) -> tuple[tuple[Needed, ...], ...]:
    """Find the sign each pitch must have, bar by bar, and where a reminder is customary.

    ``tied`` lists the notes, by bar and place in it counted from 0, that a tie leads into: such a note needs no sign,
    and its pitch does not stay in force after it. A reminder is customary where the line or space was altered in the
    bar before, or the letter in another octave of this bar.
    Source: Gehrkens, Music Notation and Terminology (1914) §§24-26; reminders, common practice.

    Raises:
        UnknownSignError: an alteration beyond the double signs.

    >>> bars = [[Pitch.parse("F#4"), Pitch.parse("F4")], [Pitch.parse("F4")]]
    >>> [[note.sign for note in bar] for bar in signs_needed(bars, 1)]
    [[None, 'natural'], ['natural']]
    """
    joined = frozenset(tied)
    answer: list[tuple[Needed, ...]] = []
    before: dict[int, int] = {}
    for number, bar in enumerate(bars):
        in_force: dict[int, int] = {}
        letters: dict[int, int] = {}
        used: dict[int, int] = {}
        row = []
        for index, pitch in enumerate(bar):
            place, alter = pitch.diatonic, pitch.alter
            used[place] = alter
            if (number, index) in joined:
                row.append(Needed(None))
                continue
            plain = signature_alter(fifths, pitch.step)
            if in_force.get(place, plain) != alter:
                row.append(Needed(sign_name(alter)))
            elif place not in in_force and {before.get(place, alter), letters.get(place % 7, alter)} != {alter}:
                row.append(Needed(None, sign_name(alter)))
            else:
                row.append(Needed(None))
            in_force[place] = letters[place % 7] = alter
        before = used
        answer.append(tuple(row))
    return tuple(answer)
