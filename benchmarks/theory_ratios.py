"""Theory against music21, from objects, music21 making a new object each time."""

from __future__ import annotations

from collections.abc import Callable
from random import Random
from typing import NamedTuple

from music21 import interval, note, pitch, scale, stream

from benchmarks.timing import best
from stavewright.theory.interval import Interval, between
from stavewright.theory.key_proof import prove_key
from stavewright.theory.pitch import NoteName, Pitch
from stavewright.theory.scale import scale_names
from stavewright.theory.transposition import transpose

MELODY = "G4 A4 B4 C5 D5 E5 F#5 G5 F#5 E5 D5 C5 B4 A4 G4 F#4 G4 B4 D5 G5 D5 B4 A4 G4"
"""A tune of our own in G major."""


class Ratio(NamedTuple):
    """One operation: how many times faster than music21, and the least that was asked."""

    what: str
    ratio: float
    floor: float
    ours_us: float


def ratios() -> list[Ratio]:
    """Interval naming, transposition, harmonic minor scale, key of a melody of 24 notes."""
    return [_intervals(), _transpositions(), _scales(), _keys()]


def _ratio(what: str, floor: float, calls: int, ours: Callable[[], object], theirs: Callable[[], object]) -> Ratio:
    mine = best(ours, number=20) / calls
    return Ratio(what, best(theirs, repeat=3) / calls / mine, floor, mine * 1e6)


def _pairs() -> list[tuple[Pitch, Pitch]]:
    rng = Random("benchmark")
    drawn = [
        (rng.choice("CDEFGAB"), rng.randint(-1, 1), rng.randint(3, 4), rng.choice("CDEFGAB"), rng.randint(-1, 1))
        for _ in range(200)
    ]
    return [(Pitch(a, b, octave), Pitch(c, d, 5)) for a, b, octave, c, d in drawn]


def _theirs(one: Pitch) -> pitch.Pitch:
    return pitch.Pitch(one.short.replace("b", "-"))


def _intervals() -> Ratio:
    pairs = _pairs()
    others = [(_theirs(low), _theirs(high)) for low, high in pairs]

    def ours() -> None:
        for low, high in pairs:
            _ = between(low, high).short

    def theirs() -> None:
        for low, high in others:
            _ = interval.Interval(low, high).name

    return _ratio("naming an interval", 10, len(pairs), ours, theirs)


def _transpositions() -> Ratio:
    third, other_third = Interval("m", 3), interval.Interval("m3")
    row = [low for low, _ in _pairs()]
    others = [_theirs(one) for one in row]

    def ours() -> None:
        for one in row:
            transpose(one, third)

    def theirs() -> None:
        for one in others:
            one.transpose(other_third)

    return _ratio("transposing a note", 20, len(row), ours, theirs)


def _scales() -> Ratio:
    tonics = [NoteName(step, alter) for step in "CDEFGA" for alter in (0, 1)]
    others = [pitch.Pitch(tonic.short + "4") for tonic in tonics]

    def ours() -> None:
        for tonic in tonics:
            scale_names(tonic, "harmonic minor")

    def theirs() -> None:
        for tonic in others:
            scale.HarmonicMinorScale(tonic).getPitches()

    return _ratio("a harmonic minor scale", 50, len(tonics), ours, theirs)


def _keys() -> Ratio:
    row = [Pitch.parse(text) for text in MELODY.split()]
    others = stream.Part()
    for one in row:
        others.append(note.Note(one.short))
    return _ratio("the key of a melody of 24 notes", 100, 1, lambda: prove_key(row, 1), lambda: others.analyze("key"))
