"""UK and US words. Source of the pairs: LilyPond Music Glossary, "duration names"; Open Music Theory v1, cadences."""

from __future__ import annotations

import pytest

from stavewright.questions.wording import UK_TO_US, us_words


@pytest.mark.parametrize("uk", UK_TO_US)
def test_words_said_in_us_words_already_stay_as_they_are(uk: str) -> None:
    once = us_words(uk)
    assert once == UK_TO_US[uk]
    assert us_words(once) == once


@pytest.mark.parametrize(
    ("uk", "us"),
    [
        ("Leading note", "Leading tone"),
        ("a tone and a semitone", "a whole step and a half step"),
        ("two breve rests in the last bar", "two double whole rests in the last measure"),
        ("a bar line", "a bar line"),
        ("a dotted demisemiquaver rest", "a dotted 32nd rest"),
    ],
)
def test_whole_phrases(uk: str, us: str) -> None:
    assert us_words(uk) == us
