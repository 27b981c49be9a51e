"""Reading a printed scale: what its notes sound, and what known misreadings make of them."""

from __future__ import annotations

from collections.abc import Sequence

from stavewright.questions.errors import BadDocument
from stavewright.questions.written import Written
from stavewright.theory.accidental import WrittenNote, sounding
from stavewright.theory.clef import CLEFS
from stavewright.theory.pitch import NoteName, Pitch
from stavewright.theory.scale import name_scale, scale_names

_ONE_WAY, _BOTH_WAYS = 8, 15
OTHER_CLEFS = {"treble": ("bass",), "bass": ("treble",), "alto": ("treble", "tenor"), "tenor": ("alto", "treble")}
"""What each clef is taken for, the likeliest first: who reads treble and bass knows no C clef (common practice)."""


def row_pitches(clef: str, fifths: int | None, notes: Sequence[Written]) -> tuple[Pitch, ...]:
    """The pitches of one printed bar: signature, signs and how long they hold.

    >>> [p.short for p in row_pitches("treble", 1, (Written(8), Written(7), Written(8, "natural")))]
    ['F#5', 'E5', 'F5']
    """
    bottom = CLEFS[clef].bottom_line.diatonic
    return sounding([[WrittenNote(bottom + note.place, note.accidental) for note in notes]], fifths or 0)[0]


def scale_of(pitches: Sequence[Pitch]) -> tuple[NoteName, str, str]:
    """The tonic, form and direction of a written scale; coming down alone, natural and melodic are named natural.

    Raises:
        BadDocument: the notes are no scale.

    >>> tonic, form, way = scale_of([Pitch.parse(name) for name in "D4 E4 F4 G4 A4 Bb4 C#5 D5".split()])
    >>> tonic.text, form, way
    ('D', 'harmonic minor', 'up')
    """
    found = name_scale(pitches[:_ONE_WAY])
    rising = len(pitches) > 1 and pitches[1].diatonic > pitches[0].diatonic
    if len(pitches) == _BOTH_WAYS and rising:
        back = tuple(pitch.name for pitch in pitches[_ONE_WAY - 1 :])
        found = tuple((tonic, form) for tonic, form in found if back == scale_names(tonic, form, ascending=False))
        way = "both"
    else:
        found = found if len(pitches) == _ONE_WAY else ()
        way = "up" if rising else "down"
    if not found:
        names = " ".join(pitch.short for pitch in pitches)
        raise BadDocument(f"{names} is no scale: write the eight notes of one octave, up, down or up and down")
    tonic, form = found[0]
    return tonic, form, way


def in_other_clefs(clef: str, note: Written) -> tuple[tuple[str, NoteName], ...]:
    """The name of a note where the clef is taken for another one: the clef, and the letter with its printed sign.

    >>> [(other, name.text) for other, name in in_other_clefs("treble", Written(0))]
    [('bass', 'G')]
    """
    signs = {None: 0, "natural": 0, "sharp": 1, "flat": -1, "double-sharp": 2, "flat-flat": -2}
    alter = signs[note.accidental]
    return tuple((other, CLEFS[other].pitch_at(note.place, alter).name) for other in OTHER_CLEFS[clef])


def bare_pitches(clef: str, notes: Sequence[Written]) -> tuple[Pitch, ...]:
    """The letters alone, every signature and sign left out.

    >>> [p.short for p in bare_pitches("treble", (Written(1, "sharp"),))]
    ['F4']
    """
    return tuple(CLEFS[clef].pitch_at(note.place) for note in notes)
