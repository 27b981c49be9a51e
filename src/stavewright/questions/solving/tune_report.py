"""A rule report on a tune written to a given rhythm from the notes of a tonic triad: criteria, marks, and why."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from stavewright.questions.criterion import Criterion, criterion, none_of
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


def tune_report(notes: Sequence[WrittenNote], rhythm: Sequence[Duration], key: Key) -> tuple[Criterion, ...]:
    """The report, criterion by criterion: rhythm kept (1), triad notes only (2), tonic at the end (1), shape (1).

    With fewer than half of the notes written nothing is earned.
    Source of the criteria: common practice for a first tune (chord notes, home note at the end, no leap over an
    octave, all three notes in use).
    """
    triad = triad_of(key)
    pitches = [sounding(note, key) for note in notes]
    changed = _changed(notes, rhythm)
    names = [name_of(pitch.step, pitch.alter).text for pitch in pitches]
    foreign = [name for name in names if name not in triad]
    wide = [place for place, (a, b) in enumerate(pairwise(pitches), 1) if abs(a.diatonic - b.diatonic) > _OCTAVE]
    all_used = len(set(names) & set(triad)) == len(triad) or len(rhythm) < len(triad)
    home = bool(names) and names[-1] == triad[0]
    shape = "every note of the triad comes and no leap is wider than an octave"
    if wide:
        shape = f"the leap from note {wide[0]} to note {wide[0] + 1} is wider than an octave"
    elif not all_used:
        shape = "not all three notes of the triad are used"
    odd = f"{', '.join(dict.fromkeys(foreign))} {'are' if len(set(foreign)) > 1 else 'is'} not in the triad"
    criteria = (
        criterion("rhythm", 1, int(bool(changed)), "Every value of the given rhythm is kept.", changed or _KEPT),
        criterion(
            "notes",
            _NOTES_MARKS,
            len(foreign),
            f"Only {', '.join(triad)} are used; one other note loses half, two lose all.",
            odd if foreign else f"only {', '.join(triad)} are used",
        ),
        criterion("ending", 1, int(not home), f"It ends on {triad[0]}.", f"it ends on {names[-1] if names else _NONE}"),
        criterion(
            "shape",
            1,
            int(not all_used or bool(wide)),
            "All three notes of the triad come, and no leap is wider than an octave.",
            shape,
        ),
    )
    return none_of(criteria) if 2 * len(notes) < len(rhythm) else criteria


_KEPT = "the rhythm is kept"
_NONE = "nothing"


def _changed(notes: Sequence[WrittenNote], rhythm: Sequence[Duration]) -> str:
    """Where the rhythm is not the given one, in words; nothing where it is kept."""
    if len(notes) != len(rhythm):
        return f"it has {len(notes)} notes, the rhythm has {len(rhythm)} values"
    for place, (note, value) in enumerate(zip(notes, rhythm, strict=True), 1):
        if (note.type, note.dots) != (value.type, value.dots):
            return f"note {place} should be a {value.text}"
    return ""
