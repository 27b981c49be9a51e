"""Writing pitches down: which accidentals must be printed, and ids for every event."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from stavewright.score.check import signature_alter
from stavewright.score.errors import BadScore
from stavewright.score.event import Event, Gap, Note, Rest
from stavewright.score.stave import Bar, Score, Stave
from stavewright.theory.duration import Duration
from stavewright.theory.pitch import Pitch

SIGN = {-2: "flat-flat", -1: "flat", 0: "natural", 1: "sharp", 2: "double-sharp"}


def with_accidentals(score: Score) -> Score:
    """Print on every note just the accidental that its pitch needs, given signature, bar and ties.

    Signs already there are replaced. Source: Gehrkens, Music Notation and Terminology (1914) §24-25.

    Raises:
        BadScore: a pitch altered by more than two semitones cannot be printed.

    >>> from stavewright.score.stave import single
    >>> row = (Note(Pitch("F", 1, 4), Duration("crotchet")), Note(Pitch("F", 1, 4), Duration("crotchet")))
    >>> [note.accidental for note in with_accidentals(single("treble", row)).notes()]
    ['sharp', None]
    """
    return replace(score, staves=tuple(_stave_signs(stave) for stave in score.staves))


def _stave_signs(stave: Stave) -> Stave:
    fifths = stave.fifths or 0
    ties: dict[int, dict[tuple[str, int], int]] = {}
    bars: list[Bar] = []
    for bar in stave.bars:
        fifths = fifths if bar.fifths is None else bar.fifths
        force: dict[tuple[str, int], int] = {}
        voices: list[tuple[Event, ...]] = []
        for number, voice in enumerate(bar.voices):
            events: list[Event] = []
            for event in voice:
                if isinstance(event, Rest | Gap):
                    ties.pop(number, None)
                    events.append(event)
                    continue
                tied = ties.get(number, {})
                signs = tuple(_sign(pitch, fifths, force, tied) for pitch in event.pitches)
                if signs == event.accidentals:
                    events.append(event)
                elif isinstance(event, Note):
                    events.append(event.signed(signs[0]))
                else:
                    events.append(replace(event, accidentals=signs))
                if isinstance(event, Note) and event.grace:
                    continue
                ties[number] = {(p.step, p.octave): p.alter for p in event.pitches} if event.tie else {}
            voices.append(tuple(events))
        written = tuple(voices)
        bars.append(bar if written == bar.voices else replace(bar, voices=written))
    return replace(stave, bars=tuple(bars))


def _sign(pitch: Pitch, fifths: int, force: dict[tuple[str, int], int], tied: dict[tuple[str, int], int]) -> str | None:
    place = (pitch.step, pitch.octave)
    if tied.get(place) == pitch.alter:
        return None
    if force.get(place, signature_alter(pitch.step, fifths)) == pitch.alter:
        return None
    if pitch.alter not in SIGN:
        raise BadScore(f"{pitch.short} cannot be printed: no sign alters a note by more than two semitones")
    force[place] = pitch.alter
    return SIGN[pitch.alter]


def with_ids(score: Score, prefix: str = "n") -> Score:
    """Give every event without an id one of its own: n1, n2, ... in reading order."""
    counter = 0
    staves: list[Stave] = []
    for stave in score.staves:
        bars: list[Bar] = []
        for bar in stave.bars:
            voices: list[tuple[Event, ...]] = []
            for voice in bar.voices:
                row: list[Event] = []
                for event in voice:
                    counter += 1
                    row.append(event if event.id else replace(event, id=f"{prefix}{counter}"))
                voices.append(tuple(row))
            bars.append(replace(bar, voices=tuple(voices)))
        staves.append(replace(stave, bars=tuple(bars)))
    return replace(score, staves=tuple(staves))


def row_of(pitches: Iterable[Pitch], value: str = "semibreve", labels: Sequence[str | None] = ()) -> tuple[Note, ...]:
    """Bare notes of one value, ids n1, n2, ...; the signs they need are printed by `with_accidentals`."""
    notes = tuple(Note(pitch, Duration(value), id=f"n{i}") for i, pitch in enumerate(pitches, 1))
    return tuple(replace(n, label=label) for n, label in zip(notes, labels, strict=True)) if labels else notes
