"""One chord for soprano, alto, tenor and bass: what is wrong with a spacing, the good ones, and the known bad ones."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise, product

from stavewright.theory.chord import ChordLabel, chord_notes
from stavewright.theory.key import Key
from stavewright.theory.part_writing import check_chord
from stavewright.theory.pitch import NoteName, Pitch, pitch_at
from stavewright.theory.voice import SATB, voice

Spacing = tuple[Pitch, Pitch, Pitch, Pitch]
"""Soprano, alto, tenor, bass."""

_PARTS = ("root", "third", "fifth")
# How far each doubling is from the usual one, by inversion and part doubled. Source: common practice.
_DOUBLING = ((0, 2, 1), (0, 1, 0), (1, 1, 0))
_DIMINISHED = (1, 0, 1)
_MORE = 4
"""Semitones beyond the usual range within which spacings with a fault are looked for."""
_FAR = 20
"""Semitones, over all voices, that such a spacing may differ from a good one."""
_OCTAVE = 12
_HIGH_C, _LOW_C = 72, 48
_TOP = {"tenor": Pitch("G", 0, 4).midi}
"""Where a voice keeps lower than it can sing: the tenor, written on the bass stave."""


@dataclass(frozen=True, slots=True)
class VoiceFault:
    """One fault of a spacing: its kind and a sentence about it."""

    kind: str
    text: str


def faults_of(spacing: Sequence[Pitch], key: Key, label: ChordLabel) -> tuple[VoiceFault, ...]:
    """Every fault of a spacing of a chord, its notes from the top.

    Notes foreign to the chord, notes left out, the wrong note in the bass, a doubled third of a major chord in root
    position, and all that `theory.part_writing` finds: ranges, spacing, crossing, the leading note doubled.
    Source: common practice.

    >>> notes = [Pitch.parse(note) for note in "E5 G4 E4 C3".split()]
    >>> [fault.text for fault in faults_of(notes, Key.parse("C"), ChordLabel(1))]
    ['E, the third of a major chord, is doubled']
    """
    names = chord_notes(key, label)
    stack = chord_notes(key, ChordLabel(label.degree))
    held = [pitch.name for pitch in spacing]
    found = [
        VoiceFault("foreign note", f"the {part} has {name.text}, which is no note of the chord")
        for part, name in zip(SATB, held, strict=True)
        if name not in names
    ]
    missing = [name for name in names if name not in held]
    if len(missing) > len(found):
        found += [VoiceFault("note left out", f"{name.text} is left out") for name in missing[len(found) :]]
    if held[3] in names and held[3] != names[0]:
        found.append(VoiceFault("position", f"the bass must have {names[0].text}"))
    major = stack[1].fifths - stack[0].fifths == 4
    twice = held.count(stack[1]) > 1
    if major and not label.inversion and held[3] == names[0] and twice and stack[1] != key.leading_note:
        found.append(VoiceFault("doubled third", f"{stack[1].text}, the third of a major chord, is doubled"))
    found += [VoiceFault(fault.kind, fault.text) for fault in check_chord(spacing, 0, key)]
    return tuple(found)


def good_spacings(key: Key, label: ChordLabel, given: Sequence[Pitch | None]) -> tuple[Spacing, ...]:
    """Every faultless complete spacing in the usual ranges that keeps the given voices, the best first.

    The usual doubling comes first, then voices that share no note, a soprano near the C above middle C, the closest
    upper parts, the highest alto, and a bass near the C below middle C.
    """
    names = chord_notes(key, label)
    found = []
    for spacing in _spacings(names, given, 0):
        soprano, alto, tenor, bass = (pitch.midi for pitch in spacing)
        close = bass <= tenor <= alto <= soprano and alto - tenor <= _OCTAVE and soprano - alto <= _OCTAVE
        whole = close and set(names) <= {pitch.name for pitch in spacing}
        if whole and not faults_of(spacing, key, label):
            found.append((_rank(spacing, key, label), spacing))
    return tuple(spacing for _, spacing in sorted(found, key=lambda one: one[0]))


def _spacings(names: Sequence[NoteName], given: Sequence[Pitch | None], more: int) -> Iterator[Spacing]:
    rows = []
    for part, held in zip(SATB, given, strict=True):
        wanted = names[:1] if part == "bass" else names
        rows.append([held] if held is not None else _places(part, wanted, more))
    yield from product(*rows)


def _places(part: str, names: Sequence[NoteName], more: int) -> list[Pitch]:
    one = voice(part)
    low, high = one.low.midi - more, min(one.high.midi, _TOP.get(part, one.high.midi)) + more
    every = [pitch_at(7 * octave + name.index, name.alter) for octave in range(1, 7) for name in names]
    return [pitch for pitch in every if low <= pitch.midi <= high]


def _rank(spacing: Spacing, key: Key, label: ChordLabel) -> tuple[int, ...]:
    stack = chord_notes(key, ChordLabel(label.degree))
    counts = Counter(pitch.name for pitch in spacing)
    doubled = max(range(3), key=lambda part: counts[stack[part]])
    diminished = stack[2].fifths - stack[0].fifths == -6
    weight = (_DIMINISHED if diminished else _DOUBLING[label.inversion])[doubled]
    soprano, alto, tenor, bass = (pitch.midi for pitch in spacing)
    unisons = sum(pitch == other for pitch, other in pairwise(spacing))
    return weight, unisons, abs(soprano - _HIGH_C), soprano - tenor, -alto, abs(bass - _LOW_C), bass


# What to look for, and what to tell the pupil, by kind of fault.
_WANTED = {
    "doubled third": "Double the root, not the third of a major chord.",
    "doubled leading note": "Never double the leading note: it wants to rise, and two would rise together.",
    "spacing": "Soprano and alto, and alto and tenor, may be an octave apart at most.",
    "range": "Learn the range of each voice: this note is too high or too low to sing.",
    "crossing": "Each voice stays below the one above it.",
}


def bad_spacings(
    key: Key, label: ChordLabel, given: Sequence[Pitch | None], near: Spacing
) -> Iterator[tuple[str, Spacing, str]]:
    """For each known kind of fault the spacing nearest to a good one that has just that fault."""
    names = chord_notes(key, label)
    best: dict[str, tuple[tuple[int, int], Spacing]] = {}
    for spacing in _spacings(names, (*given[:3], near[3]), _MORE):
        far = sum(abs(a.midi - b.midi) for a, b in zip(spacing, near, strict=True))
        if far > _FAR:
            continue
        found = faults_of(spacing, key, label)
        kinds = {fault.kind for fault in found} - {"note left out"}
        if len(kinds) == 1:
            kind = kinds.pop()
            rank = (len(found), far)
            if kind in _WANTED and (kind not in best or rank < best[kind][0]):
                best[kind] = rank, spacing
    for kind, remedy in _WANTED.items():
        if kind in best:
            yield kind, best[kind][1], remedy


def nearest(pitch: Pitch, names: Sequence[NoteName]) -> Pitch:
    """The note of a chord that lies nearest below or above a pitch, the pitch itself first."""
    for away in (0, 1, -1, 2, -2, 3, -3):
        for alter in (-2, -1, 0, 1, 2):
            found = Pitch.from_diatonic(pitch.diatonic + away, alter)
            if found.name in names:
                return found
    return pitch


def part_of(name: NoteName, key: Key, label: ChordLabel) -> str:
    """Which part of its chord a note is: "root", "third" or "fifth".

    >>> part_of(NoteName("B"), Key.parse("C"), ChordLabel(5))
    'third'
    """
    return _PARTS[chord_notes(key, ChordLabel(label.degree)).index(name)]
