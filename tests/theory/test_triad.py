"""Triads and sevenths against books and pychord."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pychord import Chord as PychordChord

from stavewright.theory.errors import UnknownChordError
from stavewright.theory.pitch import STEPS, NoteName, Pitch
from stavewright.theory.transposition import respell
from stavewright.theory.triad import KINDS, TRIADS, Chord, bass_first, chord_of, read_chord
from theory.any_pitch import note_names

roots = st.builds(NoteName, st.sampled_from(STEPS), st.integers(-1, 1))
ROOTS = [NoteName(step, alter) for step in STEPS for alter in (-1, 0, 1)]


@st.composite
def chords(draw: st.DrawFn) -> Chord:
    kind = draw(st.sampled_from(list(KINDS)))
    return Chord(draw(roots), kind, draw(st.integers(0, len(KINDS[kind]) - 1)))


# Gehrkens, Music Notation and Terminology (1914) §§197, 209 and figure 66; the inversions' letters, common practice.
@pytest.mark.parametrize(
    ("chord", "notes"),
    [
        (Chord(NoteName("C"), "major"), "C E G"),
        (Chord(NoteName("C"), "minor"), "C Eb G"),
        (Chord(NoteName("C"), "diminished"), "C Eb Gb"),
        (Chord(NoteName("C"), "augmented"), "C E G#"),
        (Chord(NoteName("C"), "major", 1), "E G C"),
        (Chord(NoteName("C"), "major", 2), "G C E"),
        (Chord(NoteName("G"), "minor", 2), "D G Bb"),
        (Chord(NoteName("G"), "dominant 7th"), "G B D F"),
        (Chord(NoteName("A"), "dominant 7th"), "A C# E G"),
        (Chord(NoteName("E", -1), "dominant 7th"), "Eb G Bb Db"),
    ],
)
def test_published_chords(chord: Chord, notes: str) -> None:
    assert " ".join(name.short for name in chord.notes) == notes


def test_pychord_agrees_on_189_spellings() -> None:
    """Twenty-one roots by nine kinds: pychord spells the same notes."""
    agreed = 0
    for root in ROOTS:
        for kind in KINDS:
            own = Chord(root, kind)
            other = PychordChord(f"{root.short}{own.symbol.removeprefix(root.short)}")
            assert [name.short for name in own.notes] == other.components()
            agreed += 1
    assert agreed == 189


@given(chords())
def test_a_chord_is_read_from_any_spacing_and_doubling(chord: Chord) -> None:
    """Doubling and spacing change nothing: the lowest note decides the inversion."""
    bass, *upper = chord.notes
    low = Pitch(bass.step, bass.alter, 2)
    notes = [low, *(Pitch(name.step, name.alter, 4) for name in upper), low.shifted(1), Pitch(bass.step, bass.alter, 5)]
    found = read_chord(notes)
    assert found is not None
    if chord.kind in ("augmented", "diminished 7th"):
        assert set(found.notes) == set(chord.notes)
    assert found == chord


@given(chords())
def test_a_chord_is_a_stack_of_thirds(chord: Chord) -> None:
    """In root position each note of a chord stands a third above the one below."""
    stack = chord_of(chord.root, chord.kind)
    places = [name.index for name in stack]
    assert all((high - low) % 7 == 2 for low, high in pairwise(places))
    sizes = [(b.pitch_class - a.pitch_class) % 12 for a, b in pairwise(stack)]
    assert set(sizes) <= {3, 4}


@given(note_names, st.sampled_from(TRIADS))
def test_a_misspelt_chord_is_no_chord(root: NoteName, kind: str) -> None:
    """A third written as a second or a fourth is no third, however it sounds."""
    low, third, fifth = (Pitch(name.step, name.alter, 4) for name in chord_of(root, kind))
    assert read_chord([low, respell(third, 1), fifth]) is None


def test_a_chord_without_its_fifth() -> None:
    notes = [NoteName("G"), NoteName("B"), NoteName("F")]
    assert read_chord(notes) is None
    found = read_chord(notes, without_fifth=True)
    assert found is not None
    assert (found.kind, found.root.short) == ("dominant 7th", "G")
    first = read_chord([Pitch("E", 0, 3), Pitch("C", 0, 4)], without_fifth=True)
    assert first is not None
    assert first.text == "C major, first inversion"


# Open Music Theory, version 1, and Hutchinson: the bass after a stroke; suffixes, common practice.
@pytest.mark.parametrize(
    ("root", "kind", "inversion", "symbol"),
    [
        ("A", "minor", 1, "Am/C"),
        ("G", "dominant 7th", 0, "G7"),
        ("D", "major", 1, "D/F#"),
        ("B", "diminished", 0, "Bdim"),
        ("C", "augmented", 0, "Caug"),
        ("Bb", "major 7th", 0, "Bbmaj7"),
    ],
)
def test_chord_symbols(root: str, kind: str, inversion: int, symbol: str) -> None:
    assert Chord(NoteName.parse(root), kind, inversion).symbol == symbol


@pytest.mark.parametrize(("kind", "inversion"), [("sus4", 0), ("major", 3), ("major", -1), ("dominant 7th", 4)])
def test_a_chord_that_is_none_is_refused(kind: str, inversion: int) -> None:
    with pytest.raises(UnknownChordError):
        Chord(NoteName("C"), kind, inversion)


def test_bass_first() -> None:
    assert [n.short for n in bass_first([Pitch("C", 0, 5), Pitch("G", 0, 2), Pitch("C", 0, 4)])] == ["G", "C"]
    assert read_chord([]) is None
