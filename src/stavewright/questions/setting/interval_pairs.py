"""Picking two notes that make a wanted interval, within a scope: above a tonic, or anywhere on the stave."""

from __future__ import annotations

from functools import lru_cache
from random import Random

from stavewright.questions.setting.picking import pick, pick_clef
from stavewright.syllabus.scope import Scope
from stavewright.theory.interval import Interval
from stavewright.theory.key import Key
from stavewright.theory.pitch import Pitch
from stavewright.theory.transposition import transpose

_QUALITIES = {"major": "M", "minor": "m", "perfect": "P", "augmented": "A", "diminished": "d"}
_IN_MAJOR = ("M2", "M3", "P4", "P5", "M6", "M7", "P8")
# What a minor key's harmonic and melodic forms put above the tonic. Source: Gehrkens, Music Notation and Terminology
# (1914) §§86-88.
_IN_MINOR = {
    "harmonic minor": ("M2", "m3", "P4", "P5", "m6", "M7", "P8"),
    "melodic minor": ("M2", "m3", "P4", "P5", "M6", "m6", "M7", "m7", "P8"),
    "natural minor": ("M2", "m3", "P4", "P5", "m6", "m7", "P8"),
}
# Those a pupil meets between the notes of real music; the others are left to the doubly altered (common practice).
_USUAL = (*_IN_MAJOR, "m2", "m3", "m6", "m7", "A4", "d5", "A2", "d7", "A5", "A6", "d4")
_RARE = ("A1", "A3", "d3", "d6", "d8", "A8")
_RARE_SHARE = 0.1
_TRIES = 40


@lru_cache(maxsize=32)
def tonic_intervals(scope: Scope, mode: str) -> tuple[Interval, ...]:
    """The intervals from the tonic up to the notes of its key, of the qualities that the scope asks."""
    names = _IN_MAJOR if mode == "major" else tuple(n for form in scope.minor_forms for n in _IN_MINOR[form])
    asked = {_QUALITIES[kind] for kind in scope.intervals.kinds}
    if not scope.intervals.quality:
        asked |= {"M", "m", "P"}
    return tuple(Interval.parse(name) for name in dict.fromkeys(names) if name[0] in asked)


@lru_cache(maxsize=16)
def free_intervals(scope: Scope, *, rare: bool = False) -> tuple[Interval, ...]:
    """The intervals between any two notes that the scope asks, compounds (to the 13th) where it allows them."""
    asked = {_QUALITIES[kind] for kind in scope.intervals.kinds}
    simple = [Interval.parse(name) for name in (_RARE if rare else _USUAL) if name[0] in asked]
    if rare or not scope.intervals.compound:
        return tuple(simple)
    plain = [one for one in simple if one.number <= 6 and one.quality in ("P", "M", "m")]
    wide = [Interval(one.quality, one.number + 7) for one in plain]
    return (*simple, *wide)


@lru_cache(maxsize=16)
def _fresh(scope: Scope) -> tuple[Interval, ...]:
    """What the grade has added: compounds, else augmented and diminished ones."""
    every = free_intervals(scope)
    wide = tuple(one for one in every if one.is_compound)
    return wide or tuple(one for one in every if one.quality in ("A", "d"))


@lru_cache(maxsize=2048)
def lower_notes(scope: Scope, clef: str, interval: Interval, tonic: Key | None = None) -> tuple[Pitch, ...]:
    """Every lower note of a clef that leaves room above for the interval, both ends spelt as the scope allows."""
    low, high = scope.range_of(clef)
    alters = {0, *scope.alters}
    found: list[Pitch] = []
    for diatonic in range(low.diatonic, high.diatonic - interval.steps + 1):
        natural = Pitch.from_diatonic(diatonic)
        if tonic is not None:
            if natural.step != tonic.tonic.step:
                continue
            starts = [natural.altered(tonic.tonic.alter)]
        else:
            starts = [natural.altered(alter) for alter in (-1, 0, 1)]
        for start in starts:
            end = transpose(start, interval)
            if end.alter in alters and (tonic is not None or not (_odd(start) or _odd(end))):
                found.append(start)
    return tuple(found)


def _odd(pitch: Pitch) -> bool:
    """E sharp, B sharp, C flat, F flat: kept for scales and keys."""
    return (pitch.step, pitch.alter) in {("E", 1), ("B", 1), ("C", -1), ("F", -1)}


def above_tonic(scope: Scope, rng: Random, key: Key) -> tuple[str, Interval, Pitch] | None:
    """A clef, an interval of the key and the tonic to stand on, or None where no clef has room."""
    for _ in range(_TRIES):
        clef = pick_clef(scope, rng)
        interval = rng.choice(tonic_intervals(scope, key.mode))
        starts = lower_notes(scope, clef, interval, key)
        if starts:
            return clef, interval, rng.choice(starts)
    return None


def anywhere(scope: Scope, rng: Random) -> tuple[str, Interval, Pitch] | None:
    """A clef, an interval of the scope and its lower note, or None where no clef has room."""
    for _ in range(_TRIES):
        clef = pick_clef(scope, rng)
        rare = rng.random() < _RARE_SHARE
        every = free_intervals(scope, rare=rare)
        interval = rng.choice(every) if rare and every else pick(rng, free_intervals(scope), _fresh(scope))
        starts = lower_notes(scope, clef, interval)
        if starts:
            return clef, interval, rng.choice(starts)
    return None


@lru_cache(maxsize=16)
def pair_count(scope: Scope, *, unisons: bool = False) -> int:
    """How many different pairs of notes the two pickers can give, the clef told apart; or only the unisons of them."""
    if scope.intervals.above_tonic:
        return sum(
            len(lower_notes(scope, clef, interval, key))
            for clef in scope.clefs
            for key in scope.keys
            for interval in tonic_intervals(scope, key.mode)
        )
    every = dict.fromkeys((*free_intervals(scope), *free_intervals(scope, rare=True)))
    wanted = [one for one in every if one.number == 1] if unisons else list(every)
    return sum(len(lower_notes(scope, clef, one)) for clef in scope.clefs for one in wanted)


@lru_cache(maxsize=16)
def number_count(scope: Scope) -> int:
    """How many tonics and numbers there are to write, the 6th and 7th of a minor key left out."""
    found: set[tuple[str, str, Pitch, int]] = set()
    for clef in scope.clefs:
        for key in scope.keys:
            for interval in tonic_intervals(scope, key.mode):
                if not (key.is_minor and interval.number in (6, 7)):
                    starts = lower_notes(scope, clef, interval, key)
                    found.update((clef, key.text, start, interval.number) for start in starts)
    return len(found)
