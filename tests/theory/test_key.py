"""Keys and signatures against published tables, music21 and partitura."""

from __future__ import annotations

import pytest
from hypothesis import given
from music21 import key as music21_key
from partitura.utils.music import fifths_mode_to_key_name, key_name_to_fifths_mode

from stavewright.theory.clef import CLEFS, clef
from stavewright.theory.errors import UnknownKeyError
from stavewright.theory.key import (
    ALL_KEYS,
    Key,
    key_of,
    nearest_key,
    signature_alter,
    signature_layout,
    signature_signs,
    signature_text,
)
from stavewright.theory.pitch import STEPS, NoteName
from theory.any_pitch import keys

# Majors: Gehrkens, Music Notation and Terminology (1914) §83, plates. Minors: the same, §§88-89, but d sharp from
# Clementi, Introduction to the Art of Playing on the Piano Forte (1801), and a sharp, e flat, a flat from memory.
PUBLISHED = {
    0: ("C", "a", ""),
    1: ("G", "e", "F#"),
    2: ("D", "b", "F# C#"),
    3: ("A", "f#", "F# C# G#"),
    4: ("E", "c#", "F# C# G# D#"),
    5: ("B", "g#", "F# C# G# D# A#"),
    6: ("F#", "d#", "F# C# G# D# A# E#"),
    7: ("C#", "a#", "F# C# G# D# A# E# B#"),
    -1: ("F", "d", "Bb"),
    -2: ("Bb", "g", "Bb Eb"),
    -3: ("Eb", "c", "Bb Eb Ab"),
    -4: ("Ab", "f", "Bb Eb Ab Db"),
    -5: ("Db", "bb", "Bb Eb Ab Db Gb"),
    -6: ("Gb", "eb", "Bb Eb Ab Db Gb Cb"),
    -7: ("Cb", "ab", "Bb Eb Ab Db Gb Cb Fb"),
}

# Open Music Theory, version 1, keySignatures, pictures.
LAYOUTS = {
    "treble": ("F5 C5 G5 D5 A4 E5 B4", "B4 E5 A4 D5 G4 C5 F4"),
    "alto": ("F4 C4 G4 D4 A3 E4 B3", "B3 E4 A3 D4 G3 C4 F3"),
    "tenor": ("F3 C4 G3 D4 A3 E4 B3", "B3 E4 A3 D4 G3 C4 F3"),
    "bass": ("F3 C3 G3 D3 A2 E3 B2", "B2 E3 A2 D3 G2 C3 F2"),
}


@pytest.mark.parametrize("fifths", PUBLISHED)
def test_published_signatures(fifths: int) -> None:
    major, minor, signs = PUBLISHED[fifths]
    assert (key_of(fifths, "major").short, key_of(fifths, "minor").short) == (major, minor)
    assert [sign.short for sign in signature_signs(fifths)] == signs.split()
    assert Key.parse(major).relative == Key.parse(minor)
    assert Key.parse(minor).relative == Key.parse(major)
    assert Key.parse(minor).signature == Key.parse(major).signature


@pytest.mark.parametrize("name", CLEFS)
@pytest.mark.parametrize("fifths", range(-7, 8))
def test_published_layouts(name: str, fifths: int) -> None:
    sharps, flats = LAYOUTS[name]
    places = (sharps if fifths > 0 else flats).split()[: abs(fifths)]
    layout = signature_layout(fifths, clef(name))
    assert [f"{sign.step}{sign.octave}" for sign in layout] == places
    assert [sign.name for sign in layout] == list(signature_signs(fifths))


@given(keys)
def test_a_signature_never_leaves_the_stave_by_more_than_a_space(key: Key) -> None:
    """Signs of a signature stand on the stave, or in the space just above it, in every clef."""
    for shape in CLEFS.values():
        assert all(-1 <= shape.place(sign) <= 9 for sign in signature_layout(key.fifths, shape))


@given(keys)
def test_relative_keys_are_a_minor_third_apart(key: Key) -> None:
    """The relative minor lies three semitones below its major, with the same signature."""
    major, minor = (key.relative, key) if key.is_minor else (key, key.relative)
    assert (major.tonic.pitch_class - minor.tonic.pitch_class) % 12 == 3
    assert (major.tonic.index - minor.tonic.index) % 7 == 2
    assert major.fifths == minor.fifths
    assert key.relative.relative == key


@given(keys)
def test_enharmonic_keys_have_twelve_signs_between_them(key: Key) -> None:
    """The signs of two enharmonic keys add to twelve: five and seven, or six and six."""
    twin = key.enharmonic
    if abs(key.fifths) < 5:
        assert twin is None
    else:
        assert twin is not None
        assert abs(key.fifths) + abs(twin.fifths) == 12
        assert twin.tonic.pitch_class == key.tonic.pitch_class
        assert twin.enharmonic == key


