"""Names and lengths of values, against the published tables."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stavewright.theory.duration import CROTCHET_TICKS, VALUES, Duration, DurationError, Tuplet, of_ticks, total_ticks

durations = st.builds(Duration, st.sampled_from(VALUES), st.integers(0, 3))
tuplets = st.sampled_from(
    [Tuplet(2, 3), Tuplet(3, 2), Tuplet(4, 3), Tuplet(5, 4), Tuplet(6, 4), Tuplet(7, 4), Tuplet(9, 8)]
)

# Schmidt-Jones, Understanding Basic Music Theory, m11887; LilyPond Music Glossary, duration names
NAMES = {
    "breve": "double whole note",
    "semibreve": "whole note",
    "minim": "half note",
    "crotchet": "quarter note",
    "quaver": "eighth note",
    "semiquaver": "16th note",
    "demisemiquaver": "32nd note",
}


@pytest.mark.parametrize(("british", "american"), NAMES.items())
def test_names(british: str, american: str) -> None:
    value = Duration(british)
    assert (value.text, value.name("us")) == (british, american)
    assert value.name(rest=True) == f"{british} rest"
    assert value.name("us", rest=True) == american.replace("note", "rest")
    assert Duration.parse(british) == Duration.parse(american) == Duration.parse(f"{british} rest") == value


@pytest.mark.parametrize(
    ("whole", "parts", "part"),
    [
        # Gehrkens, Music Notation and Terminology (1914) §49-51
        ("dotted minim", 3, "crotchet"),
        ("double-dotted crotchet", 7, "semiquaver"),
        ("dotted crotchet", 3, "quaver"),
        # one, two and three dots: x 3/2, 7/4, 15/8
        ("triple-dotted minim", 15, "semiquaver"),
        ("breve", 2, "semibreve"),
        ("semibreve", 32, "demisemiquaver"),
    ],
)
def test_how_many_in(whole: str, parts: int, part: str) -> None:
    assert Duration.parse(whole).ticks == parts * Duration.parse(part).ticks


@pytest.mark.parametrize(
    ("said", "value"),
    [
        ("sixteenth note", Duration("semiquaver")),
        ("Dotted Half", Duration("minim", 1)),
        ("crotchet..", Duration("crotchet", 2)),
        ("doubly dotted quarter notes", Duration("crotchet", 2)),
        ("triplet quaver", Duration("quaver", 0, Tuplet(3, 2))),
        ("quavers", Duration("quaver")),
    ],
)
def test_parse_is_generous(said: str, value: Duration) -> None:
    assert Duration.parse(said) == value


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        (lambda: Duration("crochet"), "known: breve"),
        (lambda: Duration("crotchet", 4), "0 to 3 dots"),
        (lambda: Duration.parse("fifth note"), "crotchet \\(quarter\\)"),
        (lambda: Duration.parse(""), "known"),
        (lambda: Tuplet(1, 2), "2 to 9"),
        (lambda: Tuplet(3, 3), "no tuplet"),
        (lambda: Tuplet(3, 0), "1 to 16"),
        (lambda: Duration("breve").scaled(1), "no value"),
    ],
)
def test_bad_input_says_what_is_right(wrong: object, said: str) -> None:
    assert callable(wrong)
    with pytest.raises(DurationError, match=said):
        wrong()


@given(durations)
def test_each_dot_adds_half_of_the_one_before(duration: Duration) -> None:
    """A dot lengthens the note by half, a second dot by half of the first dot."""
    plain = Duration(duration.type).ticks
    assert duration.ticks * 2**duration.dots == plain * (2 ** (duration.dots + 1) - 1)


@given(durations, tuplets)
def test_a_tuplet_takes_the_time_of_its_normal_number(duration: Duration, tuplet: Tuplet) -> None:
    """As many notes as the figure says last as long as the ordinary number of the same value, to the tick."""
    shown = Duration(duration.type, duration.dots, tuplet)
    assert total_ticks([shown] * tuplet.actual) == total_ticks([duration] * tuplet.normal)


@given(durations)
def test_names_and_lengths_lead_back(duration: Duration) -> None:
    """A value's name, in either words, and its length each find the value again."""
    assert Duration.parse(duration.text) == Duration.parse(duration.name("us", plural=True)) == duration
    assert of_ticks(duration.ticks, max_dots=3) == duration


def test_lengths_no_value_has() -> None:
    """Five quavers are not one value (common practice)."""
    assert of_ticks(5 * CROTCHET_TICKS // 2) is None
    assert of_ticks(7 * CROTCHET_TICKS // 2, max_dots=1) is None
    assert of_ticks(0) is None


def test_tails() -> None:
    """Crotchets and longer have no tail; each value below has one more (Gehrkens (1914) §1)."""
    assert [Duration(value).tails for value in VALUES] == [0, 0, 0, 0, 1, 2, 3, 4]
