"""Passages in four parts cut out of a chorale: the last two bars of a phrase, where its key can be proved."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from stavewright.score.event import Event, Note
from stavewright.score.moments import Moment, moments
from stavewright.score.stave import Bar, Score, Stave
from stavewright.score.writing import with_accidentals, with_ids
from stavewright.syllabus.scope import Scope
from stavewright.theory.beaming import GroupingError, beam
from stavewright.theory.cadence import cadence
from stavewright.theory.chord import identify
from stavewright.theory.degree import degree_number, degree_of
from stavewright.theory.key import Key, key_of
from stavewright.theory.metre import TimeSignature
from stavewright.theory.pitch import NoteName
from stavewright.theory.voice import SATB, voice
from stavewright.tunes.tune import LineBar, LineDocument

__all__ = ["BARS", "CHOIR", "Choir", "choir_at", "choirs", "suits"]

BARS: Final = 2
CHOIR: Final = frozenset(range(4))
"""The parts of a chorale's file that are read."""
_GOALS: Final = (1, 5, 6)
_STEMS: Final = ("up", "down", "up", "down")
_SHORTEST_TAILS: Final = 2
Row = tuple[Event, ...]


@dataclass(frozen=True, slots=True)
class Choir:
    """The close of a phrase: the bar it begins in (from 0), its key, its time, its cadence if any, and the score."""

    first: int
    key: Key
    time: TimeSignature
    cadence: str
    score: Score


def choirs(document: LineDocument) -> Iterator[Choir]:
    """Every passage of a chorale that qualifies; none where its four parts are not soprano, alto, tenor and bass."""
    staves = document.staves
    if len(staves) != len(SATB) or any(
        not stave.name.lower().startswith(part) for stave, part in zip(staves, SATB, strict=True)
    ):
        return
    for first in range(len(staves[0].bars) - BARS + 1):
        found = choir_at([stave.bars for stave in staves], first)
        if found is not None:
            yield found


def choir_at(parts: Sequence[Sequence[LineBar]], first: int) -> Choir | None:
    """The passage of two bars from bar `first` on, or None when it does not qualify.

    It qualifies when the first bar is full and all voices come to a fermata together in the second, when they are plain
    notes down to semiquavers under one signature and time, in order from soprano to bass and in range, with no tie cut
    through; and when its key is proved: every note belongs to it, the notes that tell it from its neighbours are there
    (the 4th and 7th of a major key, the raised 7th of a minor one), and it ends on I, V or VI in root position.
    """
    inside = [bars[first : first + BARS] for bars in parts]
    head = inside[0][0]
    if head.time is None or head.fifths is None or any(len(bars) < BARS for bars in inside):
        return None
    rows: list[tuple[Row, ...]] = []
    for bars, part in zip(inside, parts, strict=True):
        voice_rows = _rows(bars, head, part[first - 1] if first else None)
        if voice_rows is None:
            return None
        rows.append(voice_rows)
    if len({sum(event.ticks for event in row[-1]) for row in rows}) > 1:
        return None
    score = _short_score(rows, head.time, head.fifths)
    key = None if score is None else _proved(score, head.fifths)
    return None if score is None or key is None else Choir(first, key, head.time, _cadence(score, key), score)


def _rows(bars: Sequence[LineBar], head: LineBar, before: LineBar | None) -> tuple[Row, ...] | None:
    """The events of one voice, the last bar cut after its fermata."""
    rows: list[Row] = []
    for number, read in enumerate(bars):
        bar = read.bar
        if bar is None or len(bar.voices) != 1 or (read.time, read.fifths) != (head.time, head.fifths):
            return None
        if number == 0 and (bar.free or bar.line != "single"):
            return None
        row = _to_fermata(bar.events) if number == len(bars) - 1 else bar.events
        if row is None or not all(isinstance(event, Note) and _plain(event) for event in row):
            return None
        rows.append(row)
    early = any(isinstance(event, Note) and "fermata" in event.marks for event in rows[0])
    tied = before is not None and before.bar is not None and _tied(before.bar)
    last = rows[-1][-1]
    return None if early or tied or (isinstance(last, Note) and last.tie) else tuple(rows)


def _tied(bar: Bar) -> bool:
    last = bar.events[-1]
    return isinstance(last, Note) and last.tie


def _plain(event: Note) -> bool:
    duration = event.duration
    return event.grace is None and duration.tuplet is None and duration.dots < 2 and duration.tails <= _SHORTEST_TAILS


