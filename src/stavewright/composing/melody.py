"""Melodies by rule: a key that can be proved, question and answer, one climax, a cadence."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from random import Random

from stavewright.composing.errors import CannotCompose
from stavewright.composing.ground import Ground, ground_of
from stavewright.composing.plan import plan_bars
from stavewright.composing.rhythm import Means, Rhythm, rhythm_on
from stavewright.composing.shaping import shape
from stavewright.composing.spelling import singable, spell
from stavewright.composing.writing import write
from stavewright.score.stave import Score
from stavewright.theory.degree import Degree, degree_of
from stavewright.theory.duration import VALUES
from stavewright.theory.key import Key
from stavewright.theory.key_proof import prove_key
from stavewright.theory.metre import TimeSignature
from stavewright.theory.pitch import STEPS, Pitch

WANTS = ("sequence", "scale-run", "syncopation", "triplet", "tuplet")
"""What a melody may be asked to hold, for questions that look for it."""

_TRIES = 300
_RAISED_SIXTH = Degree(6, 1)


@dataclass(frozen=True, slots=True)
class Melody:
    """A composed melody on one stave, and the key its notes prove."""

    score: Score
    key: Key


def compose_melody(
    rng: Random,
    *,
    key: Key,
    time: TimeSignature,
    clef: str = "treble",
    low: Pitch,
    high: Pitch,
    bars: int = 4,
    values: Sequence[str] = VALUES,
    dots: int = 1,
    anacrusis: bool = False,
    tuplets: Sequence[int] = (),
    rests: bool = False,
    wanted: Sequence[str] = (),
    numbered: bool = False,
) -> Melody:
    """Compose a melody of so many whole bars that proves its key and keeps the rules of docs/composing.md.

    `low` and `high` bound the range, `values`, `dots` and `tuplets` the rhythm; `anacrusis` begins with a pick-up that
    the last bar repays; `wanted` names things the melody must hold, from WANTS.

    Raises:
        CannotCompose: the range is narrower than an octave about the tonic, the values fill no bar, or an unknown want.

    >>> made = compose_melody(
    ...     Random(1), key=Key.parse("G"), time=TimeSignature(3, 4), low=Pitch.parse("C4"), high=Pitch.parse("A5")
    ... )
    >>> len(made.score.staves[0].bars), list(made.score.notes())[-1].pitch.step
    (4, 'G')
    """
    for want in wanted:
        if want not in WANTS:
            raise CannotCompose(f"a melody cannot be asked for {want!r}", right=f"use {', '.join(WANTS)}")
    tonics = _tonics(key, low, high, clef)
    means = Means(frozenset(values), min(dots, 1), tuple(tuplets), rests, frozenset(wanted))
    ground, rhythm = _outline(bars, time, means, rng, anacrusis)
    for turn in range(1, _TRIES):
        if turn % 4 == 0 or not _ends_long(rhythm):
            ground, rhythm = _outline(bars, time, means, rng, anacrusis)
        if not _ends_long(rhythm):
            continue
        tonic = tonics[0] if len(tonics) == 1 else rng.choice(tonics)
        shaped = shape(ground, low.diatonic - tonic, high.diatonic - tonic, key.is_minor, means.wanted, rng)
        if shaped is None:
            continue
        pitches = spell(key, tonic, shaped.steps, shaped.roots, shaped.breaths)
        if key.is_minor and any(degree_of(pitches[one], key) == _RAISED_SIXTH for one in shaped.heavy):
            continue
        if [pitch.midi for pitch in pitches].count(max(pitch.midi for pitch in pitches)) > 1:
            continue  # two notes share the climax
        if singable(pitches, shaped.breaths) and prove_key(pitches, key.fifths).key == key:
            return Melody(write(rhythm, pitches, key, clef, numbered=numbered), key)
    raise CannotCompose(
        f"no melody of {bars} bars in {key.text} and {time.text} between {low.short} and {high.short}",
        right="widen the range or allow more values",
    )


def _ends_long(rhythm: Rhythm) -> bool:
    """Whether the last note is held for half its bar or more, the values tied to it counted in."""
    whole = sum(value.duration.ticks for value in rhythm.bars[-1])
    return 2 * sum(value.duration.ticks for value in rhythm.bars[-1] if not value.rest) >= whole


def _outline(bars: int, time: TimeSignature, means: Means, rng: Random, anacrusis: bool) -> tuple[Ground, Rhythm]:
    plans = plan_bars(bars, rng, sequence="sequence" in means.wanted)
    rhythm = rhythm_on(plans, time, means, rng, anacrusis=anacrusis)
    return ground_of(plans, rhythm), rhythm


def _tonics(key: Key, low: Pitch, high: Pitch, clef: str) -> list[int]:
    """The diatonic places the tonic may have, so that a 7th below and a 5th above it are in range."""
    index = STEPS.index(key.tonic.step)
    places = [
        place
        for place in range(low.diatonic + 1, high.diatonic - 4)
        if place % 7 == index and high.diatonic - place >= 5
    ]
    if not places:
        raise CannotCompose(
            f"no tonic of {key.text} has room between {low.short} and {high.short} in the {clef} clef",
            right="give a range of a 10th or more",
        )
    centre = (low.diatonic + high.diatonic) / 2
    near = [place for place in places if -7 <= place - centre <= 2]
    return near or places
