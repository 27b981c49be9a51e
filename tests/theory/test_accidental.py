"""Accidentals: how far each holds, and which must be written."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from music21 import converter
from music21 import key as music21_key
from music21 import note as music21_note
from music21 import stream as music21_stream

from stavewright.theory.accidental import (
    SIGNS,
    WrittenNote,
    sign_alter,
    sign_name,
    sign_text,
    signs_needed,
    sounding,
)
from stavewright.theory.errors import UnknownSignError
from stavewright.theory.pitch import STEPS, Pitch

near = st.builds(Pitch, st.sampled_from(STEPS), st.integers(-2, 2), st.sampled_from((4, 5)))
bars = st.lists(st.lists(near, min_size=1, max_size=8), min_size=1, max_size=4)
signatures = st.integers(-7, 7)


def written(text: str) -> list[list[WrittenNote]]:
    """Read bars such as ``F4# F4 | ~F4``: letter and octave, then the sign; ``~`` for a tie into the note."""
    marks = {"#": "sharp", "b": "flat", "n": "natural", "x": "double-sharp", "d": "flat-flat", "": None}
    return [
        [
            WrittenNote(Pitch.parse(word.lstrip("~")[:2]).diatonic, marks[word.lstrip("~")[2:]], word[0] == "~")
            for word in bar.split()
        ]
        for bar in text.split("|")
    ]


# Gehrkens, Music Notation and Terminology (1914) §§24-26: to the bar line, on its own place; ties carry over.
@pytest.mark.parametrize(
    ("fifths", "notes", "heard"),
    [
        (0, "F4# F4 G4 F4", "F#4 F#4 G4 F#4"),
        (0, "F4# G4 | F4 G4", "F#4 G4 F4 G4"),
        (0, "F4# F5", "F#4 F5"),
        (1, "F4 F4n F4 F5 | F4", "F#4 F4 F4 F#5 F#4"),
        (0, "F4# | ~F4 F4", "F#4 F#4 F4"),
        (0, "F4# | ~F4 | ~F4 F4", "F#4 F#4 F#4 F4"),
        (-3, "B4n E4 A4# A4n A4", "B4 Eb4 A#4 A4 A4"),
        (4, "F4x F4# F4", "F##4 F#4 F#4"),
        (0, "B4d B4b B4", "Bbb4 Bb4 Bb4"),
    ],
)
def test_published_rules(fifths: int, notes: str, heard: str) -> None:
    assert [pitch.short for bar in sounding(written(notes), fifths) for pitch in bar] == heard.split()


@given(bars, signatures)
def test_the_signs_needed_are_enough(music: list[list[Pitch]], fifths: int) -> None:
    """Written with no sign but those needed, every note sounds as it was meant."""
    needed = signs_needed(music, fifths)
    page = [
        [WrittenNote(pitch.diatonic, need.sign) for pitch, need in zip(bar, row, strict=True)]
        for bar, row in zip(music, needed, strict=True)
    ]
    assert sounding(page, fifths) == tuple(map(tuple, music))


@given(bars, signatures)
def test_each_sign_needed_is_needed(music: list[list[Pitch]], fifths: int) -> None:
    """Leave out any one sign that was needed and some note is wrong."""
    needed = signs_needed(music, fifths)
    for number, row in enumerate(needed):
        for index, need in enumerate(row):
            if need.sign is None:
                continue
            page = [
                [
                    WrittenNote(pitch.diatonic, None if (bar, place) == (number, index) else needed[bar][place].sign)
                    for place, pitch in enumerate(notes)
                ]
                for bar, notes in enumerate(music)
            ]
            assert sounding(page, fifths) != tuple(map(tuple, music))


@given(bars, signatures)
def test_reminders_change_nothing(music: list[list[Pitch]], fifths: int) -> None:
    """A reminder repeats what is in force: with reminders written too, every note sounds as it was meant."""
    page = [
        [WrittenNote(pitch.diatonic, need.sign or need.reminder) for pitch, need in zip(bar, row, strict=True)]
        for bar, row in zip(music, signs_needed(music, fifths), strict=True)
    ]
    assert sounding(page, fifths) == tuple(map(tuple, music))