def _to_fermata(events: Row) -> Row | None:
    for place, event in enumerate(events):
        if isinstance(event, Note) and "fermata" in event.marks:
            return events[: place + 1]
    return None


def _short_score(rows: Sequence[tuple[Row, ...]], time: TimeSignature, fifths: int) -> Score | None:
    """Two staves of two voices, with stems that tell the voices apart and the usual beams; None where it cannot be."""
    parts: list[list[Row]] = []
    try:
        for row, stem, part in zip(rows, _STEMS, SATB, strict=True):
            singer = voice(part)
            made: list[Row] = []
            for events in row:
                groups = beam([(event.duration, False) for event in events], time)
                notes = [
                    Note(event.pitch, event.duration, tie=event.tie, beam=group, stem=stem, marks=_fermata(event, stem))
                    for event, group in zip(events, groups, strict=True)
                    if isinstance(event, Note)
                ]
                if not all(singer.can_reach(note.pitch) for note in notes):
                    return None
                made.append(tuple(notes))
            parts.append(made)
    except GroupingError:
        return None
    staves = []
    for upper, clef in ((0, "treble"), (2, "bass")):
        bars = tuple(
            Bar((one, other), line="double" if place == BARS - 1 else "single", free=_size(one) != time.ticks)
            for place, (one, other) in enumerate(zip(parts[upper], parts[upper + 1], strict=True))
        )
        staves.append(Stave(clef, bars, fifths or None, time))
    score = with_ids(with_accidentals(Score(tuple(staves), join="bracket")))
    return score if all(_in_order(moment) for moment in moments(score)) else None


def _fermata(event: Event, stem: str) -> tuple[str, ...]:
    """The pause is printed over the upper voice of a stave only."""
    return ("fermata",) if isinstance(event, Note) and "fermata" in event.marks and stem == "up" else ()


def _size(row: Row) -> int:
    return sum(event.ticks for event in row)


def _in_order(moment: Moment) -> bool:
    """Whether four voices sound, none above the one over it."""
    heights = [pitch.midi for event in moment.events for pitch in event.pitches]
    return len(heights) == len(SATB) and heights == sorted(heights, reverse=True)


def _proved(score: Score, fifths: int) -> Key | None:
    """The key that the passage proves, or None."""
    names = {note.pitch.name for note in score.notes()}
    last = moments(score)[-1].pitches
    for mode in ("major", "minor"):
        key = key_of(fifths, mode)
        if all(degree_number(name, key) is not None for name in names) and _telling(names, key):
            goal = identify(last, key, without_fifth=True)
            if goal is not None and not goal.inversion and not goal.seventh and goal.degree in _GOALS:
                return key
    return None


def _telling(names: set[NoteName], key: Key) -> bool:
    """Whether the notes that tell a key from its neighbours are there."""
    degrees = {(degree_of(name, key).number, degree_of(name, key).alter) for name in names}
    return (7, 1) in degrees if key.is_minor else {(4, 0), (7, 0)} <= degrees


def _cadence(score: Score, key: Key) -> str:
    """The cadence that the last two moments make, or nothing."""
    before, last = (identify(one.pitches, key) for one in moments(score)[-2:])
    return "" if before is None or last is None else cadence(before, last) or ""


def suits(one: Choir, scope: Scope) -> bool:
    """Whether a passage keeps within the grade: clefs, ranges, values, dots and alterations.

    The tenor must fit the treble clef too, an octave up, where an open score writes it.
    """
    upper, lower = (
        [note for bar in stave.bars for row in bar.voices for note in _notes(row)] for stave in one.score.staves
    )
    tenor = [note.pitch.shifted(1) for bar in one.score.staves[1].bars for note in _notes(bar.voices[0])]
    for clef, pitches in (("treble", [*(note.pitch for note in upper), *tenor]), ("bass", [n.pitch for n in lower])):
        if clef not in scope.ranges:
            return False
        low, high = scope.range_of(clef)
        if not all(low.diatonic <= pitch.diatonic <= high.diatonic for pitch in pitches):
            return False
    return all(
        note.duration.type in scope.values
        and note.duration.dots <= scope.dots
        and (not note.pitch.alter or note.pitch.alter in scope.alters)
        for note in (*upper, *lower)
    )


def _notes(row: Row) -> list[Note]:
    return [event for event in row if isinstance(event, Note)]
