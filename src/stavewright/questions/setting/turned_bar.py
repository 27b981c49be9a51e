"""A melody one bar of which is made the mirror of an earlier one: what rose falls, and what fell rises."""

from __future__ import annotations

from dataclasses import replace
from random import Random

from stavewright.score.check import signature_alter
from stavewright.score.event import Event, Note
from stavewright.score.stave import Bar, Score
from stavewright.score.writing import with_accidentals
from stavewright.syllabus.scope import Scope
from stavewright.theory.pitch import Pitch

_FEWEST = 3
_WIDEST_JOIN = 4


def turn_a_bar(score: Score, scope: Scope, rng: Random) -> tuple[Score, int, int] | None:
    """The melody with one bar turned over, and the indices of the two bars; None where no bar can be turned.

    The first, middle and last bars keep their own notes, so that the phrases close as they did; the mirror stays in
    the range of the clef and joins its neighbours by a 5th at most.
    """
    bars = score.staves[0].bars
    low, high = scope.range_of(score.staves[0].clef)
    upbeat = int(score.anacrusis)
    whole = len(bars) - upbeat
    places = [upbeat + at for at in range(1, whole - 1) if at != whole // 2 - 1]
    pairs = [(one, other) for one in places[:-1] for other in places if other > one and _turnable(bars[one])]
    rng.shuffle(pairs)
    for one, other in pairs:
        before, after = _edge(bars[other - 1], -1), _edge(bars[other + 1], 0)
        if before is None or after is None or _tied(bars[other - 1]):
            continue
        starts = [before + step for step in (1, -1, 2, -2, 0, 3, -3)]
        for start in starts:
            row = _mirror(bars[one], start, score.staves[0].fifths or 0)
            places_of = [event.pitch.diatonic for event in row if isinstance(event, Note)]
            fits = low.diatonic <= min(places_of) and max(places_of) <= high.diatonic
            if fits and abs(places_of[-1] - after) <= _WIDEST_JOIN:
                changed = list(bars)
                changed[other] = replace(bars[other], voices=(tuple(row),), directions=bars[other].directions[:0])
                stave = replace(score.staves[0], bars=tuple(changed))
                return with_accidentals(replace(score, staves=(stave,))), one, other
    return None


def _turnable(bar: Bar) -> bool:
    notes = [event for event in bar.events if isinstance(event, Note)]
    plain = all(not note.tie and note.accidental is None and not note.grace for note in notes)
    return plain and len(notes) >= _FEWEST and len({note.pitch.diatonic for note in notes}) > 1


def _tied(bar: Bar) -> bool:
    return bool(getattr(bar.events[-1], "tie", False))


def _edge(bar: Bar, at: int) -> int | None:
    event = bar.events[at]
    return event.pitch.diatonic if isinstance(event, Note) else None


def _mirror(bar: Bar, start: int, fifths: int) -> list[Event]:
    first = next(event.pitch.diatonic for event in bar.events if isinstance(event, Note))
    row: list[Event] = []
    for number, event in enumerate(bar.events, 1):
        if isinstance(event, Note):
            bare = Pitch.from_diatonic(start - (event.pitch.diatonic - first))
            pitch = Pitch(bare.step, signature_alter(bare.step, fifths), bare.octave)
            row.append(replace(event, pitch=pitch, id=f"turned{number}", slur=None))
        else:
            row.append(replace(event, id=f"turned{number}"))
    return row
