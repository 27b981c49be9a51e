"""Placing triads on a stave within a scope: every bass note that leaves room for the chord in close position."""

from __future__ import annotations

from functools import lru_cache

from stavewright.syllabus.scope import Scope
from stavewright.theory.chord import ChordLabel, chord_notes
from stavewright.theory.key import Key
from stavewright.theory.pitch import NoteName, Pitch


@lru_cache(maxsize=4096)
def close_chords(scope: Scope, clef: str, key: Key, label: ChordLabel) -> tuple[tuple[Pitch, ...], ...]:
    """The chord of a label in close position wherever it fits the clef's range, lowest first."""
    low, high = scope.range_of(clef)
    names = chord_notes(key, label)
    if not all(name.alter in scope.alters or not name.alter for name in names):
        return ()
    found: list[tuple[Pitch, ...]] = []
    for diatonic in range(low.diatonic, high.diatonic + 1):
        if Pitch.from_diatonic(diatonic).step == names[0].step:
            chord = stacked(names, diatonic)
            if chord[-1].diatonic <= high.diatonic:
                found.append(chord)
    return tuple(found)


def stacked(names: tuple[NoteName, ...], lowest: int) -> tuple[Pitch, ...]:
    """Put note names one above the other, each as near as may be to the one below, from a line or space upwards."""
    chord: list[Pitch] = []
    place = lowest
    for name in names:
        place += (name.index - place) % 7 if not chord else ((name.index - place - 1) % 7) + 1
        chord.append(Pitch.from_diatonic(place, name.alter))
    return tuple(chord)


@lru_cache(maxsize=64)
def chord_count(scope: Scope, labels: tuple[ChordLabel, ...], keys: tuple[Key, ...] | None = None) -> int:
    """How many chords in close position there are to ask, clef, key and place told apart; in all keys, or in some."""
    among = scope.keys if keys is None else keys
    return sum(len(close_chords(scope, clef, key, label)) for clef in scope.clefs for key in among for label in labels)
