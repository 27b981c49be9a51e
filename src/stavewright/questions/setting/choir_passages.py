"""Short passages for choir in short or open score, with the notes that the setter means in the other layout."""

from __future__ import annotations

from dataclasses import dataclass, replace
from random import Random

from stavewright.composing.errors import CannotCompose
from stavewright.composing.four_part import cadence_labels
from stavewright.composing.texture import TIMES, textured
from stavewright.questions.melodies import Melodies
from stavewright.questions.score_document import ScoreDocument
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.chorales import chorale_passage
from stavewright.questions.setting.picking import fits, pick_key
from stavewright.score.event import Note
from stavewright.score.stave import Bar, Score, Stave
from stavewright.score.writing import with_accidentals, with_ids
from stavewright.syllabus.scope import Scope

_CHORDS = 3
_MOST_NOTES = 20
"""In more notes the copying would be the question, and a listener could not be told them all."""
_VOICES = (("soprano", "treble"), ("alto", "treble"), ("tenor", "treble"), ("bass", "bass"))


@dataclass(frozen=True, slots=True)
class ChoirPassage:
    """A passage as it is printed, and the notes of the other layout in words, voice by voice."""

    passage: ScoreDocument
    meant: str
    credit: str = ""


def choir_passage(scope: Scope, rng: Random, to: str, melodies: Melodies | None = None) -> ChoirPassage | None:
    """Two or three bars in four parts to be laid out anew as "open" or "short" score; None if none came out.

    They are from a real chorale where `melodies` has any, or written by rule.
    """
    real = chorale_passage(scope, rng, melodies, _MOST_NOTES)
    if real is not None:
        return _laid(real.score, scope, to, real.credit)
    key = pick_key(scope, rng)
    if key is None or not scope.cadences:
        return None
    name = rng.choice([one for one in scope.cadences if one != "interrupted"])
    labels = cadence_labels(name, rng, inversions=scope.inversions, sevenths=False)[-_CHORDS:]
    try:
        short = textured(key, labels, rng, texture="choir", time=rng.choice(TIMES)).score
    except CannotCompose:
        return None
    return _laid(short, scope, to)


def _laid(short: Score, scope: Scope, to: str, credit: str = "") -> ChoirPassage | None:
    wide = _open(short)
    for score in (short, wide):
        for stave in score.staves:
            pitches = [e.pitch for bar in stave.bars for row in bar.voices for e in row if isinstance(e, Note)]
            if not fits(pitches, scope, stave.clef) or any(p.alter and p.alter not in scope.alters for p in pitches):
                return None
    printed, other = (short, wide) if to == "open" else (wide, short)
    return ChoirPassage(document_of(printed), _said(other), credit)


def _open(short: Score) -> Score:
    """Each voice on its own stave, the tenor an octave higher in the treble clef."""
    staves = []
    for place, (name, clef) in enumerate(_VOICES):
        old = short.staves[place // 2]
        bars = []
        for bar in old.bars:
            row = tuple(
                replace(e, pitch=e.pitch.shifted(name == "tenor"), stem=None, accidental=None, id="")
                if isinstance(e, Note)
                else replace(e, id="")
                for e in bar.voices[place % 2]
            )
            bars.append(Bar((row,), line=bar.line, free=bar.free))
        staves.append(Stave(clef, tuple(bars), old.fifths, old.time, name=name.capitalize()))
    return with_ids(with_accidentals(Score(tuple(staves), join="bracket")))


def _said(score: Score) -> str:
    rows = [
        [bar.voices[voice] for bar in stave.bars]
        for stave in score.staves
        for voice in range(len(stave.bars[0].voices))
    ]
    words = []
    for (name, _), row in zip(_VOICES, rows, strict=True):
        notes = [f"{e.pitch.name.text} {e.pitch.octave}" for bar in row for e in bar if isinstance(e, Note)]
        words.append(f"{name} {', '.join(notes)}")
    return "; ".join(words)
