"""Cadences."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stavewright.theory.cadence import (
    CADENCES,
    accepted_cadence_names,
    cadence,
    cadence_pairs,
    cadence_reason,
    cadence_text,
    parse_cadence,
)
from stavewright.theory.chord import ChordLabel, chord_notes, identify
from stavewright.theory.errors import UnknownCadenceError, UnknownWordsError
from stavewright.theory.key import Key

labels = st.builds(ChordLabel, st.integers(1, 7), st.integers(0, 2))


# Gehrkens, Music Notation and Terminology (1914) §§203-207; Open Music Theory, version 1, cadenceTypes; Hutchinson.
# Pairs that make none, and Ic and IVb before V: common practice.
@pytest.mark.parametrize(
    ("pair", "name"),
    [
        ("V I", "perfect"),
        ("V7 I", "perfect"),
        ("IV I", "plagal"),
        ("I V", "imperfect"),
        ("II V", "imperfect"),
        ("IIb V", "imperfect"),
        ("IV V", "imperfect"),
        ("VI V", "imperfect"),
        ("Ic V", "imperfect"),
        ("IVb V", "imperfect"),
        ("V VI", "interrupted"),
        ("V7 VI", "interrupted"),
        ("V IV", None),
        ("V II", None),
        ("II I", None),
        ("I I", None),
        ("V V", None),
        ("Vb I", None),
        ("V Ib", None),
        ("IV Ic", None),
        ("I V7", None),
        ("I IV", None),
        ("V7d Ib", None),
        ("VII I", None),
    ],
)
def test_published_cadences(pair: str, name: str | None) -> None:
    first, last = map(ChordLabel.parse, pair.split())
    assert cadence(first, last) == name


# Worked by roots in C and a, and in G, B flat and D: they follow from the definitions above.
@pytest.mark.parametrize(
    ("key", "roots", "name"),
    [
        ("C", "G C", "perfect"),
        ("a", "E A", "perfect"),
        ("C", "F C", "plagal"),
        ("a", "D A", "plagal"),
        ("C", "C G", "imperfect"),
        ("a", "A E", "imperfect"),
        ("C", "G A", "interrupted"),
        ("a", "E F", "interrupted"),
        ("G", "D G", "perfect"),
        ("Bb", "F Bb", "perfect"),
        ("D", "A D", "perfect"),
        ("G", "C G", "plagal"),
        ("Bb", "Eb Bb", "plagal"),
        ("D", "G D", "plagal"),
        ("G", "A D", "imperfect"),
        ("Bb", "C F", "imperfect"),
        ("D", "E A", "imperfect"),
    ],
)
def test_worked_cadences(key: str, roots: str, name: str) -> None:
    home = Key.parse(key)
    every = {
        chord_notes(home, ChordLabel(degree))[0].short: chord_notes(home, ChordLabel(degree)) for degree in range(1, 8)
    }
    first, last = (identify(every[root], home) for root in roots.split())
    assert first is not None
    assert last is not None
    assert cadence(first, last) == name


@given(labels, labels)
def test_a_reason_names_the_cadence(first: ChordLabel, last: ChordLabel) -> None:
    """The reason given names the cadence, or says that there is none."""
    name = cadence(first, last)
    reason = cadence_reason(first, last)
    assert reason.startswith(f"{first.text} to {last.text} is ")
    if name is None:
        assert " is no" in reason
    else:
        assert f"{name} cadence" in reason
        assert (first, last) in cadence_pairs(name) or first.inversion or first.degree == 7


@given(labels)
def test_a_chord_that_stays_is_no_cadence(label: ChordLabel) -> None:
    """A chord that merely stays makes no cadence."""
    assert cadence(label, ChordLabel(label.degree)) is None


# Schmidt-Jones, Understanding Basic Music Theory, m12402: British and American names.
@pytest.mark.parametrize(
    ("name", "us"),
    [("perfect", "authentic"), ("plagal", "plagal"), ("imperfect", "half"), ("interrupted", "deceptive")],
)
def test_british_and_american_names(name: str, us: str) -> None:
    assert (cadence_text(name), cadence_text(name, "us")) == (f"{name} cadence", f"{us} cadence")
    assert {parse_cadence(each) for each in accepted_cadence_names(us)} == {name}
    assert parse_cadence(f"{us.title()} cadence") == name


def test_american_reason() -> None:
    assert cadence_reason(ChordLabel(5), ChordLabel(1), "us").startswith("V to I is an authentic cadence:")


def test_pairs_of_each_kind() -> None:
    counts = {name: len(cadence_pairs(name)) for name in CADENCES}
    assert counts == {"perfect": 2, "plagal": 1, "imperfect": 8, "interrupted": 2}


def test_names_that_are_none_are_refused() -> None:
    with pytest.raises(UnknownCadenceError, match="perfect, plagal, imperfect, interrupted"):
        parse_cadence("finished")
    with pytest.raises(UnknownWordsError):
        cadence_text("perfect", "fr")
