"""Note names and pitches."""

from __future__ import annotations

import pickle

import pytest
from hypothesis import given
from hypothesis import strategies as st
from music21 import pitch as music21_pitch

from stavewright.theory.errors import StavewrightError, UnknownNoteError
from stavewright.theory.pitch import STEPS, NoteName, Pitch, alteration_text, name_of, pitch_at
from theory.any_pitch import note_names, pitches


@given(note_names)
def test_name_is_its_place_on_the_line_of_fifths(name: NoteName) -> None:
    """A note name and its place on the line of fifths are the same fact."""
    assert NoteName.from_fifths(name.fifths) == name


@given(note_names)
def test_name_can_be_read_back_from_each_of_its_spellings(name: NoteName) -> None:
    """What is written is what is read: words, plain type and signs."""
    assert {NoteName.parse(text) for text in (name.text, name.short, name.symbol)} == {name}


@given(pitches)
def test_pitch_can_be_read_back(pitch: Pitch) -> None:
    """A pitch is a note name and an octave number, in every spelling."""
    assert Pitch.parse(pitch.short) == Pitch.parse(pitch.text) == Pitch.parse(pitch.symbol) == pitch


@given(st.integers(-500, 500))
def test_a_fifth_up_is_the_next_place(fifths: int) -> None:
    """Seven semitones up is one place along the line of fifths."""
    here, there = NoteName.from_fifths(fifths), NoteName.from_fifths(fifths + 1)
    assert (there.pitch_class - here.pitch_class) % 12 == 7
    assert (there.index - here.index) % 7 == 4


@given(pitches, st.integers(-2, 2))
def test_octave_changes_nothing_but_the_octave(pitch: Pitch, octaves: int) -> None:
    """Octaves apart, a note keeps its name and sounds twelve semitones away each."""
    moved = pitch.shifted(octaves)
    assert moved.name == pitch.name
    assert moved.midi - pitch.midi == 12 * octaves


@given(pitches)
def test_midi_and_diatonic_fix_the_pitch(pitch: Pitch) -> None:
    """Where a note is written and how it sounds decide its spelling."""
    assert pitch_at(pitch.diatonic, pitch.alter) == pitch
    assert pitch_at(pitch.diatonic).altered(pitch.alter).midi == pitch.midi


@given(pitches)
def test_music21_agrees_on_the_sound(pitch: Pitch) -> None:
    """music21 hears the same key of the keyboard and counts the same letters."""
    other = music21_pitch.Pitch(pitch.short.replace("b", "-"))
    assert (other.ps, other.diatonicNoteNum - 1) == (pitch.midi, pitch.diatonic)


# Gehrkens, Music Notation and Terminology (1914) §48, figure 29; the octave number changes at C by letter:
# Open Music Theory, version 1, and the MusicXML 4.0 data type octave.
@pytest.mark.parametrize(
    ("short", "letters", "midi"),
    [
        ("C1", "CC", 24),
        ("B1", "BB", 35),
        ("C2", "C", 36),
        ("B2", "B", 47),
        ("C3", "c", 48),
        ("C4", "c'", 60),
        ("A4", "a'", 69),
        ("B4", "b'", 71),
        ("C5", "c''", 72),
        ("C6", "c'''", 84),
        ("C7", "c''''", 96),
        ("Cb4", "cb'", 59),
        ("B#3", "b#", 60),
    ],
)
def test_octave_names(short: str, letters: str, midi: int) -> None:
    pitch = Pitch.parse(short)
    assert (pitch.letter_notation, pitch.midi) == (letters, midi)


# Gehrkens, Music Notation and Terminology (1914) §§22-26, for the first five; beyond double, common practice.
@pytest.mark.parametrize(
    ("alter", "text", "short"),
    [
        (0, "F", "F"),
        (1, "F sharp", "F#"),
        (2, "F double sharp", "F##"),
        (-1, "F flat", "Fb"),
        (-2, "F double flat", "Fbb"),
        (3, "F triple sharp", "F###"),
        (-5, "F 5-fold flat", "Fbbbbb"),
    ],
)
def test_names_of_alterations(alter: int, text: str, short: str) -> None:
    assert (NoteName("F", alter).text, NoteName("F", alter).short) == (text, short)


def test_natural_has_no_word() -> None:
    assert alteration_text(0) == ""


@pytest.mark.parametrize("text", ["H", "", "F sharply", "Fb#", "4", "F4", "sharp F", "C" + " " * 99 + "x y", "B" * 300])
def test_a_text_that_is_no_note_is_refused(text: str) -> None:
    with pytest.raises(UnknownNoteError, match=r": (write|give)"):
        NoteName.parse(text)


@pytest.mark.parametrize("text", ["C", "C sharp", "H4", "C444", "4C"])
def test_a_text_that_is_no_pitch_is_refused(text: str) -> None:
    with pytest.raises(UnknownNoteError):
        Pitch.parse(text)


@pytest.mark.parametrize(
    "made",
    [
        lambda: NoteName("H", 0),
        lambda: NoteName("CD", 0),
        lambda: NoteName("C", 1000),
        lambda: NoteName("C", 0.5),
        lambda: NoteName("C", True),
        lambda: Pitch("C", 0, 99),
        lambda: Pitch("C", 0, "4"),
        lambda: Pitch("c", 0, 4),
    ],
)
def test_a_note_that_cannot_be_is_refused(made: object) -> None:
    with pytest.raises(UnknownNoteError) as caught:
        made()  # type: ignore[operator]
    assert isinstance(caught.value, StavewrightError)
    assert isinstance(caught.value, ValueError)
    assert caught.value.right


def test_shared_objects_are_shared() -> None:
    assert pitch_at(30, 1) is pitch_at(30, 1)
    assert name_of("F", 1) is Pitch("F", 1, 3).name


def test_pitches_have_no_order_of_their_own() -> None:
    with pytest.raises(TypeError):
        sorted([Pitch("B", 1, 3), Pitch("C", 0, 4)])  # type: ignore[type-var]


def test_copies_are_equal() -> None:
    pitch = Pitch("E", -1, 5)
    assert pickle.loads(pickle.dumps(pitch)) == pitch
    assert hash(pickle.loads(pickle.dumps(pitch))) == hash(pitch)


def test_error_says_what_where_and_what_would_be_right() -> None:
    error = StavewrightError("'H' is not a letter name", where="bar 2", right="use A to G")
    assert str(error) == "'H' is not a letter name (bar 2): use A to G"
    assert (error.what, error.where, error.right) == ("'H' is not a letter name", "bar 2", "use A to G")


def test_letters_run_from_c() -> None:
    assert [Pitch(step, 0, 4).diatonic for step in STEPS] == list(range(28, 35))
