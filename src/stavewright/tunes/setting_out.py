"""A passage written out for a paper: in the wanted key and clef, with its own beams, accidentals and ids."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from stavewright.score.check import faults
from stavewright.score.event import Event, Note, Rest
from stavewright.score.stave import Bar, Score, Stave
from stavewright.score.writing import with_accidentals, with_ids
from stavewright.theory.beaming import beam
from stavewright.theory.key import Key
from stavewright.theory.metre import TimeSignature
from stavewright.theory.pitch import STEPS, NoteName, Pitch, pitch_at
from stavewright.tunes.extract import Passage

__all__ = ["letters_to", "set_out"]


def letters_to(low: int, high: int, tonic: int, new_tonic: int, bounds: tuple[int, int]) -> int | None:
    """By how many letters a passage must move so that its tonic letter becomes another and it lies within bounds.

    All are diatonic places (tonics 0 to 6); of several octaves the one nearest the middle is taken, None where none
    fits.

    >>> letters_to(28, 35, 0, 4, (28, 40))
    4
    >>> letters_to(28, 35, 0, 4, (28, 36)) is None
    True
    """
    base = (new_tonic - tonic) % 7
    middle = bounds[0] + bounds[1]
    fitting = [
        shift for shift in range(base - 70, base + 71, 7) if low + shift >= bounds[0] and high + shift <= bounds[1]
    ]
    return min(fitting, key=lambda shift: (abs(low + high + 2 * shift - middle), shift), default=None)


def set_out(
    passage: Passage, key: Key, clef: str, bounds: tuple[Pitch, Pitch], time: TimeSignature, *, numbered: bool = False
) -> Score | None:
    """Write a passage in a key and clef within bounds, ``time`` as it is to be printed; None where it does not fit.

    The passage must have a proved key of the same mode. Every note is moved along the line of fifths, so its
    spelling keeps its meaning.
    """
    old = passage.key
    if old is None or old.mode != key.mode:
        return None
    shift = letters_to(
        passage.low.diatonic,
        passage.high.diatonic,
        STEPS.index(old.tonic.step),
        STEPS.index(key.tonic.step),
        (bounds[0].diatonic, bounds[1].diatonic),
    )
    if shift is None:
        return None
    fifths = key.tonic.fifths - old.tonic.fifths
    last = len(passage.bars) - 1
    bars: list[Bar] = []
    for index, row in enumerate(passage.bars):
        short = bool(passage.pick_up) and index in (0, last)
        start = time.ticks - passage.pick_up if passage.pick_up and index == 0 else 0
        events = _moved(row, shift, fifths, beams_of(row, time, start))
        line = "final" if index == last else "single"
        bars.append(Bar((events,), line, directions=passage.directions[index], free=short))
    bars = _whole_slurs(bars)
    stave = Stave(clef, tuple(bars), fifths=key.fifths, time=time)
    score = with_ids(with_accidentals(Score((stave,), numbered=numbered, anacrusis=bool(passage.pick_up))))
    return None if faults(score) else score


def beams_of(row: Sequence[Event], time: TimeSignature, start: int) -> tuple[int | None, ...]:
    """The usual beams of one bar that begins so many ticks after its bar line."""
    return beam([(event.duration, isinstance(event, Rest)) for event in row], time, start=start)


def _moved(row: Sequence[Event], shift: int, fifths: int, beams: Sequence[int | None]) -> tuple[Event, ...]:
    events: list[Event] = []
    for event, group in zip(row, beams, strict=True):
        if isinstance(event, Note):
            name = NoteName.from_fifths(event.pitch.name.fifths + fifths)
            pitch = pitch_at(event.pitch.diatonic + shift, name.alter)
            events.append(Note(pitch, event.duration, tie=event.tie, beam=group, marks=event.marks, slur=event.slur))
        else:
            events.append(Rest(event.duration))
    return tuple(events)


def _whole_slurs(bars: list[Bar]) -> list[Bar]:
    """Slurs with one end outside the passage are taken away; the others stay."""
    flat = [(index, place, event) for index, bar in enumerate(bars) for place, event in enumerate(bar.events)]
    rows = [list(bar.events) for bar in bars]
    begun: tuple[int, int] | None = None
    for index, place, event in flat:
        slur = event.slur if isinstance(event, Note) else None
        if slur is None or not isinstance(event, Note):
            continue
        stops = slur in ("stop", "both") and begun is not None
        starts = slur in ("start", "both")
        if starts and begun is not None and not stops:
            _drop_start(rows, begun)
        rows[index][place] = replace(event, slur={(1, 1): "both", (1, 0): "start", (0, 1): "stop"}.get((starts, stops)))
        begun = (index, place) if starts else None if stops else begun
    if begun is not None:
        _drop_start(rows, begun)
    return [replace(bar, voices=(tuple(row),)) for bar, row in zip(bars, rows, strict=True)]


def _drop_start(rows: list[list[Event]], place: tuple[int, int]) -> None:
    event = rows[place[0]][place[1]]
    if isinstance(event, Note):
        rows[place[0]][place[1]] = replace(event, slur="stop" if event.slur == "both" else None)
