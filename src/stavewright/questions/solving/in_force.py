"""Reading a row of written notes bar by bar, with any of the rules of accidentals left out: what slips would read."""

from __future__ import annotations

from collections.abc import Sequence

from stavewright.questions.written import Written
from stavewright.theory.accidental import sign_alter
from stavewright.theory.clef import CLEFS
from stavewright.theory.key import signature_alter


def misread(
    bars: Sequence[Sequence[Written]],
    clef: str,
    fifths: int,
    *,
    signature: bool = True,
    bar_line: bool = True,
    octave: bool = True,
    earlier: bool = True,
    ties: bool = True,
    tie_ends: bool = True,
) -> tuple[tuple[int, ...], ...]:
    """The alteration of every note when the rules set to False are forgotten.

    `signature` reads the key signature, `bar_line` ends a sign's life, `octave` keeps a sign to its own line or space,
    `earlier` lets a sign hold within the bar, `ties` carries it into the tied note and `tie_ends` no further.
    Source of the rules: Gehrkens, Music Notation and Terminology (1914) §24-25.

    >>> row = ((Written(1, "sharp"), Written(1)), (Written(1),))
    >>> misread(row, "treble", 0), misread(row, "treble", 0, bar_line=False)
    (((1, 1), (0,)), ((1, 1), (1,)))
    """
    bottom = CLEFS[clef].bottom_line.diatonic
    read: list[tuple[int, ...]] = []
    force: dict[int, int] = {}
    tied_at: int | None = None
    tied_alter = 0
    for bar in bars:
        if bar_line:
            force = {}
        row: list[int] = []
        for note in bar:
            where = note.place if octave else (bottom + note.place) % 7
            if note.accidental is not None:
                alter = force[where] = sign_alter(note.accidental)
            elif ties and tied_at == note.place:
                alter = tied_alter
                if not tie_ends:
                    force[where] = alter
            elif earlier and where in force:
                alter = force[where]
            else:
                alter = signature_alter(fifths, CLEFS[clef].pitch_at(note.place).step) if signature else 0
            tied_at, tied_alter = (note.place if note.tie else None), alter
            row.append(alter)
        read.append(tuple(row))
    return tuple(read)
