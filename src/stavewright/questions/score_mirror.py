"""A score and its document: the mirror both ways, without loss."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import Literal

from stavewright.questions.errors import BadDocument
from stavewright.questions.score_document import (
    BarDocument,
    BracketDocument,
    ChordDocument,
    DirectionDocument,
    EventDocument,
    GapDocument,
    NoteDocument,
    PitchDocument,
    RestDocument,
    ScoreDocument,
    StaveDocument,
    TimedDocument,
    TimeDocument,
    TupletDocument,
)
from stavewright.score.errors import BadScore
from stavewright.score.event import Chord, Event, Gap, Note, Rest
from stavewright.score.stave import Bar, Bracket, Direction, Score, Stave
from stavewright.theory.duration import Duration, Tuplet
from stavewright.theory.errors import StavewrightError
from stavewright.theory.metre import TimeSignature
from stavewright.theory.pitch import Pitch


def document_of(score: Score) -> ScoreDocument:
    """Mirror a score as a document.

    >>> from stavewright.score.stave import single
    >>> score = single("bass", (Note(Pitch("B", -1, 2), Duration("minim"), id="n1", accidental="flat"),))
    >>> score_of(document_of(score)) == score
    True
    """
    return ScoreDocument(
        tuple(
            StaveDocument(
                s.clef,
                tuple(_bar_document(b) for b in s.bars),
                s.fifths,
                _time_document(s.time),
                s.name,
                s.show_clef,
                tuple(PitchDocument(p.step, p.alter, p.octave) for p in s.signs),
            )
            for s in score.staves
        ),
        score.join,
        tuple(BracketDocument(b.first, b.last, b.label) for b in score.brackets),
        score.numbered,
        score.anacrusis,
    )


def score_of(document: ScoreDocument) -> Score:
    """The score that a document mirrors.

    Raises:
        BadDocument: the document is well formed but is not music (an unknown value, clef, sign...).
    """
    try:
        return _score_of(document)
    except BadScore as error:
        raise BadDocument(f"score: {error}") from error
    except StavewrightError as error:
        raise BadDocument(f"score: {error}") from error


@lru_cache(maxsize=256)
def _score_of(document: ScoreDocument) -> Score:
    return Score(
        tuple(
            Stave(
                s.clef,
                tuple(_bar(b) for b in s.bars),
                s.fifths,
                _time(s.time),
                s.name,
                s.show_clef,
                tuple(Pitch(p.step, p.alter, p.octave) for p in s.signs),
            )
            for s in document.staves
        ),
        document.join,
        tuple(Bracket(b.first, b.last, b.label) for b in document.brackets),
        document.numbered,
        document.anacrusis,
    )


def _time_document(time: TimeSignature | None) -> TimeDocument | None:
    return None if time is None else TimeDocument(time.beats, time.unit, time.symbol)


def _time(document: TimeDocument | None) -> TimeSignature | None:
    if document is None:
        return None
    symbols: dict[str | None, Literal["common", "cut"] | None] = {"common": "common", "cut": "cut", None: None}
    if document.symbol not in symbols:
        raise BadScore(f"time signature symbol {document.symbol!r} is not common or cut")
    return TimeSignature(document.beats, document.unit, symbols[document.symbol])


def _tuplet_document(duration: Duration) -> TupletDocument | None:
    return None if duration.tuplet is None else TupletDocument(duration.tuplet.actual, duration.tuplet.normal)


def _duration(document: TimedDocument) -> Duration:
    tuplet = None if document.tuplet is None else Tuplet(document.tuplet.actual, document.tuplet.normal)
    return Duration(document.value, document.dots, tuplet)


def _bar_document(bar: Bar) -> BarDocument:
    return BarDocument(
        tuple(tuple(_event_document(e) for e in voice) for voice in bar.voices),
        bar.line,
        bar.repeat_start,
        _time_document(bar.time),
        bar.fifths,
        bar.clef,
        tuple(DirectionDocument(d.kind, d.at, d.text, d.until, d.until_bar, d.above) for d in bar.directions),
        bar.free,
        bar.ending,
    )


def _bar(document: BarDocument) -> Bar:
    return Bar(
        tuple(tuple(_event(e) for e in voice) for voice in document.voices),
        document.line,
        document.repeat_start,
        _time(document.time),
        document.fifths,
        document.clef,
        tuple(Direction(d.kind, d.at, d.text, d.until, d.until_bar, d.above) for d in document.directions),
        document.free,
        document.ending,
    )


def _event_document(e: Event) -> EventDocument:
    value, dots, tuplet = e.duration.type, e.duration.dots, _tuplet_document(e.duration)
    if isinstance(e, Note):
        p = e.pitch
        return NoteDocument(
            step=p.step,
            alter=p.alter,
            octave=p.octave,
            id=e.id,
            accidental=e.accidental,
            tie=e.tie,
            beam=e.beam,
            stem=e.stem,
            marks=e.marks,
            grace=e.grace,
            slur=e.slur,
            lyric=e.lyric,
            label=e.label,
            value=value,
            dots=dots,
            tuplet=tuplet,
        )
    if isinstance(e, Chord):
        return ChordDocument(
            pitches=tuple(PitchDocument(p.step, p.alter, p.octave) for p in e.pitches),
            id=e.id,
            accidentals=e.accidentals,
            tie=e.tie,
            beam=e.beam,
            stem=e.stem,
            marks=e.marks,
            slur=e.slur,
            label=e.label,
            value=value,
            dots=dots,
            tuplet=tuplet,
        )
    if isinstance(e, Rest):
        return RestDocument(
            id=e.id, whole_bar=e.whole_bar, beam=e.beam, label=e.label, value=value, dots=dots, tuplet=tuplet
        )
    return GapDocument(id=e.id, label=e.label, value=value, dots=dots, tuplet=tuplet)


def _event(e: EventDocument) -> Event:
    d = _duration(e)
    if isinstance(e, NoteDocument):
        return Note(
            Pitch(e.step, e.alter, e.octave),
            d,
            e.id,
            e.accidental,
            e.tie,
            e.beam,
            e.stem,
            e.marks,
            e.grace,
            e.slur,
            e.lyric,
            e.label,
        )
    if isinstance(e, ChordDocument):
        pitches = tuple(Pitch(p.step, p.alter, p.octave) for p in e.pitches)
        return Chord(pitches, d, e.id, e.accidentals, e.tie, e.beam, e.stem, e.marks, e.slur, e.label)
    if isinstance(e, RestDocument):
        return Rest(d, e.id, e.whole_bar, e.beam, e.label)
    return Gap(d, e.id, e.label)


def pitch_of(document: PitchDocument) -> Pitch:
    """The pitch that a document mirrors."""
    return Pitch(document.step, document.alter, document.octave)


def pitches_of(documents: Sequence[PitchDocument]) -> tuple[Pitch, ...]:
    """The pitches that documents mirror."""
    return tuple(pitch_of(one) for one in documents)
