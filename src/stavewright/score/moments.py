"""What sounds together: the moments of a score at which a note begins, and every note that sounds there."""

from __future__ import annotations

from dataclasses import dataclass

from stavewright.score.event import Chord, Event, Gap, Note, Rest
from stavewright.score.stave import Score
from stavewright.theory.pitch import Pitch


@dataclass(frozen=True, slots=True)
class Moment:
    """One point in time: the bar (counted from 0), the ticks from its start, and the notes and chords sounding."""

    bar: int
    start: int
    events: tuple[Note | Chord, ...]

    @property
    def pitches(self) -> tuple[Pitch, ...]:
        """Every sounding pitch, from the lowest up."""
        every = (pitch for event in self.events for pitch in event.pitches)
        return tuple(sorted(every, key=lambda pitch: (pitch.midi, pitch.diatonic)))


def moments(score: Score) -> tuple[Moment, ...]:
    """Every moment at which some note begins, in order; grace notes are passed over.

    A note held over the bar line by a tie begins again there, as it is written.

    >>> from stavewright.score.stave import single
    >>> from stavewright.theory.duration import Duration
    >>> row = (Note(Pitch("C", 0, 4), Duration("minim")), Note(Pitch("E", 0, 4), Duration("minim")))
    >>> [moment.pitches[0].short for moment in moments(single("treble", row))]
    ['C4', 'E4']
    """
    found: list[Moment] = []
    for index in range(len(score.staves[0].bars)):
        spans = [
            (start, start + event.ticks, event)
            for stave in score.staves
            for voice in stave.bars[index].voices
            for start, event in _timed(voice)
        ]
        for point in sorted({start for start, _, _ in spans}):
            sounding = tuple(event for start, end, event in spans if start <= point < end)
            found.append(Moment(index, point, sounding))
    return tuple(found)


def _timed(voice: tuple[Event, ...]) -> list[tuple[int, Note | Chord]]:
    timed: list[tuple[int, Note | Chord]] = []
    now = 0
    for event in voice:
        if not isinstance(event, Rest | Gap) and event.ticks:
            timed.append((now, event))
        now += event.ticks
    return timed
