"""Scales on paper for tests: note names written down under a treble clef, and the scales of another program."""

from __future__ import annotations

import music21

from stavewright.questions.written import Written
from stavewright.score.stave import single
from stavewright.score.writing import row_of, with_accidentals
from stavewright.theory.clef import CLEFS
from stavewright.theory.pitch import Pitch

M21 = {
    "major": music21.scale.MajorScale,
    "natural minor": music21.scale.MinorScale,
    "harmonic minor": music21.scale.HarmonicMinorScale,
    "melodic minor": music21.scale.MelodicMinorScale,
}


def written_row(names: str, clef: str = "treble", fifths: int | None = None) -> tuple[Written, ...]:
    """Pitches such as "A4 B4" as they are written under a clef and signature."""
    row = with_accidentals(single(clef, row_of([Pitch.parse(name) for name in names.split()]), fifths))
    return tuple(Written(CLEFS[clef].place(note.pitch), note.accidental) for note in row.notes())


def sounds(clef: str, fifths: int | None, notes: tuple[Written, ...]) -> list[str]:
    """What music21 hears of a printed row: note names with octaves, signs holding on their own line."""
    force: dict[int, int] = {}
    signature = music21.key.KeySignature(fifths or 0)
    alters = {"sharp": 1, "flat": -1, "natural": 0, "double-sharp": 2, "flat-flat": -2}
    found = []
    for note in notes:
        pitch = music21.pitch.Pitch()
        pitch.diatonicNoteNum = CLEFS[clef].bottom_line.diatonic + 1 + note.place
        if note.accidental is not None:
            force[note.place] = alters[note.accidental]
        own = signature.accidentalByStep(pitch.step)
        alter = force.get(note.place, int(own.alter) if own is not None else 0)
        pitch.accidental = music21.pitch.Accidental(alter) if alter else None
        found.append(pitch.nameWithOctave)
    return found


def scale_by_music21(name: str, lowest: str, direction: str) -> list[str]:
    """The notes of a named scale from its lower tonic, as music21 writes them."""
    form = name.split(" ", name.count(" ") - (0 if name.endswith("major") else 1))[-1]
    low = music21.pitch.Pitch(lowest)
    ways = music21.scale.Direction
    up = sorted(M21[form](low).getPitches(low, low.transpose(12), direction=ways.ASCENDING), key=lambda p: p.ps)
    down = sorted(M21[form](low).getPitches(low, low.transpose(12), direction=ways.DESCENDING), key=lambda p: -p.ps)
    rows = {"up": up, "down": down, "both": [*up, *down[1:]]}
    return [pitch.nameWithOctave for pitch in rows[direction]]
