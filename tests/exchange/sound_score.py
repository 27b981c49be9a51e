"""Scores that the reader gives back as they were: written as the rules ask, and nothing that MusicXML cannot hold."""

from __future__ import annotations

from dataclasses import replace

from hypothesis import strategies as st

from exchange.any_score import PLAIN_WORDS, accidentals, any_chords, marks, notes, stems, times
from stavewright.score.event import Chord, Gap, Note, Rest
from stavewright.score.stave import Bar, Direction, Score, Stave
from stavewright.theory.duration import Duration, of_ticks

plain_values = st.sampled_from([Duration(v, d) for v in ("minim", "crotchet", "quaver", "semiquaver") for d in (0, 1)])


@st.composite
def voices(draw, number: int):
    """Events with beam groups of two or more neighbours, and no gap beside a gap."""
    row = draw(st.lists(st.one_of(notes, notes, any_chords(least=2), rests(), gaps()), min_size=1, max_size=7))
    events = []
    for place, event in enumerate(row):
        if isinstance(event, Note | Chord):
            events.append(replace(event, slur=None, beam=None, id=f"n{number}_{place}"))
        elif not (isinstance(event, Gap) and events and isinstance(events[-1], Gap)):
            events.append(event)
    if all(isinstance(event, Gap) for event in events):
        events = [Rest(Duration("crotchet"))]
    return tuple(_slurred(draw, _beamed(draw, events)))


def rests():
    return st.builds(Rest, plain_values, label=st.none() | PLAIN_WORDS)


def gaps():
    return st.builds(Gap, plain_values)


def _beamed(draw, events):
    """Neighbours shorter than a crotchet, beamed in groups as drawn; numbers from 1 in reading order."""
    number, out, place = 0, list(events), 0
    while place < len(out):
        run = place
        while (
            run < len(out) and isinstance(out[run], Note | Chord) and out[run].duration.tails and not _grace(out[run])
        ):
            run += 1
        size = min(run - place, draw(st.integers(0, 4)))
        if size >= 2:
            number += 1
            for member in range(place, place + size):
                out[member] = replace(out[member], beam=number)
            place += size
        else:
            place += 1
    return out


def _grace(event) -> bool:
    return isinstance(event, Note) and event.grace is not None


def _slurred(draw, events):
    sounding = [place for place, event in enumerate(events) if isinstance(event, Note | Chord)]
    if len(sounding) >= 3 and draw(st.booleans()):
        ends = dict(zip((sounding[0], sounding[1], sounding[-1]), ("start", "both", "stop"), strict=True))
        return [replace(e, slur=ends[place]) if place in ends else e for place, e in enumerate(events)]
    return events


@st.composite
def directions(draw, length: int):
    kind = draw(st.sampled_from(["tempo", "dynamic", "text", "crescendo", "diminuendo", "segno", "coda", "fine"]))
    at = draw(st.integers(0, length - 1))
    words = {"tempo": "Allegro", "dynamic": draw(st.sampled_from(["mf", "pp", "sfz", "fffp"])), "text": "dolce & calm"}
    until = draw(st.integers(at, length - 1)) if kind in ("crescendo", "diminuendo") else None
    return Direction(kind, at, words.get(kind, ""), until, above=kind == "tempo" or draw(st.booleans()))


@st.composite
def sound_scores(draw):
    """A score of one or two staves whose every part has its place in MusicXML, in the reader's own normal form."""
    length = draw(st.integers(1, 3))
    count = draw(st.integers(1, 2))
    lines = [_line(draw) for _ in range(length)]
    staves = tuple(_stave(draw, number, lines) for number in range(count))
    anacrusis = staves[0].time is not None and length > 1 and _short(staves[0])
    return Score(
        staves,
        join=draw(st.sampled_from(["none", "brace", "bracket"])) if count > 1 else "none",
        numbered=draw(st.booleans()),
        anacrusis=anacrusis,
    )


def _line(draw):
    return {
        "line": draw(st.sampled_from(["single", "double", "final", "repeat-end", "none"])),
        "repeat_start": draw(st.booleans()),
        "ending": None,
    }


def _stave(draw, number: int, lines) -> Stave:
    time, fifths = draw(times), draw(st.none() | st.integers(-7, 7))
    clef = draw(st.sampled_from(["treble", "bass", "alto", "tenor"]))
    now = [time, fifths, clef]
    bars = []
    for place, line in enumerate(lines):
        changes = [None, None, None]
        if place:
            new = [
                draw(times),
                draw(st.none() | st.integers(-7, 7)),
                draw(st.none() | st.sampled_from(["treble", "bass"])),
            ]
            changes = [one if one is not None and one != old else None for one, old in zip(new, now, strict=True)]
            now = [old if one is None else one for one, old in zip(changes, now, strict=True)]
        if draw(st.integers(0, 4)) == 0:
            events: tuple = ((Rest(Duration("semibreve"), whole_bar=True),),)
        else:
            events = (draw(voices(100 * number + 10 * place)),)
            second = of_ticks(sum(event.ticks for event in events[0]))
            if second is not None and draw(st.booleans()):
                low = Note(
                    draw(notes).pitch,
                    second,
                    f"v{number}_{place}",
                    draw(accidentals),
                    stem=draw(stems),
                    marks=draw(marks),
                )
                events = (*events, (low,))
        free = now[0] is None or not all(_fills(voice, now[0].ticks) for voice in events)
        signs = tuple(sorted(draw(st.lists(directions(len(events[0])), max_size=2)), key=lambda one: one.at))
        bars.append(
            Bar(events, **line, time=changes[0], fifths=changes[1], clef=changes[2], directions=signs, free=free)
        )
    return Stave(clef, tuple(bars), fifths, time, draw(st.sampled_from(["", "Violin", "A & B"])), draw(st.booleans()))


def _fills(voice, ticks: int) -> bool:
    return (len(voice) == 1 and getattr(voice[0], "whole_bar", False)) or sum(e.ticks for e in voice) == ticks


def _short(stave: Stave) -> bool:
    first = stave.bars[0]
    return first.free and 0 < sum(event.ticks for event in first.events) < stave.time.ticks