# Gehrkens, Music Notation and Terminology (1914) §§27, 83.
@pytest.mark.parametrize(("one", "other"), [("B", "Cb"), ("F#", "Gb"), ("C#", "Db")])
def test_published_enharmonic_keys(one: str, other: str) -> None:
    assert Key.parse(one).enharmonic == Key.parse(other)


@given(keys)
def test_the_leading_note_is_a_semitone_below_the_tonic(key: Key) -> None:
    """The leading note is the letter below the tonic, a semitone lower."""
    assert (key.tonic.pitch_class - key.leading_note.pitch_class) % 12 == 1
    assert (key.tonic.index - key.leading_note.index) % 7 == 1
    assert key.holds(key.leading_note) != key.is_minor


@given(keys)
def test_a_key_holds_its_signature(key: Key) -> None:
    """Each letter belongs to the key in one height only, the one its signature gives."""
    for step in STEPS:
        assert [alter for alter in range(-2, 3) if key.holds(NoteName(step, alter))] == [key.alter_of(step)]
        signs = {sign.step: sign.alter for sign in key.signature}
        assert key.alter_of(step) == signature_alter(key.fifths, step) == signs.get(step, 0)


@given(keys)
def test_a_key_reads_back(key: Key) -> None:
    """What is written for a key is what is read, in words or as a letter."""
    forms = (key.text, key.short, f"{key.tonic.short} {key.mode}", f"{key.tonic.symbol} {key.mode[:3]}")
    assert {Key.parse(form) for form in forms} == {key}


@given(keys)
def test_music21_agrees_on_the_signature(key: Key) -> None:
    """music21 gives the same number of sharps or flats, on the same letters."""
    letter = key.short[0]
    other = music21_key.Key(letter + key.short[1:].replace("b", "-"))
    assert other.sharps == key.fifths
    assert [pitch.name.replace("-", "b") for pitch in other.alteredPitches] == [sign.short for sign in key.signature]


def test_partitura_agrees_on_all_thirty_keys() -> None:
    names = set()
    for key in ALL_KEYS:
        name = fifths_mode_to_key_name(key.fifths, key.mode)
        assert key_name_to_fifths_mode(name) == (key.fifths, key.mode)
        assert name.removesuffix("m") == key.tonic.short
        names.add(name)
    assert len(names) == 30


@pytest.mark.parametrize(
    ("key", "parallel"), [("C", "c"), ("a", "A"), ("Db", "c#"), ("Gb", "f#"), ("Cb", "b"), ("g#", "Ab")]
)
def test_parallel_keys(key: str, parallel: str) -> None:
    # Common practice: a parallel key past seven signs is written as its enharmonic.
    assert Key.parse(key).parallel == Key.parse(parallel)


@pytest.mark.parametrize(("text", "fifths"), [("G# major", 8), ("Fb", 8), ("d# major", 9), ("Fb minor", 11)])
def test_a_key_past_seven_signs_is_refused_with_its_twin(text: str, fifths: int) -> None:
    with pytest.raises(UnknownKeyError, match=f"would need {fifths} signs: use "):
        Key.parse(text)


@pytest.mark.parametrize("text", ["", "H", "C mixolydian", "major", "C4", "minor A", "Am7"])
def test_a_text_that_is_no_key_is_refused(text: str) -> None:
    with pytest.raises(UnknownKeyError):
        Key.parse(text)


@pytest.mark.parametrize("fifths", [8, -8, 2.5])
def test_a_number_that_is_no_signature_is_refused(fifths: int) -> None:
    for call in (
        signature_signs,
        signature_text,
        lambda f: key_of(f, "major"),
        lambda f: signature_layout(f, CLEFS["bass"]),
    ):
        with pytest.raises(UnknownKeyError, match="-7"):
            call(fifths)


def test_a_mode_that_is_none_is_refused() -> None:
    with pytest.raises(UnknownKeyError, match="'major' or 'minor'"):
        key_of(0, "dorian")
    with pytest.raises(UnknownKeyError, match="'major' or 'minor'"):
        Key(NoteName("C"), "dorian")


def test_signatures_in_words() -> None:
    assert [signature_text(n) for n in (-2, -1, 0, 1, 7)] == [
        "2 flats", "1 flat", "no sharps or flats", "1 sharp", "7 sharps",
    ]  # fmt: skip


def test_nearest_key_keeps_within_seven_signs() -> None:
    assert nearest_key(NoteName("B", 1), "major").text == "C major"
    assert len(set(ALL_KEYS)) == 30
