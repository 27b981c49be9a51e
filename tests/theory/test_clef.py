"""Clefs and places on the stave."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from music21 import clef as music21_clef
from music21 import note as music21_note

from stavewright.theory.clef import CLEFS, Clef, clef, place_text
from stavewright.theory.errors import UnknownClefError
from stavewright.theory.pitch import Pitch
from theory.any_pitch import pitches

clefs = st.sampled_from(list(CLEFS.values()))


@given(clefs, pitches)
def test_a_place_names_one_note(shape: Clef, pitch: Pitch) -> None:
    """In one clef each line and space has one letter name."""
    assert shape.pitch_at(shape.place(pitch), pitch.alter) == pitch


@given(clefs, st.integers(-12, 20))
def test_a_step_up_the_stave_is_a_letter_up(shape: Clef, place: int) -> None:
    """From a line to the next space is one letter."""
    assert shape.pitch_at(place + 1).diatonic - shape.pitch_at(place).diatonic == 1


# Gehrkens, Music Notation and Terminology (1914) §§15-17; Schmidt-Jones m10941: the clef's own note and its line.
@pytest.mark.parametrize(
    ("name", "own", "line", "bottom"),
    [("treble", "G4", 2, "E4"), ("bass", "F3", 4, "G2"), ("alto", "C4", 3, "F3"), ("tenor", "C4", 4, "D3")],
)
def test_published_clefs(name: str, own: str, line: int, bottom: str) -> None:
    shape = clef(name)
    assert (shape.named_pitch.short, shape.line, shape.bottom_line.short) == (own, line, bottom)


# Gehrkens, Music Notation and Terminology (1914) §48.
@pytest.mark.parametrize(
    ("name", "place", "pitch", "words"),
    [
        ("bass", 0, "G2", "the 1st line"),
        ("bass", 8, "A3", "the 5th line"),
        ("bass", 10, "C4", "the 1st ledger line above the stave"),
        ("treble", -2, "C4", "the 1st ledger line below the stave"),
        ("treble", 9, "G5", "the space above the top line"),
        ("treble", 12, "C6", "the 2nd ledger line above the stave"),
        ("treble", 5, "C5", "the 3rd space"),
        ("treble", -1, "D4", "the space below the bottom line"),
        ("treble", -3, "B3", "the space below the 1st ledger line below the stave"),
    ],
)
def test_published_places(name: str, place: int, pitch: str, words: str) -> None:
    assert clef(name).pitch_at(place).short == pitch
    assert clef(name).place(Pitch.parse(pitch)) == place
    assert place_text(place) == words


@pytest.mark.parametrize(("name", "count"), [("treble", -1), ("bass", 1), ("alto", 0), ("tenor", 0)])
def test_ledger_lines_of_middle_c(name: str, count: int) -> None:
    assert clef(name).ledger_lines(Pitch("C", 0, 4)) == count


@pytest.mark.parametrize(
    ("pitch", "count"), [("G5", 0), ("A5", 1), ("B5", 1), ("C6", 2), ("D4", 0), ("B3", -1), ("A3", -2)]
)
def test_ledger_lines_in_the_treble(pitch: str, count: int) -> None:
    assert clef("treble").ledger_lines(Pitch.parse(pitch)) == count


@given(pitches)
def test_music21_agrees_on_every_place(pitch: Pitch) -> None:
    """music21 puts each note on the same line or space of each clef."""
    shapes = {"treble": "TrebleClef", "bass": "BassClef", "alto": "AltoClef", "tenor": "TenorClef"}
    for name, other in shapes.items():
        note = music21_note.Note(pitch.short.replace("b", "-"))
        assert note.pitch.diatonicNoteNum - getattr(music21_clef, other)().lowestLine == clef(name).place(pitch)


def test_a_clef_without_a_name_is_refused() -> None:
    with pytest.raises(UnknownClefError, match="treble, alto, tenor or bass"):
        clef("soprano")


def test_clef_in_words_reads_back() -> None:
    assert all(clef(shape.text) is shape for shape in CLEFS.values())
