"""Short melodies in crotchets for tests, written bar by bar from pitch names."""

from __future__ import annotations

from stavewright.questions.score_document import ScoreDocument
from stavewright.questions.score_mirror import document_of
from stavewright.questions.values import Value
from stavewright.score.event import Note
from stavewright.score.stave import Bar, Score, Stave
from stavewright.score.writing import with_accidentals, with_ids
from stavewright.theory.duration import Duration
from stavewright.theory.metre import TimeSignature
from stavewright.theory.pitch import Pitch


def crotchets(*bars: str, fifths: int | None = None, clef: str = "treble") -> ScoreDocument:
    """Bars of pitch names such as "D4 F#4", one crotchet each, with the signs they need under the signature."""
    rows = [tuple(Note(Pitch.parse(name), Duration("crotchet")) for name in bar.split()) for bar in bars]
    stave = Stave(clef, tuple(Bar((row,)) for row in rows), fifths=fifths, time=TimeSignature(len(rows[0]), 4))
    return document_of(with_ids(with_accidentals(Score((stave,)))))


def signs_of(value: Value) -> list[str | None]:
    """The printed signs of an answer, note by note."""
    return [note.accidental for note in value.notes or ()]


def names_of(value: Value) -> str:
    """The lines and spaces of an answer: "D4 F4"."""
    return " ".join(f"{note.step}{note.octave}" for note in value.notes or ())
