"""Composed music to look at: a melody for a seed in the scope of some grade, and its notes with ties joined."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

from stavewright.composing.errors import CannotCompose
from stavewright.composing.melody import Melody, compose_melody
from stavewright.score.event import Note
from stavewright.score.stave import Score
from stavewright.syllabus.scope import Scope, scope_for
from stavewright.theory.metre import TimeSignature
from stavewright.theory.pitch import Pitch


@dataclass(frozen=True)
class Sound:
    """A sounding note, tied notes as one: its pitch, its bar (from 0), its start in the bar and its length in ticks."""

    pitch: Pitch
    bar: int
    start: int
    ticks: int


@dataclass(frozen=True)
class Case:
    """A composed melody and what was asked for."""

    melody: Melody
    scope: Scope
    time: TimeSignature
    clef: str
    low: Pitch
    high: Pitch
    bars: int
    pickup: int

    @property
    def score(self) -> Score:
        """The score."""
        return self.melody.score

    @property
    def sounds(self) -> list[Sound]:
        """The sounding notes in order."""
        return sounds_of(self.score, self.time)

    @property
    def breath(self) -> int | None:
        """The index of the first note of the answer (its pick-up included), where there is a half close."""
        if self.bars < 4 or self.bars % 2:
            return None
        middle = self.bars // 2 - 1 + bool(self.pickup)
        last = max(index for index, sound in enumerate(self.sounds) if sound.bar == middle)
        return last + 1 - (self.pickup_notes if self.pickup else 0)

    @property
    def pickup_notes(self) -> int:
        """How many notes the pick-up has."""
        return len(self.score.staves[0].bars[0].events)


def sounds_of(score: Score, time: TimeSignature) -> list[Sound]:
    """The sounding notes of a melody, tied notes joined."""
    found: list[Sound] = []
    joined = False
    bars = score.staves[0].bars
    for number, bar in enumerate(bars):
        place = time.ticks - sum(event.ticks for event in bar.events) if score.anacrusis and number == 0 else 0
        for event in bar.events:
            if isinstance(event, Note):
                if joined:
                    before = found.pop()
                    found.append(Sound(before.pitch, before.bar, before.start, before.ticks + event.ticks))
                else:
                    found.append(Sound(event.pitch, number, place, event.ticks))
                joined = event.tie
            place += event.ticks
    return found


def compose(seed: int, bars: int | None = None, **more: object) -> Case:
    """A melody for a seed: grade, clef, key, time, length, pick-up and rests all chosen by it."""
    rng = Random(seed)
    for _ in range(20):
        scope = scope_for(rng.choice((1, 2, 3, 4, 5)))
        clef = rng.choice(scope.clefs)
        low, high = scope.range_of(clef)
        time = rng.choice(scope.time_signatures)
        length = bars or rng.choice((2, 4, 8))
        asked: dict[str, object] = {
            "key": rng.choice(scope.keys),
            "time": time,
            "clef": clef,
            "low": low,
            "high": high,
            "bars": length,
            "values": scope.values,
            "tuplets": scope.tuplets,
            "anacrusis": rng.random() < 0.4,
            "rests": rng.random() < 0.5,
        }
        try:
            melody = compose_melody(rng, **{**asked, **more})  # type: ignore[arg-type]
        except CannotCompose:
            continue
        pick = melody.score.staves[0].bars[0].events if melody.score.anacrusis else ()
        return Case(melody, scope, time, clef, low, high, length, sum(event.ticks for event in pick))
    raise AssertionError(f"nothing composed in twenty tries for {seed}")