one_octave = st.builds(Pitch, st.sampled_from(STEPS), st.integers(-2, 2), st.just(4))


@given(st.lists(st.lists(one_octave, min_size=1, max_size=6), min_size=1, max_size=3), signatures)
def test_music21_prints_the_signs_needed(music: list[list[Pitch]], fifths: int) -> None:
    """Within one octave music21, asked for no reminders, prints a sign wherever one is needed."""
    part = music21_stream.Part()
    for number, bar in enumerate(music, start=1):
        measure = music21_stream.Measure(number=number)
        if number == 1:
            measure.append(music21_key.KeySignature(fifths))
        for pitch in bar:
            measure.append(music21_note.Note(pitch.short.replace("b", "-"), quarterLength=1))
        part.append(measure)
    part.makeAccidentals(
        inPlace=True, cautionaryPitchClass=False, cautionaryAll=False, cautionaryNotImmediateRepeat=False
    )
    printed = [
        [note.pitch.accidental is not None and bool(note.pitch.accidental.displayStatus) for note in measure.notes]
        for measure in part.getElementsByClass("Measure")
    ]
    for theirs, ours in zip(printed, signs_needed(music, fifths), strict=True):
        assert all(shown or need.sign is None for shown, need in zip(theirs, ours, strict=True))


def test_music21_reads_the_same_accidentals() -> None:
    """music21 reads a written tune with signs, octaves and bar lines as we do."""
    theirs = converter.parse("tinynotation: 4/4 f#4 f#4 g4 fn4 f4 g4 f#4 a4").flatten().notes
    heard = [note.pitch.nameWithOctave for note in theirs]
    ours = sounding(written("F4# F4# G4 F4n | F4 G4 F4# A4"), 0)
    assert [pitch.short for bar in ours for pitch in bar] == heard


# Common practice.
@pytest.mark.parametrize(
    ("fifths", "notes", "reminders"),
    [
        (0, "F#4 G4 | F4 G4", [None, None, "natural", None]),
        (0, "F#4 F5", [None, "natural"]),
        (0, "F4 G4 | F4", [None, None, None]),
        (1, "F4 | F#4", [None, "sharp"]),
        (0, "F#4 F4 F4", [None, None, None]),
    ],
)
def test_reminders(fifths: int, notes: str, reminders: list[str | None]) -> None:
    music = [[Pitch.parse(note) for note in bar.split()] for bar in notes.split("|")]
    assert [need.reminder for bar in signs_needed(music, fifths) for need in bar] == reminders


def test_a_tie_over_the_bar_line_needs_no_sign_and_leaves_none_in_force() -> None:
    # Gehrkens, Music Notation and Terminology (1914) §25; that it goes no further, common practice.
    music = [[Pitch.parse("F#4")], [Pitch.parse("F#4"), Pitch.parse("F#4")]]
    assert [need.sign for bar in signs_needed(music, 0, tied=[(1, 0)]) for need in bar] == ["sharp", None, "sharp"]


def test_signs_and_alterations_are_one_table() -> None:
    assert {name: sign_alter(name) for name in SIGNS} == SIGNS
    assert [sign_name(alter) for alter in range(-2, 3)] == ["flat-flat", "flat", "natural", "sharp", "double-sharp"]
    # Gehrkens, Music Notation and Terminology (1914) §26: the old natural before a sharp or flat.
    assert (sign_alter("natural-sharp"), sign_alter("natural-flat")) == (1, -1)
    assert [sign_text(name) for name in SIGNS] == ["double sharp", "sharp", "natural", "flat", "double flat"]


@pytest.mark.parametrize("sign", ["", "Sharp", "quarter-sharp", None, 1])
def test_a_sign_that_is_none_is_refused(sign: str) -> None:
    with pytest.raises(UnknownSignError):
        sign_alter(sign)


def test_an_alteration_past_the_doubles_has_no_sign() -> None:
    with pytest.raises(UnknownSignError, match="-2 to 2"):
        signs_needed([[Pitch("F", 3, 4)]], 0)
