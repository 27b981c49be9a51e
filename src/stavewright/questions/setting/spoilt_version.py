"""Putting one wrong note into a transposed melody, as the setter means it to be found."""

from __future__ import annotations

from dataclasses import replace
from random import Random

from stavewright.questions.setting.picking import fits
from stavewright.questions.values import Place, Value
from stavewright.score.check import signature_alter
from stavewright.score.event import Event, Note
from stavewright.score.stave import Bar, Score
from stavewright.score.writing import with_accidentals
from stavewright.syllabus.scope import Scope
from stavewright.theory.pitch import Pitch

_STEP_SHARE = 0.4


def spoilt_version(score: Score, value: Value, scope: Scope, rng: Random) -> tuple[Score, Place] | None:
    """The melody moved as `value` says but for one note, and where that note stands; None where none can be spoilt.

    The wrong note is a step away, or has another sign; notes held by ties and the pick-up are left alone.
    """
    stave, fifths = score.staves[0], value.signature
    moved = [Pitch(note.step, note.alter or 0, note.octave) for note in value.notes or ()]
    free = _free_notes(score)
    if not free:
        return None
    chosen, place = rng.choice(free)
    wrong = _other(moved[chosen], fifths or 0, rng)
    if not fits([wrong], scope, stave.clef) or (wrong.alter and wrong.alter not in scope.alters):
        return None
    moved[chosen] = wrong
    given = iter(moved)
    bars: list[Bar] = []
    for bar in stave.bars:
        row: list[Event] = []
        for event in bar.events:
            named = replace(event, id=f"v{event.id}" if event.id else "")
            row.append(replace(named, pitch=next(given)) if isinstance(named, Note) else named)
        bars.append(replace(bar, voices=(tuple(row),)))
    return with_accidentals(replace(score, staves=(replace(stave, bars=tuple(bars), fifths=fifths),))), place


def _free_notes(score: Score) -> list[tuple[int, Place]]:
    """Every note that no tie leads to or from, with its number in the melody, outside a pick-up."""
    found: list[tuple[int, Place]] = []
    count, held = 0, False
    for index, bar in enumerate(score.staves[0].bars):
        notes = [event for event in bar.events if isinstance(event, Note)]
        for number, note in enumerate(notes, 1):
            if not held and not note.tie and score.bar_number(index):
                found.append((count, Place(score.bar_number(index), number)))
            held = note.tie
            count += 1
    return found


def _other(right: Pitch, fifths: int, rng: Random) -> Pitch:
    if rng.random() < _STEP_SHARE:
        bare = Pitch.from_diatonic(right.diatonic + rng.choice((-1, 1)))
        return bare.altered(signature_alter(bare.step, fifths))
    plain = signature_alter(right.step, fifths)
    if right.alter != plain:
        return right.altered(plain - right.alter)
    return right.altered(rng.choice((-1, 1)))
