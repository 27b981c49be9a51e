"""Extracts written out by hand for tests: 'C5/1' is a crotchet, 'r/2' a minim rest."""

from __future__ import annotations

from stavewright.questions.values import Value, WrittenNote
from stavewright.score.event import Event, Note, Rest
from stavewright.score.stave import Bar, Direction, Score, Stave
from stavewright.score.writing import with_accidentals, with_ids
from stavewright.theory.duration import Duration, Tuplet
from stavewright.theory.metre import TimeSignature
from stavewright.theory.pitch import Pitch

VALUES = {"4": "semibreve", "2": "minim", "1": "crotchet", "q": "quaver", "s": "semiquaver"}


def event(text: str) -> Event:
    """'D5/1.' is a dotted crotchet, 'D5/q~' a tied quaver, 'D5/t' a triplet quaver, 'r/1' a crotchet rest.

    'D5/1(' begins a slur and 'D5/1)' ends it.
    """
    name, _, value = text.partition("/")
    tie, stacc = "~" in value, "'" in value
    slur = "start" if "(" in value else "stop" if ")" in value else None
    for sign in "~'()":
        value = value.replace(sign, "")
    dots = value.count(".")
    value = value.rstrip(".")
    duration = Duration("quaver", 0, Tuplet(3, 2)) if value == "t" else Duration(VALUES[value], dots)
    if name == "r":
        return Rest(duration)
    return Note(Pitch.parse(name), duration, tie=tie, marks=("staccato",) if stacc else (), slur=slur)


def extract(
    text: str,
    time: str,
    fifths: int = 0,
    *,
    clef: str = "treble",
    anacrusis: bool = False,
    signs: dict[int, tuple] | None = None,
) -> Score:
    """Bars parted by '|'; `signs` gives directions by bar index."""
    bars = []
    parts = [part.split() for part in text.split("|")]
    for index, part in enumerate(parts):
        directions = tuple(Direction(*one) if isinstance(one, tuple) else one for one in (signs or {}).get(index, ()))
        free = anacrusis and index in (0, len(parts) - 1)
        bars.append(Bar((tuple(event(one) for one in part),), directions=directions, free=free))
    stave = Stave(clef, tuple(bars), fifths=fifths, time=TimeSignature.parse(time))
    return with_ids(with_accidentals(Score((stave,), anacrusis=anacrusis)))


_SIGNS = {"#": "sharp", "b": "flat", "n": "natural", "##": "double-sharp", "bb": "flat-flat", "": None}


def pupil_wrote(notes: str, value: str = "semibreve", **more) -> Value:
    """Notes as a pupil writes them: "F#4" with a sharp, "Fn4" with a natural, "F4" with nothing."""
    return Value(
        notes=tuple(
            WrittenNote(one[0], octave=int(one[-1]), type=value, accidental=_SIGNS[one[1:-1]]) for one in notes.split()
        ),
        **more,
    )


# Worked by hand: G major, 4/4, eight bars, one thing of each kind in a known place.
MUSIC = extract(
    "G4/1 A4/q B4/q C5/1 B4/1"  # 1
    "| A4/1 B4/q C5/q D5/1 C5/1"  # 2 the shape of bar 1, a step higher
    "| G4/q B4/1 B4/q D5/2~"  # 3 syncopation, a tie over the bar line
    "| D5/1 C5/t B4/t A4/t G4/2"  # 4 triplet, held over from bar 3
    "| G4/1 A4/q B4/q C5/1 B4/1"  # 5 bar 1 again
    "| G4/q' A4/q' B4/q' C5/q' D5/q' E5/q' F#5/q' G5/q'"  # 6 run up, staccato
    "| D5/1. C#5/q C5/1 r/1"  # 7 dotted, accidentals, rest
    "| B4/1 D4/1 G4/2",  # 8 the largest leap
    "4/4",
    1,
    signs={
        0: (("dynamic", 0, "p"),),
        3: (("crescendo", 0, "", 3),),
        5: (("dynamic", 0, "ff"), ("diminuendo", 1, "", 7)),
    },
)
