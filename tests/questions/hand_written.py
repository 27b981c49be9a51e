"""Extracts written out by hand for tests: 'C5/1' is a crotchet, 'r/2' a minim rest."""

from __future__ import annotations

from stavewright.score.event import Event, Note, Rest
from stavewright.score.stave import Bar, Direction, Score, Stave
from stavewright.score.writing import with_accidentals, with_ids
from stavewright.theory.duration import Duration, Tuplet
from stavewright.theory.metre import TimeSignature
from stavewright.theory.pitch import Pitch

VALUES = {"4": "semibreve", "2": "minim", "1": "crotchet", "q": "quaver", "s": "semiquaver"}


def event(text: str) -> Event:
    """'D5/1.' is a dotted crotchet, 'D5/q~' a tied quaver, 'D5/t' a triplet quaver, 'r/1' a crotchet rest."""
    name, _, value = text.partition("/")
    tie, stacc = "~" in value, "'" in value
    value = value.replace("~", "").replace("'", "")
    dots = value.count(".")
    value = value.rstrip(".")
    duration = Duration("quaver", 0, Tuplet(3, 2)) if value == "t" else Duration(VALUES[value], dots)
    if name == "r":
        return Rest(duration)
    return Note(Pitch.parse(name), duration, tie=tie, marks=("staccato",) if stacc else ())


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
