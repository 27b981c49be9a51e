"""Chord labels by meaning: every way of writing one chord is one label, and different chords never meet."""

from __future__ import annotations

import pytest

from stavewright.questions.chord_reading import read_label
from stavewright.questions.comparing import compare
from stavewright.questions.kind import Marking
from stavewright.questions.values import Value
from stavewright.theory.chord import ChordLabel

# Figures: Gehrkens, Music Notation and Terminology (1914) §§199-200, 209; letters a b c d, arabic numbers and the
# choice of capitals or small numerals: common practice.
SAME = [
    ("Ib", "I6"), ("Ib", "1b"), ("Ib", "I 6"), ("Ib", "I6/3"), ("Ic", "I6/4"), ("Ic", "I64"), ("I", "Ia"), ("I", "1"),
    ("I", "tonic"), ("V", "dominant"), ("IV", "subdominant"), ("II", "ii"), ("IIb", "ii6"), ("IIb", "iio6"),
    ("VII", "vii°"), ("III", "III+"), ("V7b", "V6/5"), ("V7c", "V4/3"), ("V7d", "V4/2"), ("V7", "57"),
    ("Ib", "tonic first inversion"), ("IIb", "II first inversion"), ("IV", "iv"),
    ("Vb", "V (b)"), ("Vb", "Vb (first inversion)"), ("Vb", "V 1st inv."), ("Vb", "VB"), ("Ic", "I 6-4"), ("Ic", "I⁶₄"),
    ("V", "V (root)"), ("II", "II dim."), ("II", "ii (dim)"), ("V7", "dominant seventh"), ("V7b", "V 6 5"),
    ("Ic", "Ic."), ("I", "chord I"), ("IIb", "Chord ii6"), ("V", "the chord of V"),
]  # fmt: skip
DIFFERENT = [("I", "Ib"), ("Ib", "Ic"), ("II", "IV"), ("V", "V7"), ("V", "v"), ("V", "VI"), ("I", "banana"), ("I", "")]
DIFFERENT += [("V7", "V"), ("Vb", "Vc (first inversion)")]


@pytest.mark.parametrize("one, other", SAME)
def test_two_spellings_of_one_chord_are_the_same_answer(one: str, other: str) -> None:
    assert read_label(one) == read_label(other)
    assert compare(Value(chords=(other,)), Value(chords=(one,)), Marking()).same


@pytest.mark.parametrize("one, other", DIFFERENT)
def test_two_chords_are_never_the_same_answer(one: str, other: str) -> None:
    assert not compare(Value(chords=(other,)), Value(chords=(one,)), Marking()).same


def test_every_name_that_theory_lists_for_a_label_is_read_as_it() -> None:
    for degree in range(1, 8):
        for seventh in (False, True):
            for inversion in range(3 + seventh):
                label = ChordLabel(degree, inversion, seventh)
                assert {read_label(name) for name in label.names} == {label.text}
