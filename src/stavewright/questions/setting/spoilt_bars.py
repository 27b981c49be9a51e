"""A melody or rhythm of which one bar, or two, has been made too long or too short."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from random import Random

from stavewright.questions.melodies import Melodies
from stavewright.questions.setting.bars import beamed, pick_time, rhythm_bar
from stavewright.score.event import Event, Note, Rest
from stavewright.score.stave import Bar, Score, Stave
from stavewright.syllabus.scope import Scope
from stavewright.theory.duration import VALUES, Duration
from stavewright.theory.pitch import Pitch

_RHYTHM_SHARE = 0.3
_TRIES = 6
_BARS = 4
_TWO_SHARE = 0.3
_FEWEST = 2


def spoilt_bars(scope: Scope, rng: Random, melodies: Melodies | None) -> tuple[Score, tuple[int, ...], str] | None:
    """Music with one or two faulty bars, the numbers of those bars, and its credit; an upbeat and its bar are right."""
    count = 2 if rng.random() < _TWO_SHARE else 1
    for _ in range(_TRIES):
        credit, score = "", _rhythm(scope, rng)
        if melodies is not None and rng.random() > _RHYTHM_SHARE:
            extract = melodies.melody(scope, rng, bars=_BARS)
            if extract is None or not _plain(extract.score) or not _adds_up(extract.score):
                continue
            credit, score = extract.credit, extract.score
        stave = score.staves[0]
        places = list(range(1, len(stave.bars) - 1) if score.anacrusis else range(len(stave.bars)))
        rng.shuffle(places)
        bars = list(stave.bars)
        spoilt: list[int] = []
        for place in places:
            wrong = _spoilt(bars[place], scope, rng) if len(spoilt) < count else None
            if wrong is not None:
                bars[place] = wrong
                spoilt.append(place)
        if len(spoilt) == count:
            shown = replace(score, staves=(replace(stave, bars=tuple(bars)),), numbered=True)
            return shown, tuple(sorted(score.bar_number(place) for place in spoilt)), credit
    return None


def _plain(score: Score) -> bool:
    """Whether the music is one line in one metre, without grace notes and whole-bar rests."""
    return len(score.staves) == 1 and all(
        len(bar.voices) == 1
        and (bar.time, bar.fifths, bar.clef) == (None, None, None)
        and all(
            (isinstance(event, Note) and not event.grace) or (isinstance(event, Rest) and not event.whole_bar)
            for event in bar.events
        )
        for bar in score.staves[0].bars
    )


def _adds_up(score: Score) -> bool:
    """Whether every bar is full to begin with; an upbeat and the last bar may share one."""
    stave = score.staves[0]
    if stave.time is None:
        return False
    held = [sum(event.ticks for event in bar.events) for bar in stave.bars]
    if score.anacrusis:
        upbeat, *held = held
        if held and held[-1] == stave.time.ticks - upbeat:
            held.pop()
    return bool(held) and all(length == stave.time.ticks for length in held)


def _rhythm(scope: Scope, rng: Random) -> Score:
    time = pick_time(scope, rng)
    bars: list[Bar] = []
    number = 0
    for index in range(_BARS):
        row: list[Event] = []
        for value in beamed(rhythm_bar(scope, rng, time), time):
            number += 1
            row.append(Note(Pitch("B", 0, 4), value.duration, f"n{number}", beam=value.beam))
        bars.append(Bar((tuple(row),), line="final" if index == _BARS - 1 else "single"))
    return Score((Stave("treble", tuple(bars), time=time),), numbered=True)


def _spoilt(bar: Bar, scope: Scope, rng: Random) -> Bar | None:
    """The bar with one value changed: twice or half as long, a dot put on or taken away."""
    events = bar.events
    places = [
        at for at, event in enumerate(events) if event.duration.tuplet is None and not getattr(event, "tie", False)
    ]
    if not places or len(events) < _FEWEST:
        return None
    at = rng.choice(places)
    changed = rng.choice(_others(events[at].duration, scope) or [None])
    if changed is None:
        return None
    event = events[at]
    row = (*events[:at], replace(event, duration=changed), *events[at + 1 :])
    return replace(bar, voices=(_beams(row),), free=True)


def _others(old: Duration, scope: Scope) -> list[Duration]:
    place = VALUES.index(old.type)
    found: list[Duration] = []
    for near in (place - 1, place + 1):
        if 0 <= near < len(VALUES) and VALUES[near] in scope.values:
            found.append(Duration(VALUES[near], old.dots))
    if old.dots:
        found += [Duration(old.type)] * 2
    elif old.type != "breve" and place + 1 < len(VALUES) and VALUES[place + 1] in scope.values:
        found += [Duration(old.type, 1)] * 2
    return found


def _beams(row: Sequence[Event]) -> tuple[Event, ...]:
    """Beams end where a note has lost its tail; a beam of one note is none."""
    numbers: list[int | None] = []
    last: int | None = None
    group = 0
    for event in row:
        beam = event.beam if isinstance(event, Note) and event.duration.tails else None
        if isinstance(event, Rest):
            numbers.append(None)
            continue
        if beam is not None and beam != last:
            group += 1
        last = beam
        numbers.append(None if beam is None else group)
    return tuple(
        replace(event, beam=number if numbers.count(number) > 1 else None) if isinstance(event, Note) else event
        for event, number in zip(row, numbers, strict=True)
    )
