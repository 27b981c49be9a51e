"""A chord spread over four voices as the setter means it, found by counting semitones."""

from __future__ import annotations

from collections.abc import Sequence

from stavewright.questions.values import Value, WrittenNote
from stavewright.theory.chord import ChordLabel, chord_notes
from stavewright.theory.key import Key
from stavewright.theory.pitch import Pitch, pitch_at

# Lowest and highest note of each voice as commonly taught, in semitones (middle C is 60), from soprano to bass; on the
# bass stave the tenor keeps below A.
_RANGES = ((60, 81), (53, 74), (48, 67), (40, 60))
_OCTAVE = 12


def meant_spacing(key: Key, label: ChordLabel, given: Sequence[Pitch | None]) -> tuple[Pitch, ...] | None:
    """The spacing that doubles best and lies well, keeping the given voices; None where there is none.

    Voices share no note where they need not, the soprano is near the C above middle C, the upper parts are close.

    >>> found = meant_spacing(Key.parse("C"), ChordLabel(1), (Pitch("C", 0, 5), None, None, Pitch("C", 0, 3)))
    >>> [pitch.short for pitch in found]
    ['C5', 'G4', 'E4', 'C3']
    """
    rows = [[held] if held is not None else _row(key, label, part) for part, held in enumerate(given)]
    best: tuple[tuple[int, ...], tuple[Pitch, ...]] | None = None
    for bass in rows[3]:
        for tenor in rows[2]:
            if tenor.midi < bass.midi:
                continue
            for alto in rows[1]:
                if not 0 <= alto.midi - tenor.midi <= _OCTAVE:
                    continue
                for soprano in rows[0]:
                    if not 0 <= soprano.midi - alto.midi <= _OCTAVE:
                        continue
                    weight = _weight((soprano, alto, tenor, bass), key, label)
                    shared = (soprano == alto) + (alto == tenor) + (tenor == bass)
                    rank = (
                        weight,
                        shared,
                        abs(soprano.midi - 72),
                        soprano.midi - tenor.midi,
                        -alto.midi,
                        abs(bass.midi - 48),
                        bass.midi,
                    )
                    if weight < 9 and (best is None or rank < best[0]):
                        best = rank, (soprano, alto, tenor, bass)
    return None if best is None else best[1]


def meant_value(meant: Sequence[Pitch], held: Sequence[Pitch | None], key: Key) -> Value:
    """The voices that are to be written, each with its sign wherever the signature does not give it."""
    notes = []
    for pitch, printed in zip(meant, held, strict=True):
        if printed is None:
            sign = {1: "sharp", -1: "flat", 0: "natural", 2: "double-sharp", -2: "flat-flat"}[pitch.alter]
            own = sign if pitch.alter != key.alter_of(pitch.step) else None
            notes.append(WrittenNote(pitch.step, octave=pitch.octave, type="semibreve", accidental=own))
    upper = sum(printed is None for printed in held[:2])
    return Value(notes=tuple(notes), signature=key.fifths, bar_lines=(upper,))


def _row(key: Key, label: ChordLabel, part: int) -> list[Pitch]:
    names = chord_notes(key, label)[: 1 if part == 3 else 3]
    low, high = _RANGES[part]
    places = [pitch_at(7 * octave + name.index, name.alter) for name in names for octave in range(1, 7)]
    return [place for place in places if low <= place.midi <= high]


def _weight(spacing: tuple[Pitch, ...], key: Key, label: ChordLabel) -> int:
    """How good the doubling is (0 the best), or 9 where it is wrong or a note is missing."""
    root, third, fifth = chord_notes(key, ChordLabel(label.degree))
    held = [pitch.name for pitch in spacing]
    if {root, third, fifth} - set(held) or held.count(key.leading_note) > 1:
        return 9
    twice = next(name for name in (root, third, fifth) if held.count(name) == 2)
    if label.degree == 2 and key.is_minor:
        return 0 if twice == third else 1
    if label.inversion == 0:
        minor_third = third.fifths - root.fifths == -3
        return {root: 0, fifth: 1, third: 2 if minor_third else 9}[twice]
    if label.inversion == 1:
        return 1 if twice == third else 0
    return 0 if twice == fifth else 1
