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
    ("minor 6th", "m6"),
    ("major 6th", "M6"),
    ("perfect 5th", "P5"),
    ("augmented 4th", "A4"),
    ("diminished 5th", "dim5"),
    ("minor 6th", "min 6"),
    ("minor 6th", "6th minor"),
    ("minor 6th", "a minor sixth"),
    ("perfect octave", "perfect 8ve"),
    ("compound major 3rd", "octave and a major third"),
    ("compound major 3rd", "major 3rd compound"),
    ("compound major 3rd", "compound M3"),
    ("F sharp minor", "F#m"),
    ("F sharp minor", "Fsharp minor"),
    ("F sharp minor", "F#minor"),
    ("F sharp minor", "the key of F sharp minor"),
    ("B flat major", "Bb major key"),
    ("3 sharps", "3#"),
    ("3 sharps", "three sharps"),
    ("1 flat", "1b"),
    ("no sharps or flats", "no sharps and no flats"),
    ("no sharps or flats", "0 sharps"),
    ("F sharp C sharp G sharp", "F#, C# and G#"),
    ("F sharp C sharp G sharp", "F#, C# & G#"),
    ("3 flats, B flat, E flat, A flat", "3♭ (Bb, Eb, Ab)"),
    ("2 sharps: F, C", "two sharps, F and C"),
    ("augmented 4th, tritone", "tritone, augmented fourth"),
    ("augmented 4th, tritone", "augmented 4th, or a tritone"),
    ("G harmonic minor", "G minor, harmonic form"),
    ("G harmonic minor", "the scale of G minor (harmonic)"),
    ("G harmonic minor", "harmonic minor scale on G"),
    ("A harmonic minor", "the harmonic form of A minor"),
    ("E flat major", "Eb major scale"),
    ("B flat melodic minor", "Bb min. mel."),
    ("major 3rd", "the interval of a major third"),
    ("major 3rd", "a major 3rd interval"),
    ("B", "B natural"),
    ("submediant", "sub-mediant"),
    ("dominant", "dominant note"),
    ("subdominant", "subdom"),
    ("subdominant", "Sub-dom."),
    ("leading note", "lead. note"),
    ("F sharp", "Fs"),
    ("B flat major", "Bf major"),
    ("quaver", "8th note"),
]
"""UK form beside what might be typed. The pairs of names: LilyPond Music Glossary; spellings from memory."""

DIFFERENT = [
    ("minor 6th", "M6"),
    ("B flat minor", "BbM"),
    ("A natural minor", "A minor"),
    ("3 sharps", "3b"),
    ("compound major 3rd", "major 3rd"),
    ("A minor", "a minor 3rd"),
    ("F sharp", "F"),
    ("F sharp", "F flat"),
    ("A minor", "A major"),
    ("minor 3rd", "major 3rd"),
    ("minor 3rd", "minor 6th"),
    ("crotchet", "crotchet rest"),
    ("minim", "dotted minim"),
    ("B flat", "B"),
    ("A flat", "flat"),
    ("A harmonic minor", "harmonic minor"),
    ("A natural minor", "natural minor"),
    ("A natural minor", "A minor"),
    ("G harmonic minor", "G melodic minor"),
    ("G harmonic minor", "G minor"),
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
