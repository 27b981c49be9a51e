"""The events of a bar as MEI: notes, chords, rests and gaps, inside their beams and tuplets."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from stavewright.engraving.errors import EngravingError
from stavewright.engraving.mei_marks import ACCIDENTALS, ARTICULATIONS, value, words
from stavewright.score.event import Chord, Event, Gap, Note, Rest
from stavewright.theory.duration import TICKS, Tuplet
from stavewright.theory.pitch import Pitch


@dataclass(frozen=True, slots=True)
class Placed:
    """One event with its id in the picture, and which of its pitches a tie reaches (`tied`) or leaves (`ties`)."""

    event: Event
    id: str
    tied: frozenset[Pitch] = frozenset()
    ties: frozenset[Pitch] = frozenset()


@dataclass(frozen=True, slots=True)
class Span:
    """A beam or a tuplet over the events from `first` to `last` of a voice."""

    first: int
    last: int
    opening: str
    closing: str
    rank: int = 0


def layer(voice: Sequence[Placed], where: str) -> str:
    """The events of one voice of one bar, beams and tuplets around them.

    Raises:
        EngravingError: a beam that begins inside a tuplet and ends outside it.
    """
    spans = sorted([*_beams(voice), *_tuplets(voice)], key=lambda span: (span.first, -span.last, span.rank))
    open_spans: list[Span] = []
    out: list[str] = []
    waiting = spans[::-1]
    for index, placed in enumerate(voice):
        while waiting and waiting[-1].first == index:
            span = waiting.pop()
            if open_spans and span.last > open_spans[-1].last:
                said = "a beam and a tuplet overlap, or two beams; let one hold the whole of the other"
                raise EngravingError(f"{where}: {said}")
            open_spans.append(span)
            out.append(span.opening)
        out.append(_event(placed))
        while open_spans and open_spans[-1].last == index:
            out.append(open_spans.pop().closing)
    return "".join(out)


def _beams(voice: Sequence[Placed]) -> list[Span]:
    ends: dict[int, tuple[int, int]] = {}
    spans: list[Span] = []
    for index, placed in enumerate(voice):
        if isinstance(placed.event, Note) and placed.event.grace:
            continue
        group = None if isinstance(placed.event, Gap) else placed.event.beam
        if group is not None:
            first, _ = ends.get(group, (index, index))
            ends[group] = (first, index)
    for first, last in ends.values():
        if first != last:
            spans.append(Span(first, last, "<beam>", "</beam>", rank=1))
    return spans + _grace_beams(voice)


def _grace_beams(voice: Sequence[Placed]) -> list[Span]:
    spans: list[Span] = []
    start: int | None = None
    for index in range(len(voice) + 1):
        event = voice[index].event if index < len(voice) else None
        small = isinstance(event, Note) and event.grace is not None and event.duration.tails > 0
        if small and start is None:
            start = index
        elif not small and start is not None:
            if index - 1 > start:
                spans.append(Span(start, index - 1, "<graceGrp><beam>", "</beam></graceGrp>", rank=2))
            start = None
    return spans


def _tuplets(voice: Sequence[Placed]) -> list[Span]:
    """Irregular groups: a group is complete when its face values make up as many equal values as its figure says.

    A group that never gets complete keeps its figure all the same: what is written is drawn. In a bar with labels,
    which stand below, the figures stand above.
    """
    labelled = any(isinstance(one.event, Note) and one.event.label for one in voice)
    spans: list[Span] = []
    members: list[int] = []
    timed = [i for i, one in enumerate(voice) if not (isinstance(one.event, Note) and one.event.grace)]
    for place, index in enumerate(timed):
        event = voice[index].event
        tuplet = event.duration.tuplet
        if tuplet is None:
            continue
        members.append(index)
        following = voice[timed[place + 1]].event if place + 1 < len(timed) else None
        if following is None or following.duration.tuplet != tuplet or _complete(voice, members, tuplet, following):
            spans.append(_tuplet(members[0], index, tuplet, above=labelled))
            members = []
    return spans


def _complete(voice: Sequence[Placed], members: Sequence[int], tuplet: Tuplet, following: Event) -> bool:
    values = [voice[index].event.duration.plain for index in members]
    each = sum(value.ticks for value in values) // tuplet.actual
    if each not in TICKS.values() or each < min(TICKS[value.type] for value in values):
        return False
    return len(set(values)) == 1 or not _same_beam(voice[members[-1]].event, following)


def _same_beam(one: Event, other: Event) -> bool:
    if isinstance(one, Gap) or isinstance(other, Gap):
        return False
    return one.beam is not None and one.beam == other.beam and one.duration.tuplet == other.duration.tuplet


def _tuplet(first: int, last: int, tuplet: Tuplet, *, above: bool) -> Span:
    place = ' num.place="above" bracket.place="above"' if above else ""
    return Span(first, last, f'<tuplet num="{tuplet.actual}" numbase="{tuplet.normal}"{place}>', "</tuplet>", rank=0)


def _event(placed: Placed) -> str:
    event = placed.event
    if isinstance(event, Note):
        return _note(event, placed)
    if isinstance(event, Chord):
        return _chord(event, placed)
    if isinstance(event, Rest):
        if event.whole_bar:
            return f'<mRest xml:id="{placed.id}"/>'
        return f'<rest xml:id="{placed.id}" {value(event.duration)}/>'
    return f'<space xml:id="{placed.id}" {value(event.duration)}/>'


def _pitch(pitch: Pitch, accidental: str | None) -> str:
    if not 0 <= pitch.octave <= 9:
        raise EngravingError(f"octave {pitch.octave} is off every stave: use 0 to 9")
    sign = f' accid="{ACCIDENTALS[accidental]}"' if accidental else ""
    return f'pname="{pitch.step.lower()}" oct="{pitch.octave}"{sign}'


def _tie(placed: Placed, pitch: Pitch) -> str:
    ends, begins = pitch in placed.tied, pitch in placed.ties
    letter = "m" if ends and begins else "t" if ends else "i" if begins else ""
    return f' tie="{letter}"' if letter else ""


def _touch(event: Note | Chord) -> str:
    artic = " ".join(ARTICULATIONS[mark] for mark in event.marks if mark in ARTICULATIONS)
    stem = f' stem.dir="{event.stem}"' if event.stem else ""
    return (f' artic="{artic}"' if artic else "") + stem


def _note(note: Note, placed: Placed) -> str:
    grace = {"acciaccatura": ' grace="unacc" stem.mod="1slash"', "appoggiatura": ' grace="acc"', None: ""}[note.grace]
    opening = (
        f'<note xml:id="{placed.id}" {_pitch(note.pitch, note.accidental)} {value(note.duration)}'
        f"{grace}{_touch(note)}{_tie(placed, note.pitch)}"
    )
    return f"{opening}>{_lyric(note.lyric)}</note>" if note.lyric else f"{opening}/>"


def _lyric(syllable: str) -> str:
    if syllable.endswith("-"):
        return f'<verse n="1"><syl con="d" wordpos="m">{words(syllable[:-1])}</syl></verse>'
    if syllable.endswith("_"):
        return f'<verse n="1"><syl con="u" wordpos="t">{words(syllable[:-1])}</syl></verse>'
    return f'<verse n="1"><syl>{words(syllable)}</syl></verse>'


def _chord(chord: Chord, placed: Placed) -> str:
    notes = "".join(
        f'<note xml:id="{placed.id}.{number}" {_pitch(pitch, sign)}{_tie(placed, pitch)}/>'
        for number, (pitch, sign) in enumerate(zip(chord.pitches, chord.accidentals, strict=True), 1)
    )
    return f'<chord xml:id="{placed.id}" {value(chord.duration)}{_touch(chord)}>{notes}</chord>'
