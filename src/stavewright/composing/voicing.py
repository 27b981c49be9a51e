"""Spacing chords for four voices, and moving from one to the next without a fault."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache
from random import Random
from typing import Final

from stavewright.theory.chord import ChordLabel, chord_notes
from stavewright.theory.interval import between
from stavewright.theory.key import Key
from stavewright.theory.part_writing import check_chord, check_move
from stavewright.theory.pitch import NoteName, Pitch, pitch_at
from stavewright.theory.voice import voice

Voicing = tuple[Pitch, Pitch, Pitch, Pitch]
"""Soprano, alto, tenor and bass of one chord."""

_COMFORT: Final = {"soprano": ("D4", "G5"), "alto": ("G3", "D5"), "tenor": ("D3", "A4"), "bass": ("F2", "C4")}
_WIDEST: Final = {True: 24, False: 19}
"""Semitones between tenor and bass at most: between the hands, and in a choir."""
_HAND: Final = 12
_MIDDLE: Final = Pitch("B", -1, 4).midi
"""Where a soprano part is best begun."""
_LOWEST_HAND: Final = Pitch("F", 0, 3).midi
_MOST_STEPS: Final = (4, 3, 3, 7)
"""Largest move of each voice in letters: a fifth, two fourths, an octave in the bass."""


def _within(name: NoteName, part: str) -> list[Pitch]:
    low, high = (Pitch.parse(end) for end in _COMFORT[part])
    limits = voice(part)
    found = [pitch_at(7 * octave + name.index, name.alter) for octave in range(1, 6)]
    return [one for one in found if low.midi <= one.midi <= high.midi and limits.can_reach(one)]


@lru_cache(maxsize=2048)
def voicings(key: Key, label: ChordLabel, keyboard: bool) -> tuple[tuple[Voicing, float], ...]:
    """Every complete spacing of a chord for four voices, with how far each is from the usual doubling.

    The leading note and the seventh are never doubled; a root position doubles its root for choice, a first inversion
    root or fifth, a second inversion its bass; a diminished triad doubles its third.
    `keyboard` keeps the three upper notes under one hand. Source: common practice.
    """
    names = chord_notes(key, label)
    found: list[tuple[Voicing, float]] = []
    for bass in _within(names[0], "bass"):
        for upper in _uppers(names):
            weight = _doubling(names, upper, label, key)
            if weight is None:
                continue
            for chord in _spaced(bass, upper, keyboard):
                if not check_chord(chord, 0, key):
                    found.append((chord, weight))
    return tuple(found)


def _uppers(names: tuple[NoteName, ...]) -> Iterator[tuple[NoteName, NoteName, NoteName]]:
    seen: set[tuple[NoteName, ...]] = set()
    for soprano in names:
        for alto in names:
            for tenor in names:
                row = (soprano, alto, tenor)
                if row not in seen and {*row, names[0]} == set(names):
                    seen.add(row)
                    yield row


def _doubling(names: tuple[NoteName, ...], upper: Sequence[NoteName], label: ChordLabel, key: Key) -> float | None:
    """How unusual a doubling is (0 the usual one), or None where it is wrong."""
    whole = [names[0], *upper]
    root = names[-label.inversion] if label.inversion else names[0]
    doubled = next((name for name in names if whole.count(name) > 1), None)
    if doubled is None:
        return 0.0
    if doubled == key.leading_note:
        return None
    plain = names[len(names) - label.inversion :] + names[: len(names) - label.inversion]
    place = plain.index(doubled)
    if plain[2].fifths - plain[0].fifths == -6:
        return 0.0 if place == 1 else None
    if label.inversion == 2:
        return 0.0 if place == 2 else None
    if doubled == root:
        return 0.0
    return 1.0 if place == 2 else 2.5


def _spaced(bass: Pitch, upper: Sequence[NoteName], keyboard: bool) -> Iterator[Voicing]:
    for tenor in _within(upper[2], "tenor"):
        if not 0 <= tenor.midi - bass.midi <= _WIDEST[keyboard] or (keyboard and tenor.midi < _LOWEST_HAND):
            continue
        for alto in _within(upper[1], "alto"):
            if not 0 < alto.midi - tenor.midi <= _HAND:
                continue
            for soprano in _within(upper[0], "soprano"):
                if 0 < soprano.midi - alto.midi <= _HAND and not (keyboard and soprano.midi - tenor.midi > _HAND):
                    yield soprano, alto, tenor, bass


def moves_well(before: Voicing, after: Voicing, key: Key, old: ChordLabel, new: ChordLabel) -> bool:
    """Whether one chord may go to the next: no consecutives or overlap, no awkward leap, tendency notes resolved.

    The seventh falls by step or stays; the leading note in an outer voice rises to the tonic when the chord has it.
    Two outer voices do not leap the same way into a perfect interval. Source: common practice.
    """
    for place, (one, other) in enumerate(zip(before, after, strict=True)):
        steps = abs(other.diatonic - one.diatonic)
        if steps > _MOST_STEPS[place] or steps == 6:
            return False
        if one != other and between(one, other).quality not in ("P", "M", "m") and not (place == 3 and steps == 4):
            return False
    if old.seventh:
        seventh = chord_notes(key, ChordLabel(old.degree, seventh=True))[3]
        for one, other in zip(before, after, strict=True):
            if one.name == seventh and old != new and one.diatonic - other.diatonic not in (0, 1):
                return False
    if before[3].name == key.leading_note and new.degree in (1, 6) and after[3].name != key.tonic:
        return False
    soprano, bass = after[0].diatonic - before[0].diatonic, after[3].diatonic - before[3].diatonic
    if soprano * bass > 0 and abs(soprano) > 1 and (after[0].midi - after[3].midi) % 12 in (0, 7):
        return False
    return not check_move(before, after, 1, key)


def _cost(before: Voicing, after: Voicing, doubling: float, rng: Random) -> float:
    inner = sum(abs(other.diatonic - one.diatonic) for one, other in zip(before[:3], after[:3], strict=True))
    bass = abs(after[3].diatonic - before[3].diatonic)
    return inner + 0.4 * bass + 1.5 * doubling + 2.5 * rng.random()


def lead(key: Key, labels: Sequence[ChordLabel], rng: Random, *, keyboard: bool = False) -> tuple[Voicing, ...] | None:
    """Lead four voices through some chords, or None when these chords cannot follow each other without a fault."""
    options = [voicings(key, label, keyboard) for label in labels]
    starts = sorted(options[0], key=lambda one: one[1] + abs(one[0][0].midi - _MIDDLE) / 4 + 1.5 * rng.random())
    for first, _ in starts[:12]:
        found = _onward([first], options, labels, key, rng, [0])
        if found is not None:
            return tuple(found)
    return None


def _onward(
    made: list[Voicing],
    options: list[tuple[tuple[Voicing, float], ...]],
    labels: Sequence[ChordLabel],
    key: Key,
    rng: Random,
    spent: list[int],
) -> list[Voicing] | None:
    index = len(made)
    if index == len(options):
        return made
    last = made[-1]
    ranked = sorted(
        (_cost(last, chord, doubling, rng), place) for place, (chord, doubling) in enumerate(options[index])
    )
    for _, place in ranked[:30]:
        spent[0] += 1
        if spent[0] > 300:
            return None
        chord = options[index][place][0]
        if moves_well(last, chord, key, labels[index - 1], labels[index]):
            found = _onward([*made, chord], options, labels, key, rng, spent)
            if found is not None:
                return found
    return None
