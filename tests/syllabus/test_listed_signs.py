"""The list of signs: what questions ask and what only the list holds, each with meaning, look, rivals and source."""

from __future__ import annotations

import pytest

from stavewright.syllabus.errors import BadSyllabus
from stavewright.syllabus.meanings import same_meaning
from stavewright.syllabus.signs import all_signs, listed_signs, read_signs, sign_of, signs_known

LISTED = [sign for sign in listed_signs().values() if sign.shown[0] == "glyph"]


def test_sixty_signs_and_more_and_most_confirmed() -> None:
    """The issue of the terms: 60 signs, four in five confirmed by a named source."""
    assert len(listed_signs()) == 68
    assert len(all_signs()) == 46
    confirmed = [sign for sign in listed_signs().values() if sign.source != "memory"]
    assert all(sign.source[0] in "GL" for sign in confirmed)
    assert len(confirmed) / len(listed_signs()) >= 0.9


def test_every_sign_is_mixed_up_with_another_and_looks_its_own_way() -> None:
    assert all(sign.confused and sign.id not in sign.confused for sign in listed_signs().values())
    assert all(sign.meaning and sign.where and sign.looks and sign.family for sign in listed_signs().values())
    for field in ("looks", "shown"):
        assert len({getattr(sign, field) for sign in listed_signs().values()}) == len(listed_signs())


def test_questions_ask_only_what_a_stave_shows() -> None:
    assert not [sign for sign in signs_known(5) if sign.shown[0] == "glyph"]
    assert sign_of("natural").shown == ("glyph", "U+E261")


@pytest.mark.parametrize("sign", LISTED, ids=lambda sign: sign.id)
def test_neither_look_nor_place_says_the_name(sign: object) -> None:
    one = sign_of(sign.id)  # type: ignore[attr-defined]
    assert f" {one.name} " not in f" {one.looks} {one.where} "


@pytest.mark.parametrize(
    "id_, said, source",
    [
        ("sharp", "half a step higher", "Gehrkens, Music Notation and Terminology (1914) §18"),
        ("flat", "half a step lower", "Gehrkens, Music Notation and Terminology (1914) §19"),
        ("double-sharp", "two semitones higher", "LilyPond Music Glossary, accidental"),
        ("double-flat", "two semitones lower", "LilyPond Music Glossary, accidental"),
        ("treble-clef", "the second line is G", "Gehrkens, Music Notation and Terminology (1914) §15"),
        ("bass-clef", "the fourth line is F", "Gehrkens, Music Notation and Terminology (1914) §15"),
    ],
)
def test_published_meanings(id_: str, said: str, source: str) -> None:
    assert any(same_meaning(said, one) for one in sign_of(id_).right("meaning")), source


SIGN = """[[sign]]
id = "{id}"
name = "x"
meaning = "y"
level = 1
family = "f"
where = "w"
looks = "l"
shown = ["glyph", "{glyph}"]
confused = []
source = "memory"
"""


def test_a_glyph_that_is_none_or_stands_twice_is_refused() -> None:
    with pytest.raises(BadSyllabus, match="not one like"):
        read_signs(SIGN.format(id="a", glyph="sharp"))
    with pytest.raises(BadSyllabus, match=r"a looks the same.*b looks the same"):
        read_signs(SIGN.format(id="a", glyph="U+E262") + SIGN.format(id="b", glyph="U+E262"))
