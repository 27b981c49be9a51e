"""The score as a stored document: a closed, tagged mirror of `score`, there and back without loss."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from typing import Annotated, Literal

from msgspec import Meta, Struct

from stavewright.questions.errors import BadDocument
from stavewright.score.errors import BadScore
from stavewright.score.event import Chord, Event, Gap, Note, Rest
from stavewright.score.stave import Bar, Bracket, Direction, Score, Stave
from stavewright.theory.duration import Duration, Tuplet
from stavewright.theory.errors import StavewrightError
from stavewright.theory.metre import TimeSignature
from stavewright.theory.pitch import Pitch

Step = Annotated[str, Meta(pattern="^[A-G]$", max_length=1)]
Alter = Annotated[int, Meta(ge=-3, le=3)]
Octave = Annotated[int, Meta(ge=-1, le=9)]
Dots = Annotated[int, Meta(ge=0, le=3)]
Word = Annotated[str, Meta(max_length=40)]
Line = Annotated[str, Meta(max_length=200)]
Small = Annotated[int, Meta(ge=0, le=2000)]
Fifths = Annotated[int, Meta(ge=-7, le=7)]


class _Closed(Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True):
    """A document that refuses any field it does not know."""


class PitchDocument(_Closed, frozen=True):
    """One pitch: letter, alteration in semitones, octave (C4 is middle C)."""

    step: Step
    alter: Alter = 0
    octave: Octave = 4


class TupletDocument(_Closed, frozen=True):
    """So many in the time of so many."""

    actual: Annotated[int, Meta(ge=2, le=15)]
    normal: Annotated[int, Meta(ge=1, le=16)]


class _Timed(_Closed, frozen=True):
    value: Word = "crotchet"
    dots: Dots = 0
    tuplet: TupletDocument | None = None


class NoteDocument(_Timed, frozen=True, tag_field="is", tag="note", kw_only=True):
    """A note as it is written."""

    step: Step
    alter: Alter = 0
    octave: Octave = 4
    id: Word = ""
    accidental: Word | None = None
    tie: bool = False
    beam: Small | None = None
    stem: Word | None = None
    marks: Annotated[tuple[Word, ...], Meta(max_length=8)] = ()
    grace: Word | None = None
    slur: Word | None = None
    lyric: Word | None = None
    label: Word | None = None


class ChordDocument(_Timed, frozen=True, tag_field="is", tag="chord", kw_only=True):
    """Notes on one stem, lowest first."""

    pitches: Annotated[tuple[PitchDocument, ...], Meta(min_length=1, max_length=12)]
    id: Word = ""
    accidentals: Annotated[tuple[Word | None, ...], Meta(max_length=12)] = ()
    tie: bool = False
    beam: Small | None = None
    stem: Word | None = None
    marks: Annotated[tuple[Word, ...], Meta(max_length=8)] = ()
    slur: Word | None = None
    label: Word | None = None


class RestDocument(_Timed, frozen=True, tag_field="is", tag="rest", kw_only=True):
    """A written silence."""

    id: Word = ""
    whole_bar: bool = False
    beam: Small | None = None
    label: Word | None = None


class GapDocument(_Timed, frozen=True, tag_field="is", tag="gap", kw_only=True):
    """Room left for the pupil."""

    id: Word = ""
    label: Word | None = None


EventDocument = NoteDocument | ChordDocument | RestDocument | GapDocument


class TimeDocument(_Closed, frozen=True):
    """A time signature as it is printed; symbol "common" or "cut" prints C."""

    beats: Annotated[int, Meta(ge=1, le=99)]
    unit: Annotated[int, Meta(ge=1, le=64)]
    symbol: Word | None = None


class DirectionDocument(_Closed, frozen=True):
    """A word or sign for the player at an event of the first voice."""

    kind: Word
    at: Small = 0
    text: Line = ""
    until: Small | None = None
    until_bar: Small = 0
    above: bool = False


class BarDocument(_Closed, frozen=True):
    """One bar."""

    voices: Annotated[
        tuple[Annotated[tuple[EventDocument, ...], Meta(max_length=400)], ...], Meta(min_length=1, max_length=4)
    ]
    line: Word = "single"
    repeat_start: bool = False
    time: TimeDocument | None = None
    fifths: Fifths | None = None
    clef: Word | None = None
    directions: Annotated[tuple[DirectionDocument, ...], Meta(max_length=40)] = ()
    free: bool = False
    ending: Small | None = None


class BracketDocument(_Closed, frozen=True):
    """A bracket from one event id to another."""

    first: Word
    last: Word
    label: Word = ""


class StaveDocument(_Closed, frozen=True):
    """One stave."""

    clef: Word
    bars: Annotated[tuple[BarDocument, ...], Meta(min_length=1, max_length=400)]
    fifths: Fifths | None = None
    time: TimeDocument | None = None
    name: Word = ""
    show_clef: bool = True
    signs: Annotated[tuple[PitchDocument, ...], Meta(max_length=20)] = ()


class ScoreDocument(_Closed, frozen=True):
    """A whole score."""

    staves: Annotated[tuple[StaveDocument, ...], Meta(min_length=1, max_length=12)]
    join: Word = "none"
    brackets: Annotated[tuple[BracketDocument, ...], Meta(max_length=40)] = ()
    numbered: bool = False
    anacrusis: bool = False


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


def _duration(document: _Timed) -> Duration:
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
