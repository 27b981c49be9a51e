"""The score as a stored document: a closed, tagged mirror of `score`, there and back without loss."""

from __future__ import annotations

from typing import Annotated

from msgspec import Meta, Struct

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


class TimedDocument(_Closed, frozen=True):
    """What has a value: its name, dots, and the tuplet it stands in."""

    value: Word = "crotchet"
    dots: Dots = 0
    tuplet: TupletDocument | None = None


class NoteDocument(TimedDocument, frozen=True, tag_field="is", tag="note", kw_only=True):
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


class ChordDocument(TimedDocument, frozen=True, tag_field="is", tag="chord", kw_only=True):
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


class RestDocument(TimedDocument, frozen=True, tag_field="is", tag="rest", kw_only=True):
    """A written silence."""

    id: Word = ""
    whole_bar: bool = False
    beam: Small | None = None
    label: Word | None = None


class GapDocument(TimedDocument, frozen=True, tag_field="is", tag="gap", kw_only=True):
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
