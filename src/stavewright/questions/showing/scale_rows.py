"""A printed scale as a picture: its notes in a row, numbered where the pupil is to point at one."""

from __future__ import annotations

from collections.abc import Sequence

from stavewright.questions.documents import StaveBlock
from stavewright.questions.showing.two_notes import notes_block
from stavewright.questions.written import Written
from stavewright.score.event import Note
from stavewright.score.stave import Score, single
from stavewright.theory.accidental import WrittenNote, sounding
from stavewright.theory.clef import CLEFS
from stavewright.theory.duration import Duration


def row_score(
    clef: str, fifths: int | None, notes: Sequence[Written], *, numbered: bool = False, value: str = "semibreve"
) -> Score:
    """The notes as they are written, ids n1, n2, ...; `numbered` prints 1, 2, ... under them.

    >>> [note.pitch.short for note in row_score("treble", None, (Written(1, "sharp"), Written(2))).notes()]
    ['F#4', 'G4']
    """
    bottom = CLEFS[clef].bottom_line.diatonic
    pitches = sounding([[WrittenNote(bottom + note.place, note.accidental) for note in notes]], fifths or 0)[0]
    row = tuple(
        Note(
            pitch,
            Duration(value),
            id=f"n{number}",
            accidental=note.accidental,
            label=str(number) if numbered else None,
        )
        for number, (pitch, note) in enumerate(zip(pitches, notes, strict=True), 1)
    )
    return single(clef, row, fifths)


def row_block(clef: str, fifths: int | None, notes: Sequence[Written], *, numbered: bool = False) -> StaveBlock:
    """The picture of the row; the text alternative says just what is printed."""
    return notes_block(row_score(clef, fifths, notes, numbered=numbered))
