"""Picking keys, clefs, pitches and values within a scope, favouring what the grade has just added."""

from __future__ import annotations

from collections.abc import Sequence
from random import Random
from typing import TypeVar

from stavewright.syllabus.scope import Scope
from stavewright.theory.clef import CLEFS
from stavewright.theory.key import Key
from stavewright.theory.pitch import Pitch

T = TypeVar("T")
_FRESH_SHARE = 1 / 3
_NEAR, _NEAR_SHARE = 4, 0.9


def pick(rng: Random, everything: Sequence[T], fresh: Sequence[T] = ()) -> T:
    """One of `everything`; a third of the time one of `fresh` (what the grade has just added) where there is any.

    >>> pick(Random("a"), ("treble", "bass")) in ("treble", "bass")
    True
    """
    if fresh and rng.random() < _FRESH_SHARE:
        known = [one for one in fresh if one in everything]
        if known:
            return rng.choice(known)
    return rng.choice(everything)


def pick_clef(scope: Scope, rng: Random) -> str:
    """A clef of the grade, the newest favoured."""
    chosen: str = pick(rng, scope.clefs, scope.fresh.get("clefs", ()))
    return chosen


def pick_key(scope: Scope, rng: Random, mode: str | None = None) -> Key | None:
    """A key of the grade (of that mode if given), the newest favoured; None where the grade has no such key."""
    wanted = [key for key in scope.keys if mode in (None, key.mode)]
    if not wanted:
        return None
    fresh = [
        key for key in wanted if key.tonic.short in scope.fresh.get("majors" if key.mode == "major" else "minors", ())
    ]
    return pick(rng, wanted, fresh)


def pick_near_key(scope: Scope, rng: Random) -> Key | None:
    """A key for reading chords: of at most four signs nine times in ten, as the chords are the new thing there."""
    near = [key for key in scope.keys if abs(key.fifths) <= _NEAR]
    return rng.choice(near) if near and rng.random() < _NEAR_SHARE else pick_key(scope, rng)


def pick_pitch(scope: Scope, rng: Random, clef: str, *, alters: Sequence[int] | None = None, margin: int = 0) -> Pitch:
    """A pitch within the clef's range at the grade, altered by one of `alters` (default: those of the grade).

    `margin` keeps so many places off both ends. E sharp, C flat and the like appear only with double signs in scope.
    """
    low, high = scope.range_of(clef)
    allowed = tuple(scope.alters) if alters is None else tuple(alters)
    while True:
        natural = Pitch.from_diatonic(rng.randint(low.diatonic + margin, high.diatonic - margin))
        alter = rng.choice((0, *allowed))
        pitch = Pitch(natural.step, alter, natural.octave)
        rare = (pitch.step, alter) in {("E", 1), ("B", 1), ("C", -1), ("F", -1)}
        if not rare or 2 in scope.alters:
            return pitch


def fits(pitches: Sequence[Pitch], scope: Scope, clef: str) -> bool:
    """Whether all pitches lie within the clef's range at the grade."""
    low, high = scope.range_of(clef)
    return all(low.diatonic <= p.diatonic <= high.diatonic for p in pitches)


def place_of(pitch: Pitch, clef: str) -> int:
    """Lines and spaces above the bottom line (0); below it negative."""
    return CLEFS[clef].place(pitch)
