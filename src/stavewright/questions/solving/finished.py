"""Example answers to a melody that is to be finished, composed by rule, and the ways such an answer is spoilt."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache
from random import Random

from stavewright.composing.finishing import WAYS, finish_melody
from stavewright.composing.performance import perform
from stavewright.questions.errors import BadDocument
from stavewright.questions.score_document import ScoreDocument
from stavewright.questions.score_mirror import document_of, score_of
from stavewright.questions.solving.melody_report import melody_report
from stavewright.score.event import Event, Note
from stavewright.score.stave import Bar, Score
from stavewright.score.writing import with_accidentals
from stavewright.theory.clef import CLEFS
from stavewright.theory.degree import Degree, degree_of
from stavewright.theory.duration import Duration
from stavewright.theory.instrument import Instrument, instrument
from stavewright.theory.key import Key
from stavewright.theory.pitch import Pitch

_TRIES = 12
_TEMPI = ("Andante", "Moderato")
_LEDGERS = (-4, 12)
_MELODY_STEPS = 7


@lru_cache(maxsize=256)
def examples(opening: ScoreDocument, key: str, player: str) -> tuple[ScoreDocument, ...]:
    """Finish a melody in one way or two: the second half begins like the first, or with its rhythm on other notes.

    Raises:
        BadDocument: no melody that keeps the rules goes on from this opening.
    """
    start, tonality, one = score_of(opening), Key.parse(key), instrument(player)
    low, high = _span(start.staves[0].clef, one)
    found: list[ScoreDocument] = []
    for way, tempo in zip(WAYS, _TEMPI, strict=True):
        for turn in range(_TRIES):
            rng = Random(f"{way}/{turn}")
            made = finish_melody(start, rng, key=tonality, low=low, high=high, way=way)
            if made is None:
                continue
            whole = document_of(perform(made, rng, tempo=tempo))
            if whole not in found and not any(one.lost for one in melody_report(whole, opening, tonality, one)):
                found.append(whole)
                break
    if not found:
        raise BadDocument(f"no melody for {player} in {key} goes on from this opening: choose another one")
    return tuple(found)


def _span(clef: str, player: Instrument) -> tuple[Pitch, Pitch]:
    """The notes that an example keeps to: easy for the player, and not far from the stave."""
    low, high = (CLEFS[clef].pitch_at(place) for place in _LEDGERS)
    if player.usual is not None:
        low = max(low, player.written(player.usual.low), key=lambda pitch: pitch.midi)
        high = min(high, player.written(player.usual.high), key=lambda pitch: pitch.midi)
    return low, high


@lru_cache(maxsize=256)
def spoilt(
    whole: ScoreDocument, opening: ScoreDocument, key: Key, player: Instrument
) -> tuple[tuple[str, ScoreDocument, str], ...]:
    """The ways a good answer is spoilt: what was forgotten, the answer it gives, and what to tell the pupil."""
    return tuple(_spoilt(whole, opening, key, player))


def _spoilt(
    whole: ScoreDocument, opening: ScoreDocument, key: Key, player: Instrument
) -> Iterator[tuple[str, ScoreDocument, str]]:
    score = score_of(whole)
    first, led = len(opening.staves[0].bars), int(opening.anacrusis)
    home = key.tonic.text
    bars = score.staves[0].bars
    yield "not ended on the tonic", _with(score, [*bars[:-1], _moved(bars[-1], 1, key)]), f"End on {home}, the tonic."
    yield "last bar left out", _with(score, bars[:-1]), "Count the bars: the melody needs eight."
    again = [*bars[:led], *(bars[led:first] * 4)]
    copied = [replace(bar, directions=later.directions) for bar, later in zip(again, bars, strict=True)]
    yield "opening copied all through", _with(score, copied), "Take up the rhythm, but lead the tune on and home."
    plain = [_unsigned(bar) for bar in bars]
    yield "signs left out", _with(score, plain), "Tell the player how fast, how loud and what to slur."
    if led and isinstance(bars[-1].events[-1], Note):
        last = bars[-1].events[-1]
        more = (Note(last.pitch, event.duration) for event in bars[0].events)
        full = replace(bars[-1], voices=((*bars[-1].events, *more),))
        yield "upbeat not taken off", _with(score, [*bars[:-1], full]), "The last bar leaves out what the upbeat took."
    over = [*bars[: first + 2], _longer(bars[first + 2]), *bars[first + 3 :]]
    yield "a bar too long", _with(score, over), "Add up the values of every bar."
    if key.is_minor:
        natural = [_lowered(bar, key) for bar in bars]
        yield "leading note not raised", _with(score, natural), f"In {key.text} raise the 7th: {key.leading_note.text}."
    down = 1
    limit = None if player.limits is None else player.written(player.limits.low)
    low = min(note.pitch.diatonic for note in score.notes())
    while limit is not None and low - _MELODY_STEPS * down >= limit.diatonic and down < 4:
        down += 1
    deep = [*bars[:first], *(_moved(bar, -_MELODY_STEPS * down, key) for bar in bars[first:])]
    yield "range forgotten", _with(score, deep), f"Know the lowest and the highest note of the {player.name}."


def _with(score: Score, bars: list[Bar] | tuple[Bar, ...]) -> ScoreDocument:
    """The score with other bars, its signs written anew and no id twice."""
    plain = tuple(
        replace(bar, voices=(tuple(replace(event, id="") for event in bar.events),), free=True) for bar in bars
    )
    return document_of(with_accidentals(replace(score, staves=(replace(score.staves[0], bars=plain),))))


def _moved(bar: Bar, steps: int, key: Key) -> Bar:
    """A bar moved by steps of the scale."""
    row: list[Event] = []
    for event in bar.events:
        if isinstance(event, Note):
            pitch = Pitch.from_diatonic(event.pitch.diatonic + steps)
            alter = event.pitch.alter if steps % _MELODY_STEPS == 0 else key.alter_of(pitch.step)
            row.append(replace(event, pitch=Pitch(pitch.step, alter, pitch.octave)))
        else:
            row.append(event)
    return replace(bar, voices=(tuple(row),))


def _unsigned(bar: Bar) -> Bar:
    row = tuple(replace(event, slur=None) if isinstance(event, Note) else event for event in bar.events)
    return replace(bar, voices=(row,), directions=())


def _longer(bar: Bar) -> Bar:
    last = bar.events[-1]
    extra = Note(last.pitch, Duration("crotchet")) if isinstance(last, Note) else last
    return replace(bar, voices=((*bar.events, extra),))


def _lowered(bar: Bar, key: Key) -> Bar:
    row = [
        replace(event, pitch=Pitch(event.pitch.step, event.pitch.alter - 1, event.pitch.octave))
        if isinstance(event, Note) and degree_of(event.pitch, key) == Degree(7, 1)
        else event
        for event in bar.events
    ]
    return replace(bar, voices=(tuple(row),))
