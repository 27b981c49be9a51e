"""Which ways a melody may be transposed within a scope, and what the setter means by each."""

from __future__ import annotations

from dataclasses import dataclass, replace

from stavewright.questions.setting.picking import fits
from stavewright.questions.setting.rewritable import is_plain, meant, sign_over_a_bar_line, with_pitches
from stavewright.questions.values import Value
from stavewright.score.stave import Score
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
    if len(score.staves) != 1 or not is_plain(score):
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
    if len(score.staves) != 1 or not is_plain(score):
        return None
    return _value(score, scope, interval, up)


def _value(score: Score, scope: Scope, interval: Interval, up: bool) -> Value | None:
    """The moved melody, found on the line of fifths; None where it leaves the scope."""
    stave = score.staves[0]
    sign = 1 if up else -1
    fifths = None if stave.fifths is None else stave.fifths + sign * interval.fifths
    if fifths is not None and fifths not in {key.fifths for key in scope.keys}:
        return None
    moved = with_pitches(score, lambda pitch: _pitch(pitch, interval, sign))
    pitches = [note.pitch for note in moved.notes()]
    if not pitches or not fits(pitches, scope, stave.clef) or any(p.alter not in (0, *scope.alters) for p in pitches):
        return None
    signed = with_accidentals(replace(moved, staves=(replace(moved.staves[0], fifths=fifths),)))
    return None if sign_over_a_bar_line(signed, fifths or 0) else meant(signed)


def _pitch(pitch: Pitch, interval: Interval, sign: int) -> Pitch:
    name = NoteName.from_fifths(pitch.name.fifths + sign * interval.fifths)
    return Pitch.from_diatonic(pitch.diatonic + sign * interval.steps, name.alter)
