"""Chords under marked melody notes that lead to a cadence: every workable set, the usual one first."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from stavewright.theory.cadence import CADENCES, cadence
from stavewright.theory.chord import ROMANS, ChordLabel, chord_notes
from stavewright.theory.key import Key
from stavewright.theory.pitch import NoteName

# Root progressions that weaken or turn back the way to a cadence. Source: common practice.
REFUSED = frozenset({(5, 4), (5, 2), (2, 1)})
_APPROACH = (5, 4, 2, 1, 6, 3, 7)
_FIRST = (4, 2, 1, 5, 6, 3, 7)


def holding(note: NoteName, key: Key, numerals: Sequence[str]) -> tuple[ChordLabel, ...]:
    """The chords of the given numerals that have a note: root position, first inversion, Ic, and V7 in root position.

    >>> [label.text for label in holding(NoteName("F"), Key.parse("C"), ("I", "IV", "V"))]
    ['IV', 'IVb', 'V7']
    """
    found: list[ChordLabel] = []
    for numeral in numerals:
        degree = ROMANS.index(numeral) + 1
        labels = [ChordLabel(degree), ChordLabel(degree, 1)]
        labels += [ChordLabel(1, 2)] if degree == 1 else []
        labels += [ChordLabel(5, seventh=True)] if degree == 5 else []
        found += [label for label in labels if note in chord_notes(key, label)]
    return tuple(found)


def fault_of(labels: Sequence[ChordLabel]) -> str | None:
    """What is wrong with a row of chords as a way to a cadence, in a sentence; None where nothing is.

    A chord must move to another; V does not go to IV or II, nor II to I; Ic goes to V, and V7 to I (or VI); the last
    two chords make a cadence. Source: common practice.

    >>> fault_of([ChordLabel(5), ChordLabel(4), ChordLabel(1)])
    'V does not go to IV'
    """
    for one, other in pairwise(labels):
        if one.degree == 1 and one.inversion == 2:
            if other.degree != 5 or other.inversion:
                return f"Ic goes only to V, not to {other.text}"
        elif one.degree == other.degree:
            return f"{one.text} to {other.text}: the chord merely stays"
        elif (one.degree, other.degree) in REFUSED:
            return f"{one.text} does not go to {other.text}"
        elif one.seventh and other.degree not in (1, 6):
            return f"V7 goes to I or VI, not to {other.text}"
    if cadence(labels[-2], labels[-1]) is None:
        return f"{labels[-2].text} to {labels[-1].text} is no cadence"
    return None


def workable(notes: Sequence[NoteName], key: Key, numerals: Sequence[str]) -> tuple[tuple[ChordLabel, ...], ...]:
    """Every workable row of chords under some notes, the usual one first.

    Plain root positions come before inversions and sevenths; then a perfect cadence before a plagal one before an
    imperfect one; then the stronger approach.

    >>> rows = workable([NoteName("F"), NoteName("D"), NoteName("C")], Key.parse("C"), ("I", "II", "IV", "V"))
    >>> [label.text for label in rows[0]], len(rows) > 3
    (['IV', 'V', 'I'], True)
    """
    rows = _rows([holding(note, key, numerals) for note in notes])
    return tuple(sorted((row for row in rows if fault_of(row) is None), key=_rank))


def _rows(choices: Sequence[tuple[ChordLabel, ...]]) -> Iterator[tuple[ChordLabel, ...]]:
    if not choices:
        yield ()
        return
    for label in choices[0]:
        for rest in _rows(choices[1:]):
            yield (label, *rest)


def _rank(row: tuple[ChordLabel, ...]) -> tuple[object, ...]:
    plain = sum(bool(label.inversion) + label.seventh for label in row)
    before = [_FIRST.index(label.degree) for label in row[-3::-1]]
    close = CADENCES.index(cadence(row[-2], row[-1]) or CADENCES[-1])
    return (plain, close, _APPROACH.index(row[-2].degree), before, [label.text for label in row])
