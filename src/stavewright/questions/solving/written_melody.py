"""A melody that goes on from a given opening, as it is written: bars, notes as they sound, what was changed."""

from __future__ import annotations

from dataclasses import dataclass, replace

from stavewright.questions.score_document import ScoreDocument
from stavewright.questions.score_mirror import document_of, score_of
from stavewright.questions.solving.line import Sung, SungBar, line_of
from stavewright.score.event import ACCIDENTALS, Chord, Event, Gap, Note, Rest
from stavewright.score.stave import Bar, Score, Stave
from stavewright.theory.accidental import WrittenNote, sounding
from stavewright.theory.metre import TimeSignature

BARS = 8


@dataclass(frozen=True, slots=True)
class WrittenMelody:
    """A melody of eight bars: the stave as written, its line note by note, and what of the given opening was changed.

    `first` is how many whole bars were given, `pickup` the ticks of an upbeat before them (which is bar 0); `changed`
    are the numbers of those that are not as they were.
    """

    stave: Stave
    line: tuple[SungBar, ...]
    time: TimeSignature
    first: int
    changed: tuple[int, ...]
    pickup: int = 0

    @property
    def notes(self) -> tuple[Sung, ...]:
        """Every note that is struck, in order; one with others tied on to it is one note."""
        return tuple(note for bar in self.line for note in bar.struck)

    @property
    def bars(self) -> tuple[Bar, ...]:
        """The whole bars as written, and the last, which repays the upbeat."""
        return self.stave.bars[1 if self.pickup else 0 :]

    @property
    def later(self) -> list[tuple[int, Bar]]:
        """The bars after those that were given, with their numbers."""
        return list(enumerate(self.bars[self.first :], self.first + 1))

    def wanted(self, number: int) -> int:
        """How many ticks the bar of that number holds: the last leaves out what the upbeat took."""
        return self.time.ticks - (self.pickup if number == BARS else 0)


def read_melody(answer: ScoreDocument, opening: ScoreDocument) -> WrittenMelody:
    """Read an answer against the opening it goes on from; bars that follow it may stand alone.

    Pitches are read from the signature of the opening and the signs printed, so a sharp that was left out is missed.

    >>> from stavewright.score.stave import single
    >>> from stavewright.score.writing import row_of
    >>> from stavewright.theory.pitch import Pitch
    >>> start = document_of(single("treble", row_of([Pitch("C", 0, 5)])))
    >>> rest = document_of(single("treble", row_of([Pitch("F", 1, 5)])))
    >>> melody = read_melody(rest, start)
    >>> melody.changed, [note.pitch.short for note in melody.notes]
    ((1,), ['F5'])
    """
    start = score_of(opening)
    given, written = start.staves[0], score_of(answer).staves[0]
    led = int(start.anacrusis)
    pickup = sum(event.ticks for event in given.bars[0].events) if led else 0
    first = len(given.bars) - led
    bars, changed = written.bars, _changed(given.bars, written.bars, led)
    if changed and len(bars) == BARS - first:
        bars, changed = (*given.bars, *bars), ()
    heard = as_heard(replace(written, bars=tuple(_alone(bar) for bar in bars), fifths=given.fifths))
    line = line_of(document_of(Score((heard,), anacrusis=start.anacrusis)))
    time = given.time or TimeSignature(4, 4)
    return WrittenMelody(replace(written, bars=heard.bars), line, time, first, changed, pickup)


def _alone(bar: Bar) -> Bar:
    """The first voice of a bar without ids, so that bars of two scores can stand together."""
    row = tuple(replace(event, id="") for event in bar.events)
    return replace(bar, voices=(row, *bar.voices[1:]), time=None, fifths=None, clef=None)


def _changed(given: tuple[Bar, ...], got: tuple[Bar, ...], led: int) -> tuple[int, ...]:
    """The numbers of the given bars that stand otherwise in an answer; an upbeat is bar 0."""
    return tuple(
        index + 1 - led
        for index, bar in enumerate(given)
        if index >= len(got) or list(map(_look, bar.events)) != list(map(_look, got[index].events))
    )


def _look(event: Event) -> tuple[object, ...]:
    """What a given event may not lose: its place, printed sign, value and tie."""
    length = (event.duration.type, event.duration.dots, event.duration.tuplet)
    if isinstance(event, Note):
        return (event.pitch.step, event.pitch.octave, event.accidental, event.tie, *length)
    return (type(event).__name__, *length)


def as_heard(stave: Stave) -> Stave:
    """The same stave, every note of its first voice at the pitch that signature and printed signs give it."""
    rows: list[list[WrittenNote]] = []
    tied = False
    for bar in stave.bars:
        row: list[WrittenNote] = []
        for event in bar.events:
            if isinstance(event, Note):
                sign = event.accidental if event.accidental in ACCIDENTALS else None
                row.append(WrittenNote(event.pitch.diatonic, sign, tied))
                tied = event.tie
            elif isinstance(event, Rest | Gap | Chord):
                tied = False
        rows.append(row)
    heard = sounding(rows, stave.fifths or 0)
    bars: list[Bar] = []
    for bar, pitches in zip(stave.bars, heard, strict=True):
        given = iter(pitches)
        events = tuple(replace(e, pitch=next(given)) if isinstance(e, Note) else e for e in bar.events)
        bars.append(replace(bar, voices=(events, *bar.voices[1:])))
    return replace(stave, bars=tuple(bars))
