"""Degrees of the scale."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stavewright.theory.degree import (
    DEGREE_NAMES,
    Degree,
    accepted_degree_names,
    degree_from_name,
    degree_name,
    degree_number,
    degree_of,
    note_of_degree,
)
from stavewright.theory.errors import UnknownDegreeError, UnknownWordsError
from stavewright.theory.key import Key
from stavewright.theory.pitch import NoteName, Pitch
from stavewright.theory.scale import MINOR_FORMS, scale_names
from theory.any_pitch import keys, note_names

# Gehrkens, Music Notation and Terminology (1914) §91; leading tone, the same; superdominant, the same.
NAMES = "tonic supertonic mediant subdominant dominant submediant".split()


@pytest.mark.parametrize("number", range(1, 7))
def test_published_names(number: int) -> None:
    assert degree_name(number) == degree_name(number, words="us") == NAMES[number - 1]
    assert degree_from_name(NAMES[number - 1]) == number


def test_the_seventh_degree() -> None:
    # Leading note or tone: Gehrkens §91; the lowered 7th, Open Music Theory, version 1, for subtonic.
    assert (degree_name(7), degree_name(7, words="us"), degree_name(7, lowered=True)) == (
        "leading note",
        "leading tone",
        "subtonic",
    )
    assert accepted_degree_names(7) == ("leading note", "leading tone")
    assert accepted_degree_names(7, lowered=True) == ("subtonic", "leading note", "leading tone")
    assert accepted_degree_names(6) == ("submediant", "superdominant")
    assert degree_name(8) == "tonic"


@given(st.integers(1, 7), st.sampled_from(("uk", "us")))
def test_a_degree_name_reads_back(number: int, words: str) -> None:
    """Every name of a degree reads back as its number, in either kind of words."""
    assert degree_from_name(degree_name(number, words=words)) == number
    assert {degree_from_name(name) for name in accepted_degree_names(number)} == {number}


@given(keys, st.integers(1, 7))
def test_number_and_note_are_inverse(key: Key, number: int) -> None:
    """The note on a degree has that degree's number, in each form of the scale."""
    for form in MINOR_FORMS if key.is_minor else ("major",):
        note = note_of_degree(key, number, form)
        assert degree_number(note, key) == number
        assert note == scale_names(key.tonic, form)[number - 1]


@given(keys, note_names)
def test_a_key_owns_seven_notes_or_nine(key: Key, name: NoteName) -> None:
    """A major key owns its seven notes; a minor key also its raised 6th and 7th; all others are foreign."""
    forms = MINOR_FORMS if key.is_minor else ("major",)
    owned = {note for form in forms for note in scale_names(key.tonic, form)}
    assert (degree_number(name, key) is not None) == (name in owned)
    assert degree_of(name, key).number == (name.index - key.tonic.index) % 7 + 1


@given(keys)
def test_the_leading_note_is_the_seventh_degree(key: Key) -> None:
    """The leading note is the 7th degree, raised in a minor key."""
    assert degree_of(key.leading_note, key) == Degree(7, 1 if key.is_minor else 0)
    assert note_of_degree(key, 7) == key.leading_note
    assert note_of_degree(key, 8) == note_of_degree(key, 1) == key.tonic


def test_degrees_in_words() -> None:
    assert [Degree(7, 1).text, Degree(2, -1).text, Degree(5).text] == ["raised 7th", "lowered 2nd", "5th"]
    assert degree_of(Pitch("G", 1, 3), Key.parse("a")) == Degree(7, 1)


@pytest.mark.parametrize("number", [0, 9, -1, 2.0, True])
def test_a_number_that_is_no_degree_is_refused(number: int) -> None:
    for call in (degree_name, lambda n: note_of_degree(Key.parse("C"), n)):
        with pytest.raises(UnknownDegreeError, match="1 to 8"):
            call(number)


def test_words_and_names_that_are_none_are_refused() -> None:
    with pytest.raises(UnknownDegreeError):
        degree_from_name("seventh heaven")
    with pytest.raises(UnknownWordsError, match="'uk' or 'us'"):
        degree_name(1, words="fr")
    assert DEGREE_NAMES.keys() == {"uk", "us"}
