"""A rule report on a tune written to a given rhythm from the notes of a tonic triad: criteria, marks lost, and why."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from stavewright.questions.values import WrittenNote
from stavewright.score.check import signature_alter
from stavewright.score.event import ACCIDENTALS
from stavewright.theory.accidental import sign_alter
from stavewright.theory.duration import Duration
from stavewright.theory.interval import Interval
from stavewright.theory.key import Key
from stavewright.theory.pitch import Pitch, name_of
from stavewright.theory.transposition import transpose_name

_OCTAVE = 7
_NOTES_MARKS = 2


@dataclass(frozen=True, slots=True)
class Line:
    """One criterion of the report: what it is, how many marks are lost on it, and why in words."""

    criterion: str
    lost: int
    why: str


def triad_of(key: Key) -> tuple[str, ...]:
    """The three names of a tonic triad.

    >>> triad_of(Key.parse("D"))
    ('D', 'F sharp', 'A')
    """
    third = Interval.parse("m3" if key.is_minor else "M3")
    names = (key.tonic, transpose_name(key.tonic, third), transpose_name(key.tonic, Interval.parse("P5")))
    return tuple(name.text for name in names)


def sounding(note: WrittenNote, key: Key) -> Pitch:
    """A written note as it sounds: its own sign, else the signature."""
    sign = note.accidental if note.accidental in ACCIDENTALS else None
    alter = signature_alter(note.step, key.fifths) if sign is None else sign_alter(sign)
    return Pitch(note.step, alter, note.octave)


def report(notes: Sequence[WrittenNote], rhythm: Sequence[Duration], key: Key) -> tuple[Line, ...]:
    """The report, criterion by criterion: rhythm kept (1), triad notes only (2), tonic at the end (1), shape (1).

    Source of the criteria: common practice for a first tune (chord notes, home note at the end, no leap over an
    octave, all three notes in use).
    """
    triad = triad_of(key)
    pitches = [sounding(note, key) for note in notes]
    kept = [(note.type, note.dots) for note in notes] == [(value.type, value.dots) for value in rhythm]
    names = [name_of(pitch.step, pitch.alter).text for pitch in pitches]
    foreign = [name for name in names if name not in triad]
    wide = [b for a, b in pairwise(pitches) if abs(a.diatonic - b.diatonic) > _OCTAVE]
    all_used = len(set(names) & set(triad)) == len(triad) or len(rhythm) < len(triad)
    home = bool(names) and names[-1] == triad[0]
    shape = "every note of the triad comes and no leap is wider than an octave"
    if wide:
        shape = "a leap is wider than an octave"
    elif not all_used:
        shape = "not all three notes of the triad are used"
    return (
        Line("rhythm", 0 if kept else 1, "the rhythm is kept" if kept else "the rhythm is not the given one"),
        Line(
            "notes",
            min(_NOTES_MARKS, len(foreign)),
            f"{', '.join(dict.fromkeys(foreign))} {'are' if len(set(foreign)) > 1 else 'is'} not in the triad"
            if foreign
            else f"only {', '.join(triad)} are used",
        ),
        Line("ending", 0 if home else 1, f"it ends on {names[-1] if names else 'nothing'}"),
        Line("shape", 0 if all_used and not wide else 1, shape),
    )
