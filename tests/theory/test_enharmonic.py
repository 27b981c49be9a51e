"""Enharmonic notes."""

from __future__ import annotations

import pytest
from hypothesis import given

from stavewright.theory.enharmonic import are_twins, simplest, twin_names, twin_pitches
from stavewright.theory.pitch import STEPS, NoteName, Pitch
from theory.any_pitch import note_names, pitches


@given(pitches)
def test_twins_sound_alike(pitch: Pitch) -> None:
    """An enharmonic twin has another letter and the same sound; the octave number follows the letter."""
    for twin in twin_pitches(pitch):
        assert twin.midi == pitch.midi
        assert twin.name != pitch.name
        assert abs(twin.alter) <= 2
        assert are_twins(pitch, twin)


@given(note_names)
def test_twins_of_names(name: NoteName) -> None:
    """Twins of a note name are twins of each other, and no two are spelt alike."""
    twins = twin_names(name)
    assert len(set(twins)) == len(twins)
    assert all(name in twin_names(twin, most=4) for twin in twins)
    assert [abs(twin.alter) for twin in twins] == sorted(abs(twin.alter) for twin in twins)


def test_every_key_of_the_keyboard_has_three_names_but_one() -> None:
    """With no sign past a double each key of the keyboard has three names; G sharp, A flat has two."""
    names = [NoteName(step, alter) for step in STEPS for alter in range(-2, 3)]
    counts = [sum(name.pitch_class == key for name in names) for key in range(12)]
    assert counts == [3] * 8 + [2] + [3] * 3
    assert all(len(twin_names(name)) == counts[name.pitch_class] - 1 for name in names)


# Gehrkens, Music Notation and Terminology (1914) §27, and the octave numbers of Open Music Theory, version 1.
@pytest.mark.parametrize(
    ("pitch", "twins"),
    [
        ("C4", "B#3 Dbb4"),
        ("B3", "Cb4 A##3"),
        ("F#4", "Gb4 E##4"),
        ("C#4", "Db4 B##3"),
        ("D4", "C##4 Ebb4"),
        ("E4", "Fb4 D##4"),
        ("G#4", "Ab4"),
        ("B#3", "C4 Dbb4"),
        ("Cb5", "B4 A##4"),
        ("A##4", "B4 Cb5"),
    ],
)
def test_published_twins(pitch: str, twins: str) -> None:
    found = twin_pitches(Pitch.parse(pitch))
    assert sorted(twin.short for twin in found) == sorted(twins.split())


def test_an_octave_apart_is_no_twin() -> None:
    assert not are_twins(Pitch("B", 1, 4), Pitch("C", 0, 4))
    assert are_twins(Pitch("B", 1, 3), Pitch("C", 0, 4))
    assert not are_twins(NoteName("C"), NoteName("C"))
    assert are_twins(NoteName("C", 1), Pitch("D", -1, 7))
    assert not are_twins(NoteName("C", 1), NoteName("D"))


@given(pitches)
def test_the_simplest_spelling_has_one_sign_at_most(pitch: Pitch) -> None:
    """Every note can be written with one sign or none."""
    plain = simplest(pitch)
    assert plain.midi == pitch.midi
    assert abs(plain.alter) <= 1
    assert simplest(plain) == plain
