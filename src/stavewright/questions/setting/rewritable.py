"""Melodies that can be written anew, and what the setter means to be written."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from random import Random

from stavewright.questions.melodies import Extract, Melodies
from stavewright.questions.values import Value, WrittenNote
from stavewright.score.check import signature_alter
from stavewright.score.event import Event, Note, Rest
from stavewright.score.stave import Bar, Score
from stavewright.syllabus.scope import Scope
from stavewright.theory.key import Key
from stavewright.theory.pitch import Pitch


def plain_melody(
    melodies: Melodies, scope: Scope, rng: Random, *, bars: int, clef: str | None = None, key: Key | None = None
) -> Extract | None:
    """A melody of one voice without directions, slurs and brackets, or None where the source has none plain enough."""
    found = melodies.melody(scope, rng, bars=bars, clef=clef, key=key, provable=False)
    if found is None or len(found.score.staves) != 1 or not is_plain(found.score):
        return None
    stave = found.score.staves[0]
    bare = tuple(replace(bar, directions=(), voices=(tuple(map(_unmarked, bar.events)),)) for bar in stave.bars)
    return replace(found, score=replace(found.score, staves=(replace(stave, bars=bare),), brackets=()))


def _unmarked(event: Event) -> Event:
    """A note without slur, articulation or ornament: what is to be written anew is notes, values and signs."""
    return replace(event, marks=(), slur=None) if isinstance(event, Note) else event


def is_plain(score: Score) -> bool:
    """One voice of single notes and rests under one signature, no grace notes."""
    stave = score.staves[0]
    return not any(len(bar.voices) > 1 or bar.fifths is not None or bar.clef is not None for bar in stave.bars) and all(
        isinstance(event, Rest) or (isinstance(event, Note) and event.grace is None) for event in score.events()
    )


def with_pitches(score: Score, of: Callable[[Pitch], Pitch]) -> Score:
    """The same bars with every pitch changed; the printed signs stay as they are."""
    stave = score.staves[0]
    bars: list[Bar] = []
    for bar in stave.bars:
        row = tuple(replace(event, pitch=of(event.pitch)) if isinstance(event, Note) else event for event in bar.events)
        bars.append(replace(bar, voices=(row,)))
    return replace(score, staves=(replace(stave, bars=tuple(bars)),))


def meant(signed: Score) -> Value:
    """The notes of a melody with the signs it prints, as an answer writes them: clef, signature and bar lines too."""
    stave = signed.staves[0]
    notes: list[WrittenNote] = []
    lines: list[int] = []
    for bar in stave.bars:
        for event in bar.events:
            if isinstance(event, Note):
                p, d = event.pitch, event.duration
                notes.append(WrittenNote(p.step, p.alter, p.octave, d.type, d.dots, event.accidental))
        lines.append(len(notes))
    return Value(notes=tuple(notes), clef=stave.clef, signature=stave.fifths, bar_lines=tuple(lines[:-1]))


def sign_over_a_bar_line(score: Score, fifths: int) -> bool:
    """Whether a tie carries a sign over a bar line, where a marker could not tell what was meant."""
    tied = False
    for bar in score.staves[0].bars:
        for place, event in enumerate(bar.events):
            if isinstance(event, Note):
                if tied and place == 0 and event.pitch.alter != signature_alter(event.pitch.step, fifths):
                    return True
                tied = event.tie
            else:
                tied = False
    return False
