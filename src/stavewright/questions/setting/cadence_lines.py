"""Melody ends that call for a cadence, with the chords that the setter means under their last notes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from random import Random

from stavewright.composing.errors import CannotCompose
from stavewright.composing.four_part import cadence_labels, cadence_progression
from stavewright.questions.melodies import Melodies
from stavewright.questions.setting.picking import pick_key
from stavewright.score.event import Event, Note, Rest
from stavewright.score.stave import Bar, Score, Stave
from stavewright.score.writing import with_accidentals
from stavewright.syllabus.scope import Scope
from stavewright.theory.chord import ChordLabel, chord_notes
from stavewright.theory.key import Key
from stavewright.theory.metre import TimeSignature
from stavewright.theory.pitch import NoteName

# Roots under the last notes of a phrase, in the order in which they are preferred (common practice).
_ROWS = (
    "IV V I", "II V I", "I V I", "II IV I", "I IV I", "II IV V", "I IV V", "IV II V", "I II V", "IV I V", "V I V",
    "V I", "IV I", "IV V", "II V", "I V",
)  # fmt: skip
_TIMES = (TimeSignature(4, 4), TimeSignature(4, 4), TimeSignature(3, 4), TimeSignature(2, 4))
_LETTERS = "ABC"
_OWN_SHARE = 0.5


@dataclass(frozen=True, slots=True)
class CadenceLine:
    """A melody with its last notes marked A, B, C, its key, and the roots meant under them."""

    score: Score
    key: Key
    meant: tuple[str, ...]
    credit: str = ""


def cadence_line(scope: Scope, rng: Random, melodies: Melodies | None) -> CadenceLine | None:
    """A melody end of the scope, from the top voice of four-part writing or from a melody; None where none came out."""
    key = pick_key(scope, rng)
    if key is None:
        return None
    count = 3 if rng.random() < 0.8 else 2
    if melodies is None or rng.random() < _OWN_SHARE:
        score, credit = _top_voice(scope, key, rng), ""
    else:
        found = melodies.melody(scope, rng, bars=4, clef="treble", key=key)
        score, credit = (None, "") if found is None else (replace(found.score, brackets=()), found.credit)
    if score is None or not _simple(score):
        return None
    ends = _last_notes(score, count)
    if len({note.pitch for note in ends}) < 2:
        return None
    meant = _meant([note.pitch.name for note in ends], key, scope) if len(ends) == count else None
    if meant is None:
        return None
    return CadenceLine(_marked(score, ends), key, meant, credit)


def _top_voice(scope: Scope, key: Key, rng: Random) -> Score | None:
    name = rng.choice([one for one in scope.cadences if one != "interrupted"])
    labels = cadence_labels(name, rng, inversions=scope.inversions)
    try:
        written = cadence_progression(key, labels, rng, layout="choir", time=rng.choice(_TIMES))
    except CannotCompose:
        return None
    top = written.staves[0]
    bars = tuple(
        Bar(
            (tuple(replace(e, stem=None, accidental=None) if isinstance(e, Note) else e for e in bar.events),), bar.line
        )
        for bar in top.bars
    )
    return with_accidentals(Score((Stave("treble", bars, top.fifths, top.time),)))


def _simple(score: Score) -> bool:
    """One stave of one voice, under one signature and in one metre."""
    bars = score.staves[0].bars
    changes = any(bar.time is not None or bar.fifths is not None or bar.clef is not None for bar in bars)
    return len(score.staves) == 1 and not changes and all(len(bar.voices) == 1 for bar in bars)


def _last_notes(score: Score, count: int) -> list[Note]:
    """The last note and those before it that begin on a beat, not tied from the note before."""
    time = score.staves[0].time
    beat = time.beat.ticks if time is not None else 0
    found: list[Note] = []
    for bar in score.staves[0].bars:
        now, held = (0 if bar is not score.staves[0].bars[0] or not score.anacrusis else 1), False
        for event in bar.events:
            on_beat = beat and now % beat == 0
            if isinstance(event, Note) and event.grace is None and on_beat and not held:
                found.append(event)
            held = isinstance(event, Note) and event.tie
            now += event.ticks
    sounding = [event for event in score.events() if not isinstance(event, Rest)]
    return found[-count:] if found and sounding and found[-1] is sounding[-1] else []


def _meant(names: Sequence[NoteName], key: Key, scope: Scope) -> tuple[str, ...] | None:
    """The first row of the table whose chords have the notes."""
    for row in _ROWS:
        roots = tuple(row.split())
        if len(roots) != len(names) or not set(roots) <= set(scope.triads):
            continue
        chords = (chord_notes(key, ChordLabel.parse(root)) for root in roots)
        if all(name in chord for name, chord in zip(names, chords, strict=True)):
            return roots
    return None


def _marked(score: Score, ends: Sequence[Note]) -> Score:
    letters = {note.id: letter for note, letter in zip(ends, _LETTERS, strict=False)}
    stave = score.staves[0]
    bars: list[Bar] = []
    for bar in stave.bars:
        row: list[Event] = []
        for event in bar.events:
            known = isinstance(event, Note) and event.id in letters
            row.append(replace(event, label=letters[event.id]) if isinstance(event, Note) and known else event)
        bars.append(replace(bar, voices=(tuple(row),)))
    return replace(score, staves=(replace(stave, bars=tuple(bars)),))
