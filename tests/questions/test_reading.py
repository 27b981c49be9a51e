"""Reading typed words: what pupils write and what it means."""

from __future__ import annotations

import pytest

from stavewright.questions.reading import read_words

SAME = [
    ("F sharp", "F#"),
    ("F sharp", "f♯"),
    ("F sharp minor", "F# min."),
    ("B flat", "Bb"),
    ("B flat", "b♭"),
    ("B flat major", "Bb Maj"),
    ("E flat minor", "eb minor"),
    ("F double sharp", "Fx"),
    ("F double sharp", "F##"),
    ("B double flat", "Bbb"),
    ("A minor", "a min"),
    ("minor 3rd", "minor third"),
    ("minor 3rd", "min 3rd"),
    ("perfect 5th", "Perfect Fifth"),
    ("augmented 4th", "aug. 4th"),
    ("perfect octave", "perfect 8th"),
    ("crotchet", "quarter note"),
    ("dotted minim rest", "dotted half rest"),
    ("semibreve", "Whole Note"),
    ("leading note", "leading tone"),
    ("imperfect cadence", "half cadence"),
    ("getting slower", "Getting  slower."),
    ("a tempo", "A tempo"),
    ("piu mosso", "più mosso"),
]
"""UK form beside what might be typed. The pairs of names: LilyPond Music Glossary; spellings from memory."""

DIFFERENT = [
    ("F sharp", "F"),
    ("F sharp", "F flat"),
    ("A minor", "A major"),
    ("minor 3rd", "major 3rd"),
    ("minor 3rd", "minor 6th"),
    ("crotchet", "crotchet rest"),
    ("minim", "dotted minim"),
    ("B flat", "B"),
    ("A flat", "flat"),
    ("semitone", "tone"),
]


@pytest.mark.parametrize(("uk", "typed"), SAME)
def test_one_answer_in_many_spellings(uk: str, typed: str) -> None:
    """Spelling, case, signs, short forms and US words do not change an answer."""
    assert read_words(typed) == read_words(uk)


@pytest.mark.parametrize(("one", "other"), DIFFERENT)
def test_different_answers_stay_different(one: str, other: str) -> None:
    """Folding never makes a wrong answer right."""
    assert read_words(one) != read_words(other)
