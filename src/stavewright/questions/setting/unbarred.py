"""A melody without its bar lines: which melodies can stand so, and where their lines were.

The stave is still cut into pieces, with no line drawn, where a printed system may break: never at a real bar line.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise
from random import Random

from stavewright.questions.melodies import Melodies
from stavewright.questions.setting.bars import beamed, pick_time, rhythm_bar
from stavewright.score.event import Event, Note, Rest
from stavewright.score.stave import Bar, Score, Stave
from stavewright.score.writing import with_accidentals
from stavewright.syllabus.scope import Scope
from stavewright.theory.duration import of_ticks
from stavewright.theory.pitch import Pitch

_TRIES = 3
_BARS = 4
_FEWEST = 8
_MOST = 40
_PIECE = 8


def unbarred(scope: Scope, rng: Random, melodies: Melodies | None) -> tuple[Score, int, tuple[int, ...]] | None:
    """A melody in one bar without lines, the length of its upbeat in ticks, and after which events its lines stood.

    Without a source of melodies, or where none can stand without lines, a rhythm on one note.
    """
    for _ in range(_TRIES if melodies is not None else 0):
        extract = melodies.melody(scope, rng, bars=_BARS) if melodies is not None else None
        opened = None if extract is None else _opened(extract.score)
        if opened is not None:
            return opened
    return _rhythm(scope, rng)


def _opened(score: Score) -> tuple[Score, int, tuple[int, ...]] | None:
    if len(score.staves) != 1:
        return None
    stave = score.staves[0]
    plain = all(
        len(bar.voices) == 1
        and (bar.time, bar.fifths, bar.clef, bar.ending) == (None, None, None, None)
        and bar.line != "repeat-end"
        for bar in stave.bars
    )
    if not plain or stave.time is None:
        return None
    events: list[Event] = []
    lines: list[int] = []
    for index, bar in enumerate(stave.bars):
        for event in bar.events:
            if (
                not isinstance(event, Note | Rest)
                or getattr(event, "grace", None)
                or getattr(event, "whole_bar", False)
            ):
                return None
            events.append(_bare(event, f"n{len(events) + 1}", 100 * (index + 1)))
        lines.append(len(events))
    pickup = sum(event.ticks for event in stave.bars[0].events) if score.anacrusis else 0
    if not _FEWEST <= len(events) <= _MOST or (pickup and of_ticks(pickup, max_dots=1) is None):
        return None
    signs = [event.accidental for event in events if isinstance(event, Note)]
    if not _signs_hold([events], stave, signs):
        return None
    pieces = _pieces(events, lines)
    if not _signs_hold(pieces, stave, signs):
        pieces = [events]
    return _flat(pieces, stave), pickup, tuple(lines[:-1])


def _signs_hold(pieces: Sequence[Sequence[Event]], stave: Stave, signs: Sequence[str | None]) -> bool:
    """Whether just the printed signs are needed when the notes stand so."""
    return [note.accidental for note in with_accidentals(_flat(pieces, stave)).notes()] == signs


def _pieces(events: Sequence[Event], lines: Sequence[int]) -> list[Sequence[Event]]:
    """The events in pieces of about eight, cut off the bar lines and never inside a beam, a group or a tie."""
    cuts = [0]
    for at in range(1, len(events)):
        before, after = events[at - 1], events[at]
        free = at not in lines and not (isinstance(before, Note) and before.tie)
        beamed = isinstance(before, Note) and isinstance(after, Note) and before.beam == after.beam is not None
        grouped = before.duration.tuplet is not None and after.duration.tuplet is not None
        if free and not beamed and not grouped and at - cuts[-1] >= _PIECE and len(events) - at >= _PIECE // 2:
            cuts.append(at)
    return [events[first:last] for first, last in pairwise([*cuts, len(events)])]


def _bare(event: Note | Rest, id: str, beams: int) -> Event:
    if isinstance(event, Rest):
        return Rest(event.duration, id)
    beam = None if event.beam is None else beams + event.beam
    return Note(event.pitch, event.duration, id, event.accidental, event.tie, beam)


def _flat(pieces: Sequence[Sequence[Event]], stave: Stave) -> Score:
    last = len(pieces) - 1
    bars = [Bar((tuple(piece),), line="final" if at == last else "none", free=True) for at, piece in enumerate(pieces)]
    return Score((replace(stave, bars=tuple(bars), name=""),))


def _rhythm(scope: Scope, rng: Random) -> tuple[Score, int, tuple[int, ...]]:
    time = pick_time(scope, rng)
    events: list[Event] = []
    lines: list[int] = []
    for index in range(_BARS):
        for value in beamed(rhythm_bar(scope, rng, time), time):
            beam = None if value.beam is None else 100 * (index + 1) + value.beam
            events.append(Note(Pitch("B", 0, 4), value.duration, f"n{len(events) + 1}", beam=beam))
        lines.append(len(events))
    stave = Stave("treble", (Bar((tuple(events),), free=True),), time=time)
    return _flat(_pieces(events, lines), stave), 0, tuple(lines[:-1])
