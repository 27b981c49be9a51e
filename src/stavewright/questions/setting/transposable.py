"""Which ways a melody may be transposed within a scope, and what the setter means by each."""

from __future__ import annotations

from dataclasses import dataclass, replace

from stavewright.questions.setting.picking import fits
from stavewright.questions.values import Value, WrittenNote
from stavewright.score.check import signature_alter
from stavewright.score.event import Note, Rest
from stavewright.score.stave import Bar, Score
from stavewright.score.writing import with_accidentals
from stavewright.syllabus.scope import Scope
from stavewright.theory.interval import Interval
from stavewright.theory.pitch import NoteName, Pitch


@dataclass(frozen=True, slots=True)
class Moved:
    """An interval and direction that suit a melody, and what should then be written."""

    interval: str
    up: bool
    value: Value


def moved_melodies(score: Score, scope: Scope) -> list[Moved]:
    """Every interval and direction of the scope that keeps the melody in range, in keys and signs of the scope."""
    if len(score.staves) != 1 or not _plain(score):
        return []
    found: list[Moved] = []
    for interval in scope.transpositions:
        for up in (True, False):
            value = _value(score, scope, Interval.parse(interval), up)
            if value is not None:
                found.append(Moved(interval, up, value))
    return found


def moved_melody(score: Score, scope: Scope, interval: Interval, *, up: bool) -> Value | None:
    """A melody moved by one interval as it should then be written; None where it leaves the scope."""
    if len(score.staves) != 1 or not _plain(score):
        return None
    return _value(score, scope, interval, up)


def _plain(score: Score) -> bool:
    """One voice of single notes and rests under one signature, no grace notes."""
    stave = score.staves[0]
    return not any(len(bar.voices) > 1 or bar.fifths is not None or bar.clef is not None for bar in stave.bars) and all(
        isinstance(event, Rest) or (isinstance(event, Note) and event.grace is None) for event in score.events()
    )


def _value(score: Score, scope: Scope, interval: Interval, up: bool) -> Value | None:
    """The moved melody, found on the line of fifths; None where it leaves the scope."""
    stave = score.staves[0]
    sign = 1 if up else -1
    fifths = None if stave.fifths is None else stave.fifths + sign * interval.fifths
    if fifths is not None and fifths not in {key.fifths for key in scope.keys}:
        return None
    moved: list[Bar] = []
    for bar in stave.bars:
        row = tuple(
            replace(event, pitch=_pitch(event.pitch, interval, sign)) if isinstance(event, Note) else event
            for event in bar.events
        )
        moved.append(replace(bar, voices=(row,)))
    pitches = [event.pitch for bar in moved for event in bar.events if isinstance(event, Note)]
    if not pitches or not fits(pitches, scope, stave.clef) or any(p.alter not in (0, *scope.alters) for p in pitches):
        return None
    signed = with_accidentals(Score((replace(stave, bars=tuple(moved), fifths=fifths),)))
    if _sign_over_a_bar_line(signed, fifths or 0):
        return None
    notes: list[WrittenNote] = []
    lines: list[int] = []
    for bar in signed.staves[0].bars:
        for event in bar.events:
            if isinstance(event, Note):
                p, d = event.pitch, event.duration
                notes.append(WrittenNote(p.step, p.alter, p.octave, d.type, d.dots, event.accidental))
        lines.append(len(notes))
    return Value(notes=tuple(notes), clef=stave.clef, signature=fifths, bar_lines=tuple(lines[:-1]))


def _pitch(pitch: Pitch, interval: Interval, sign: int) -> Pitch:
    name = NoteName.from_fifths(pitch.name.fifths + sign * interval.fifths)
    return Pitch.from_diatonic(pitch.diatonic + sign * interval.steps, name.alter)


def _sign_over_a_bar_line(score: Score, fifths: int) -> bool:
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
