"""Scales against published tables and music21."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from music21 import pitch as music21_pitch
from music21 import scale as music21_scale

from stavewright.theory.errors import UnknownScaleError
from stavewright.theory.interval import between
from stavewright.theory.key import ALL_KEYS, Key
from stavewright.theory.pitch import NoteName, Pitch
from stavewright.theory.scale import (
    CHROMATIC_FORMS,
    FORMS,
    MINOR_FORMS,
    augmented_seconds,
    chromatic,
    chromatic_faults,
    chromatic_pitches,
    is_chromatic,
    name_scale,
    scale_form,
    scale_names,
    scale_pitches,
    semitones,
)
from theory.any_pitch import keys, pitches

forms = st.sampled_from(FORMS)

# Clementi, Introduction to the Art of Playing on the Piano Forte (1801):
# rising 6th and 7th, falling 7th and 6th.
CLEMENTI = """
a F# G# / G F      e C# D# / D C     b G# A# / A G     f# D# E# / E D    c# A# B# / B A    g# E# F## / F# E
d# B# C## / C# B   bb G A / Ab Gb    f D E / Eb Db     c A B / Bb Ab
"""


def rows(text: str) -> list[list[str]]:
    words = text.split()
    return [words[start : start + 6] for start in range(0, len(words), 6)]


@pytest.mark.parametrize("row", rows(CLEMENTI), ids=lambda row: row[0])
def test_published_melodic_minors(row: list[str]) -> None:
    tonic, *signs = row
    key = Key.parse(tonic)
    up = scale_names(key.tonic, "melodic minor")
    down = scale_names(key.tonic, "melodic minor", ascending=False)
    assert [up[5].short, up[6].short, "/", down[1].short, down[2].short] == signs


def test_the_melodic_minors_are_all_there() -> None:
    assert len(rows(CLEMENTI)) == 10


# Gehrkens, Music Notation and Terminology (1914) §§81-88.
@pytest.mark.parametrize(
    ("tonic", "form", "up", "notes"),
    [
        ("C", "major", True, "C D E F G A B C"),
        ("A", "natural minor", True, "A B C D E F G A"),
        ("A", "harmonic minor", True, "A B C D E F G# A"),
        ("A", "harmonic minor", False, "A G# F E D C B A"),
        ("A", "melodic minor", True, "A B C D E F# G# A"),
        ("A", "melodic minor", False, "A G F E D C B A"),
        ("G#", "harmonic minor", True, "G# A# B C# D# E F## G#"),
    ],
)
def test_published_scales(tonic: str, form: str, up: bool, notes: str) -> None:
    names = scale_names(NoteName.parse(tonic), form, ascending=up)
    assert " ".join(name.short for name in names) == notes


# Gehrkens, Music Notation and Terminology (1914) §§81, 85, 86; melodic falling as the natural, §87.
@pytest.mark.parametrize(
    ("form", "up", "where"),
    [
        ("major", True, "34 78"),
        ("natural minor", True, "23 56"),
        ("harmonic minor", True, "23 56 78"),
        ("melodic minor", True, "23 78"),
        ("melodic minor", False, "23 56"),
    ],
)
def test_published_semitones(form: str, up: bool, where: str) -> None:
    assert " ".join(f"{low}{high}" for low, high in semitones(form, ascending=up)) == where
    assert augmented_seconds(form, ascending=up) == (((6, 7),) if form == "harmonic minor" else ())


def music21_names(key: Key, form: str, up: bool) -> list[str]:
    classes = {
        "major": music21_scale.MajorScale,
        "natural minor": music21_scale.MinorScale,
        "harmonic minor": music21_scale.HarmonicMinorScale,
        "melodic minor": music21_scale.MelodicMinorScale,
    }
    tonic = key.tonic.short[0] + key.tonic.short[1:].replace("b", "-")
    scale = classes[form](music21_pitch.Pitch(tonic + "4"))
    direction = music21_scale.Direction.ASCENDING if up else music21_scale.Direction.DESCENDING
    top = music21_pitch.Pitch(tonic + "5")
    found = scale.getPitches(music21_pitch.Pitch(tonic + "4"), top, direction=direction)
    return [pitch.name.replace("-", "b") for pitch in found]


def test_music21_agrees_on_every_scale_of_every_key() -> None:
    agreed = 0
    for key in ALL_KEYS:
        for form in MINOR_FORMS if key.is_minor else ("major",):
            for up in (True, False):
                own = [name.short for name in scale_names(key.tonic, form, ascending=up)]
                assert own == music21_names(key, form, up), (key.text, form, up)
                agreed += 1
    assert agreed == 2 * (15 + 3 * 15)


@given(pitches, forms, st.booleans())
def test_a_scale_uses_each_letter_once(start: Pitch, form: str, up: bool) -> None:
    """A scale takes each letter once, in order, and comes back to its own tonic an octave away."""
    notes = scale_pitches(start, form, ascending=up)
    step = 1 if up else -1
    assert [note.diatonic for note in notes] == [start.diatonic + step * index for index in range(8)]
    assert notes[0] == start
    assert notes[-1] == start.shifted(step)


@given(pitches, forms)
def test_a_scale_moves_by_steps(start: Pitch, form: str) -> None:
    """A scale moves by tones and semitones, but for the augmented 2nd of the harmonic minor."""
    notes = scale_pitches(start, form)
    kinds = [between(low, high).short for low, high in pairwise(notes)]
    assert sorted(kinds) == sorted(
        ["A2", *["M2"] * 3, *["m2"] * 3] if form == "harmonic minor" else [*["M2"] * 5, *["m2"] * 2]
    )


@given(keys)
def test_a_natural_scale_needs_no_accidental(key: Key) -> None:
    """In its own signature a major or natural minor scale needs no accidental; the harmonic needs one, at the 7th."""
    form = "natural minor" if key.is_minor else "major"
    assert all(key.holds(name) for name in scale_names(key.tonic, form))
    if key.is_minor:
        foreign = [name for name in scale_names(key.tonic, "harmonic minor") if not key.holds(name)]
        assert foreign == [key.leading_note]


@given(pitches, forms, st.booleans())
def test_a_written_scale_is_named(start: Pitch, form: str, up: bool) -> None:
    """A scale is named by its tonic and form; falling, the melodic minor is the natural."""
    wanted = "natural minor" if form == "melodic minor" and not up else form
    assert name_scale(scale_pitches(start, form, ascending=up)) == ((start.name, wanted),)


def test_what_is_no_scale_has_no_name() -> None:
    notes = scale_pitches(Pitch("C", 0, 4), "major")
    assert name_scale(notes[:-1]) == ()
    assert name_scale((*notes[:3], notes[3].altered(1), *notes[4:])) == ()
    assert name_scale((*notes[:3], notes[3].shifted(1), *notes[4:])) == ()


@pytest.mark.parametrize(
    ("text", "form"),
    [("Harmonic minor", "harmonic minor"), ("minor, melodic", "melodic minor"), ("aeolian", "natural minor")],
)
def test_reading_a_form(text: str, form: str) -> None:
    assert scale_form(text) == form


@pytest.mark.parametrize(
    "call",
    [
        lambda: scale_form("dorian"),
        lambda: scale_names(NoteName("C"), "dorian"),
        lambda: semitones(""),
        lambda: chromatic(NoteName("C"), "arbitrary"),
        lambda: chromatic(NoteName("C"), "harmonic", mode="dorian"),
        lambda: chromatic(NoteName("C"), "melodic", mode="dorian"),
    ],
)
def test_a_form_that_is_none_is_refused(call: object) -> None:
    with pytest.raises(UnknownScaleError):
        call()  # type: ignore[operator]


conventions = st.sampled_from(CHROMATIC_FORMS)
modes = st.sampled_from(("major", "minor"))


@given(keys, conventions, st.booleans())
def test_a_chromatic_scale_is_thirteen_semitones_apart(key: Key, convention: str, up: bool) -> None:
    """Thirteen notes a semitone apart, both ends alike, each letter once or twice, in every spelling accepted."""
    start = Pitch(key.tonic.step, key.tonic.alter, 5)
    notes = chromatic_pitches(start, convention, mode=key.mode, ascending=up)
    assert chromatic_faults(notes, key.tonic) == ()
    assert is_chromatic(notes)
    assert notes[-1] == start.shifted(1 if up else -1)


@given(keys, st.booleans())
def test_the_melodic_form_keeps_the_key(key: Key, up: bool) -> None:
    """The melodic chromatic scale keeps each note of the key, raising between them upwards and lowering downwards."""
    names = chromatic(key.tonic, "melodic", mode=key.mode, ascending=up)
    form = "natural minor" if key.is_minor else "major"
    assert set(scale_names(key.tonic, form)) <= set(names)
    for name in names:
        if not key.holds(name) and name not in scale_names(key.tonic, "melodic minor" if key.is_minor else "major"):
            assert (name.alter > key.alter_of(name.step)) == up


@given(keys)
def test_the_harmonic_form_is_one_spelling(key: Key) -> None:
    """The harmonic chromatic scale is spelt alike in both modes and both ways: all but 1 and 5 come twice."""
    up = chromatic(key.tonic, mode="major")
    assert up == chromatic(key.tonic, mode="minor", ascending=False)[::-1]
    letters = [name.step for name in up[:-1]]
    once = {letter for letter in letters if letters.count(letter) == 1}
    fifth = scale_names(key.tonic, "major")[4].step
    assert once == {key.tonic.step, fifth}


# Gehrkens, Music Notation and Terminology (1914) §§93-94: sharps up, flats down, though F sharp and B flat
# serve both ways.
# Harmonic form: common practice.
@pytest.mark.parametrize(
    ("notes", "right"),
    [
        ("C4 C#4 D4 D#4 E4 F4 F#4 G4 G#4 A4 A#4 B4 C5", True),
        ("C5 B4 Bb4 A4 Ab4 G4 Gb4 F4 E4 Eb4 D4 Db4 C4", True),
        ("C5 B4 Bb4 A4 Ab4 G4 F#4 F4 E4 Eb4 D4 Db4 C4", True),
        ("C4 Db4 D4 Eb4 E4 F4 F#4 G4 Ab4 A4 Bb4 B4 C5", True),
        ("C4 C#4 D4 D#4 E4 E#4 F#4 G4 G#4 A4 A#4 B4 C5", True),
        ("C4 C#4 D4 D#4 E4 F4 Gb4 G4 G#4 A4 A#4 B4 C5", False),
        ("C4 C#4 D4 D#4 E4 F4 Gb4 G4 Ab4 A4 A#4 B4 B#4", False),
        ("C4 C#4 D4 D#4 E4 F4 Gb4 G4 G#4 A4 A#4 A##4 C5", False),
        ("C4 C#4 D4 D#4 Fb4 F4 F#4 G4 G#4 A4 A#4 B4 C5", False),
        ("C4 C#4 D4 D#4 E4 F4 F#4 G4 G#4 A4 B4 B4 C5", False),
        ("C4 C#4 D4", False),
    ],
)
def test_accepted_chromatic_scales(notes: str, right: bool) -> None:
    assert is_chromatic([Pitch.parse(note) for note in notes.split()]) is right


def test_chromatic_faults_are_named() -> None:
    notes = [Pitch.parse(n) for n in "C4 C#4 D4 D#4 E4 F4 F#4 G4 G#4 A4 A#4 A##4 C5".split()]
    assert chromatic_faults(notes) == ("the letter A comes 3 times", "the letter B is missing")
    assert chromatic_faults(chromatic_pitches(Pitch("D", 0, 4)), NoteName("C")) == ("it does not begin on C",)
