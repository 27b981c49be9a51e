"""A rule report on a melody written for verse: the criteria of its rhythm, then range, key, opening, cadence, shape."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from stavewright.questions.criterion import Criterion, criterion
from stavewright.questions.score_document import ScoreDocument
from stavewright.questions.score_mirror import score_of
from stavewright.questions.solving.verse_report import TOO_LITTLE, UNFINISHED, bars_of, rhythm_criteria, struck
from stavewright.questions.solving.written_melody import as_heard
from stavewright.questions.values import WrittenValue
from stavewright.score.event import Chord, Event, Note, Rest
from stavewright.score.stave import Stave
from stavewright.theory.degree import degree_number, degree_of
from stavewright.theory.duration import of_ticks
from stavewright.theory.interval import between
from stavewright.theory.key import Key
from stavewright.theory.metre import TimeSignature
from stavewright.theory.pitch import Pitch
from stavewright.theory.verse import Syllable
from stavewright.theory.voice import Voice

RHYTHM = {"syllables": 1, "bars": 1, "stress": 2, "ends": 1}
"""The criteria of the rhythm and the marks of each; the five of the tune have one each."""
_TONIC_CHORD = (1, 3, 5)
_HALFWAY = (1, 2, 3, 5, 7)
"""Degrees on which a first line can rest: of the tonic chord or the dominant chord."""
_APPROACH = (2, 4, 5, 6, 7)
"""Degrees that lead to a closing tonic: of the dominant chord, its seventh, or of the subdominant chord."""
_FIFTH, _OCTAVE, _SEVENTH = 4, 7, 6
_MOST_ALIKE = 4


@dataclass(frozen=True, slots=True)
class Heard:
    """A note of the tune that is struck: its pitch as it sounds, and the name of its bar."""

    pitch: Pitch
    bar: str

    @property
    def name(self) -> str:
        """The note and where it is."""
        return f"{self.bar}: {self.pitch.name.text}"


def rhythm_of(stave: Stave, time: TimeSignature) -> tuple[tuple[WrittenValue, ...], tuple[int, ...]]:
    """The rhythm of a stave, first voice only, and after how many values each of its bar lines stands."""
    row: list[WrittenValue] = []
    lines: list[int] = []
    for bar in stave.bars:
        row += [_value(event, time) for event in bar.events]
        lines.append(len(row))
    return tuple(row), tuple(lines[:-1])


def _value(event: Event, time: TimeSignature) -> WrittenValue:
    if isinstance(event, Note | Chord):
        return WrittenValue.of(event.duration, tie=event.tie)
    whole = of_ticks(time.ticks) if isinstance(event, Rest) and event.whole_bar else None
    return WrittenValue.of(whole or event.duration, rest=True)


@lru_cache(maxsize=512)
def tune_report(
    answer: ScoreDocument, lines: tuple[tuple[Syllable, ...], ...], time: TimeSignature, key: Key, voice: Voice
) -> tuple[Criterion, ...]:
    """Judge a melody for two lines of verse by the signs it is printed with; ten marks in all.

    Source of the criteria: common practice of a simple song (notes of the key and of the voice, a beginning on the
    tonic chord, a rest halfway, a close on the tonic, no leap that is hard to sing).
    """
    stave = score_of(answer).staves[0]
    row, bar_lines = rhythm_of(stave, time)
    rhythm = rhythm_criteria(lines, row, bar_lines, time, RHYTHM)
    events = [event for bar in as_heard(stave).bars for event in bar.events]
    heard: list[Heard] = []
    for note in struck(bars_of(row, bar_lines, time)):
        event = events[note.index]
        if isinstance(event, Note | Chord):
            heard.append(Heard(event.pitches[-1], note.bar.name))
    halfway = heard[len(lines[0]) - 1] if len(heard) == sum(map(len, lines)) else None
    tune: tuple[Criterion, ...] = (
        _range(heard, voice),
        _key(heard, stave.fifths or 0, key),
        _opening(heard, key),
        _cadence(heard, halfway, key),
        _shape(heard),
    )
    if rhythm[0].why in (TOO_LITTLE, UNFINISHED):
        gone = [one for one in tune if rhythm[0].why == TOO_LITTLE or one.name in ("cadence", "shape")]
        tune = tuple(
            criterion(one.name, one.of, one.of, one.earns, rhythm[0].why) if one in gone else one for one in tune
        )
    return (*rhythm, *tune)


def _one(name: str, earns: str, fault: str, fine: str) -> Criterion:
    return criterion(name, 1, int(bool(fault)), earns, fault or fine)


def _range(heard: Sequence[Heard], voice: Voice) -> Criterion:
    singer = f"{'an' if voice.name[0] in 'aeiou' else 'a'} {voice.name}"
    off = next((note for note in heard if not voice.can_reach(note.pitch)), None)
    side = "low" if off is not None and off.pitch.midi < voice.low.midi else "high"
    fault = "" if off is None else f"{off.name} is too {side} for {singer}"
    return _one("range", f"{singer.capitalize()} can sing every note.", fault, f"it suits {singer}")


def _key(heard: Sequence[Heard], fifths: int, key: Key) -> Criterion:
    """The notes belong to the key, and the 7th of a minor key is raised where it rises to the tonic."""
    fault = "" if fifths == key.fifths else f"the key signature is not that of {key.text}"
    for one, other in pairwise(heard):
        rises = key.is_minor and other.pitch.diatonic - one.pitch.diatonic == 1
        seventh = degree_of(one.pitch, key)
        if rises and other.pitch.name == key.tonic and (seventh.number, seventh.alter) == (7, 0):
            fault = fault or f"{one.name}: the leading note {key.leading_note.text} is not raised"
    foreign = next((note for note in heard if degree_number(note.pitch, key) is None), None)
    if foreign is not None:
        fault = fault or f"{foreign.name} does not belong to {key.text}"
    return _one("key", f"The notes belong to {key.text}, with its signature.", fault, f"it stays in {key.text}")


def _opening(heard: Sequence[Heard], key: Key) -> Criterion:
    first = heard[0] if heard else None
    good = first is not None and _degree(first, key) in _TONIC_CHORD
    fault = "" if good else "it begins with nothing" if first is None else f"it begins on {first.pitch.name.text}"
    fine = "" if first is None else f"it begins on {first.pitch.name.text}, of the tonic chord"
    return _one("opening", "It begins on a note of the tonic chord.", fault, fine)


def _degree(note: Heard, key: Key) -> int | None:
    """The degree of a note of the key: natural and raised forms alike."""
    return degree_number(note.pitch, key)


def _cadence(heard: Sequence[Heard], halfway: Heard | None, key: Key) -> Criterion:
    """The last note is the tonic, reached from a note that leads there; the first line rests on one of I or V."""
    home = key.tonic.text
    before = [note for note in heard if note.pitch.name != key.tonic]
    fault = ""
    if not heard or heard[-1].pitch.name != key.tonic:
        fault = f"it ends on {heard[-1].pitch.name.text if heard else 'nothing'}, not on {home}"
    elif not before or _degree(before[-1], key) not in _APPROACH:
        fault = f"no note of a dominant or subdominant chord leads to the last {home}"
    elif halfway is not None and _degree(halfway, key) not in _HALFWAY:
        fault = f"line 1 ends on {halfway.pitch.name.text}, which is in neither the tonic chord nor the dominant chord"
    earns = f"Line 1 rests on a note of the tonic or dominant chord, and the last note is {home}, well led to."
    fine = "" if fault else f"{before[-1].pitch.name.text} leads to the closing {home}"
    return _one("cadence", earns, fault, fine)


def _shape(heard: Sequence[Heard]) -> Criterion:
    earns = "It moves over a 5th or more, without a leap that is hard to sing or one note all the time."
    return _one("shape", earns, _misshapen(heard), "it rises and falls without a hard leap")


def _misshapen(heard: Sequence[Heard]) -> str:
    places = [note.pitch.diatonic for note in heard]
    for one, other in pairwise(heard):
        size = between(one.pitch, other.pitch)
        steps = abs(other.pitch.diatonic - one.pitch.diatonic)
        if steps > _OCTAVE:
            return f"the leap to {other.pitch.name.text} in {other.bar} is wider than an octave"
        if steps == _SEVENTH or (size.quality.startswith("A") and steps):
            return f"the {size.text} to {other.pitch.name.text} in {other.bar} is hard to sing"
    if not places or max(places) - min(places) < _FIFTH:
        return "it stays within a 4th"
    alike = 1
    for one, other in pairwise(heard):
        alike = alike + 1 if one.pitch == other.pitch else 1
        if alike > _MOST_ALIKE:
            return f"{other.pitch.name.text} comes {alike} times in a row by {other.bar}"
    return ""
