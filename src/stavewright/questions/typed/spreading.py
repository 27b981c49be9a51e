"""Typed music laid out over the fields of a question that has no field for whole music: clef, notes, values, key."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any, Final, get_args, get_origin, get_type_hints

import msgspec

from stavewright.questions.kind import Kind
from stavewright.questions.score_document import PitchDocument, ScoreDocument
from stavewright.questions.score_mirror import document_of
from stavewright.questions.typed.plain_ways import BY_PATTERN, CLEF, PITCH, PLACE, VALUE
from stavewright.questions.typed.way import Way
from stavewright.questions.typed.ways import apart, is_struct, way_of
from stavewright.questions.values import WrittenValue
from stavewright.questions.written import Written
from stavewright.score.compact.heading import Heading
from stavewright.score.event import Chord, Event, Note, Rest
from stavewright.score.stave import Score
from stavewright.theory.clef import CLEFS

_PITCH_WAY: Final = PITCH


@dataclass(slots=True)
class _Spread:
    """What is left to lay out, and the fields filled so far."""

    score: Score
    heading: Heading
    kind: Kind
    found: dict[str, Any] = field(default_factory=dict)
    used: int = 0
    staves_used: int = 0
    rows_used: int = 0

    @property
    def events(self) -> list[Event]:
        return [event for bar in self.score.staves[0].bars for event in bar.voices[0]]

    @property
    def sounding(self) -> list[Note | Chord]:
        return [event for event in self.events if isinstance(event, Note | Chord)]

    @property
    def pitches(self) -> list[str]:
        return [pitch.short for event in self.sounding for pitch in event.pitches]

    def printed(self, event: Note | Chord, clef: str) -> dict[str, Any]:
        pitch, sign = event.pitches[0], event.accidentals[0]
        one: dict[str, Any] = {"place": CLEFS[clef].place(pitch)}
        one |= {"accidental": sign} if sign else {}
        return one | ({"tie": True} if event.tie else {})


def spread(kind: Kind, score: Score, heading: Heading) -> dict[str, Any]:
    """The fields of a kind's facts that typed music gives, as plain values by name.

    A field for whole music takes all of it; else the clef, the signature, the key (where it was named), the time
    signature, the notes in their order and their values go to the fields that hold such things.

    >>> from stavewright.questions.catalogue import kind
    >>> from stavewright.score.compact.reading import read_headed
    >>> score, headings = read_headed("treble: F#4")
    >>> spread(kind("name-the-note"), score, headings[0])
    {'clef': 'treble', 'place': 1, 'accidental': 'sharp'}
    """
    if kind.read is not None:
        own = kind.read(score)
        if own is not None:
            return dict(own)
    hints = get_type_hints(kind.facts, include_extras=True)
    key = {"key": heading.key.text} if heading.key is not None and "key" in hints else {}
    for name in kind.facts.__struct_fields__:
        if apart(hints[name]).type is ScoreDocument:
            return {**key, name: msgspec.to_builtins(document_of(score))}
    laid = _Spread(score, heading, kind, dict(key))
    for name in kind.facts.__struct_fields__:
        if name not in laid.found:
            value = _value(laid, name, hints[name])
            if value is not None:
                laid.found[name] = value
    return laid.found


def _value(laid: _Spread, name: str, hint: Any) -> Any:
    one = apart(hint)
    stave = laid.score.staves[0]
    if name == "fifths":
        return stave.fifths if stave.fifths is not None or one.optional else 0
    if name == "time":
        return None if stave.time is None else stave.time.text
    if name == "together":
        return any(isinstance(event, Chord) for event in laid.events)
    if get_origin(one.type) is tuple:
        return _row(laid, get_args(one.type)[0], name)
    if one.type is Written:
        return _next_printed(laid)
    if is_struct(one.type) and one.type.__name__ == "MarkedNote":
        _marked(laid, name)
        return None
    way = way_of(hint, name, laid.kind.topic)
    return _single(laid, name, way)


def _single(laid: _Spread, name: str, way: Way) -> Any:
    what = way.what.removesuffix("; or none")
    if what == CLEF.what:
        return laid.heading.clef if name == "clef" else None
    if what == PLACE.what and name == "place" and laid.sounding:
        return laid.printed(laid.sounding[0], laid.heading.clef)["place"]
    if name == "accidental" and laid.sounding:
        return laid.sounding[0].accidentals[0]
    if what == _PITCH_WAY.what and laid.used < len(laid.pitches):
        laid.used += 1
        return laid.pitches[laid.used - 1]
    lasting = {"value", "dots", "rest"} <= set(laid.kind.facts.__struct_fields__)
    if (lasting or name == "value") and laid.events:
        event = laid.events[0]
        if name == "value" and (lasting or not what.startswith(VALUE.what[:8])):
            return event.duration.type + "." * event.duration.dots if not lasting else event.duration.type
        if name in ("dots", "rest") and lasting:
            return event.duration.dots if name == "dots" else isinstance(event, Rest)
    return None


def _next_printed(laid: _Spread) -> Any:
    if laid.used >= len(laid.sounding):
        return None
    laid.used += 1
    return laid.printed(laid.sounding[laid.used - 1], laid.heading.clef)


def _row(laid: _Spread, item: Any, name: str) -> Any:
    inner = apart(item)
    clef = laid.heading.clef
    bars = laid.score.staves[0].bars
    if inner.type is WrittenValue:
        alone = sum(_holds_values(hint) for hint in get_type_hints(laid.kind.facts, include_extras=True).values()) == 1
        rows = [laid.events] if alone else [list(bar.events) for bar in bars]
        laid.rows_used += 1
        return [_timed(one, laid) for one in rows[laid.rows_used - 1]] if laid.rows_used <= len(rows) else None
    if get_origin(inner.type) is tuple:
        deepest = apart(get_args(inner.type)[0]).type
        if deepest is WrittenValue:
            return [[_timed(one, laid) for one in bar.events] for bar in bars]
        if deepest is Written:
            return [[laid.printed(one, clef) for one in bar.events if isinstance(one, Note)] for bar in bars]
        return None
    if inner.type is Written:
        return [laid.printed(one, clef) for one in laid.sounding]
    if is_struct(inner.type):
        return _items(laid, set(inner.type.__struct_fields__))
    pattern = None if inner.meta is None else inner.meta.pattern
    if (pattern is not None and BY_PATTERN.get(pattern) is _PITCH_WAY) or (name == "notes" and inner.type is str):
        return _pitch_row(laid)
    return None


def _holds_values(hint: Any) -> bool:
    one = apart(hint)
    return get_origin(one.type) is tuple and apart(get_args(one.type)[0]).type is WrittenValue


def _pitch_row(laid: _Spread) -> Any:
    """The notes of the next stave where there are several, else all notes that are left."""
    if len(laid.score.staves) > 1:
        if laid.staves_used >= len(laid.score.staves):
            return None
        laid.staves_used += 1
        stave = laid.score.staves[laid.staves_used - 1]
        notes = [event for bar in stave.bars for event in bar.events if isinstance(event, Note | Chord)]
        return [pitch.short for event in notes for pitch in event.pitches]
    left = laid.pitches[laid.used :]
    laid.used = len(laid.pitches)
    return left or None


def _items(laid: _Spread, fields: set[str]) -> Any:
    """A row of records: notes with their clef, value and stem, values, or named chords."""
    if {"label", "notes"} <= fields:
        return [
            {"label": event.label or "", "notes": [pitch.short for pitch in event.pitches]} for event in laid.sounding
        ]
    if "place" in fields:
        row = [
            (stave.clef, event)
            for stave in laid.score.staves
            for bar in stave.bars
            for event in bar.events
            if isinstance(event, Note | Chord)
        ]
        made = [
            {
                "clef": clef,
                **laid.printed(event, clef),
                "value": event.duration.type,
                **({"stem": event.stem} if event.stem else {}),
            }
            for clef, event in row
        ]
        return [{name: value for name, value in one.items() if name in fields} for one in made]
    if "value" in fields:
        return [
            {
                name: value
                for name, value in {**_timed(event, laid), "value": event.duration.type}.items()
                if name in fields
            }
            for event in laid.events
        ]
    return None


def _timed(event: Event, laid: _Spread) -> dict[str, Any]:
    """An event as a value of a rhythm; beams are kept where they were typed, under no time signature."""
    duration = event.duration
    one: dict[str, Any] = {"type": duration.type, "dots": duration.dots, "rest": isinstance(event, Rest)}
    one["tie"] = isinstance(event, Note | Chord) and event.tie
    if duration.tuplet is not None:
        one["tuplet"] = {"actual": duration.tuplet.actual, "normal": duration.tuplet.normal}
    if laid.score.staves[0].time is None and isinstance(event, Note | Chord) and event.beam is not None:
        one["beam"] = event.beam
    return one


def _marked(laid: _Spread, name: str) -> None:
    """A row of notes of which one has a label, as a note that is pointed out."""
    notes = [event for event in laid.sounding if isinstance(event, Note)]
    marked = [place for place, event in enumerate(notes) if event.label]
    if not notes:
        return
    laid.found[f"{name}.clef"] = laid.heading.clef
    laid.found[f"{name}.fifths"] = laid.score.staves[0].fifths or 0
    laid.found[f"{name}.row"] = [
        msgspec.to_builtins(PitchDocument(one.pitch.step, one.pitch.alter, one.pitch.octave)) for one in notes
    ]
    laid.found[f"{name}.marked"] = marked[0] if marked else len(notes) - 1
