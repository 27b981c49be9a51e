"""A bar as music21 would beam it, for second opinions."""

from __future__ import annotations

from collections.abc import Sequence

import music21
from msgspec.structs import replace

from questions.rhythms import AMERICAN
from stavewright.questions.values import Value, WrittenValue


def by_music21(bare: Sequence[WrittenValue], figures: str) -> Value:
    """A bar of notes and rests, without irregular groups, under the beams that music21 gives it."""
    measure = music21.stream.Measure()
    measure.timeSignature = music21.meter.TimeSignature(figures)
    for one in bare:
        event = music21.note.Rest() if one.rest else music21.note.Note("B4")
        event.duration = music21.duration.Duration(type=AMERICAN[one.type], dots=one.dots)
        measure.append(event)
    measure.makeBeams(inPlace=True)
    number, row = 0, []
    for one, event in zip(bare, measure.notesAndRests, strict=True):
        first = None if event.isRest or not event.beams.beamsList else event.beams.beamsList[0].type
        number += first == "start"
        row.append(replace(one, beam=number if first in ("start", "continue", "stop") else None))
    return Value(rhythm=tuple(row))
