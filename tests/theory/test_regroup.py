"""The same sound written otherwise."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stavewright.theory.duration import TICKS, VALUES, Duration, Tuplet, total_ticks
from stavewright.theory.metre import ALL_TIMES, TimeSignature
from stavewright.theory.regroup import (
    RegroupError,
    as_one,
    as_ties,
    in_bar,
    other_kind,
    over_bars,
    rescaled,
    same_sound,
)

S, Q, C, M = (Duration(value) for value in ("semiquaver", "quaver", "crotchet", "minim"))


@given(st.sampled_from(VALUES[:5]), st.integers(1, 3))
def test_a_dot_is_a_tie(value: str, dots: int) -> None:
    """A dotted note is the plain note tied to its half, and so on for each dot."""
    dotted = Duration(value, dots)
    tied = as_ties(dotted)
    assert total_ticks(tied) == dotted.ticks
    assert all(part.dots == 0 for part in tied)
    assert [a.ticks for a in tied] == [tied[0].ticks >> place for place in range(dots + 1)]


@pytest.mark.parametrize(
    ("time", "start", "tied", "one"),
    [
        ("4/4", 0, [C, Q], "dotted crotchet"),
        ("4/4", 1, [C, Q], None),  # across the middle of 4/4: common practice
        ("3/4", 1, [C, Q], "dotted crotchet"),
        ("3/4", 2, [C, Q], None),  # over the bar line
        ("4/4", 0, [M, C, Q], "double-dotted minim"),
        ("4/4", 0, [M, Q], None),  # no value is five quavers long
        ("6/8", 0.5, [C, C], None),  # a minim across the beat of 6/8: from memory
        ("6/8", 0, [C, Q], "dotted crotchet"),
        ("2/4", 0.5, [Q, Q], "crotchet"),
        ("4/4", 1.5, [Q, Q], None),  # across the middle
        ("4/4", 0, [M, M], "semibreve"),
    ],
)
def test_a_tie_is_a_dot_where_the_metre_allows(time: str, start: float, tied: list[Duration], one: str | None) -> None:
    found = as_one(tied, TimeSignature.parse(time), round(start * C.ticks))
    assert (found.text if found else None) == one


@st.composite
def sounds(draw: st.DrawFn) -> tuple[TimeSignature, int, int]:
    time = draw(st.sampled_from(ALL_TIMES))
    step = TICKS["semiquaver"]
    start = draw(st.integers(0, time.ticks // step - 1))
    return time, start * step, draw(st.integers(1, time.ticks // step - start)) * step


@given(sounds())
def test_tied_values_add_up_and_keep_the_middle(sound: tuple[TimeSignature, int, int]) -> None:
    """A sound in a bar is written in values that add up, none of which hides the middle of a bar of four."""
    time, start, length = sound
    row = in_bar(start, length, time)
    assert total_ticks(row) == length
    at = start
    for value in row:
        assert time.count != 4 or time.middle is None or at == 0 or not at < time.middle < at + value.ticks
        at += value.ticks


def test_over_bar_lines() -> None:
    """A minim on the third beat of 3/4 is two tied crotchets (common practice)."""
    assert over_bars(2 * C.ticks, M.ticks, TimeSignature(3, 4)) == ((C,), (C,))
    assert [len(bar) for bar in over_bars(0, 9 * C.ticks, TimeSignature(4, 4))] == [1, 1, 1]


def test_values_twice_or_half_as_long() -> None:
    """3/4 in doubled values is 3/2, in halved values 3/8; 6/8 doubled is 6/4 (common practice)."""
    bar = [(C, False), (Q, True), (Q, False), (C, False)]
    doubled, time = rescaled(bar, TimeSignature(3, 4), 1)
    assert (time.text, [value.text for value, _ in doubled]) == ("3/2", ["minim", "crotchet", "crotchet", "minim"])
    assert rescaled(bar, TimeSignature(3, 4), -1)[1].text == "3/8"
    assert rescaled([], TimeSignature(6, 8), 1)[1].text == "6/4"
    assert rescaled(doubled, time, -1) == (tuple(bar), TimeSignature(3, 4))
    with pytest.raises(RegroupError, match="2/1, which is not in use"):
        rescaled([], TimeSignature(2, 2), 1)


@pytest.mark.parametrize(
    ("simple", "compound"),
    [("2/4", "6/8"), ("3/4", "9/8"), ("4/4", "12/8"), ("2/2", "6/4"), ("3/2", "9/4"), ("2/8", "6/16"), ("3/8", "9/16")],
)
def test_twins(simple: str, compound: str) -> None:
    """A compound metre's figures are three times and twice its simple twin's (Open Music Theory, meter)."""
    assert other_kind(TimeSignature.parse(simple)).text == compound
    assert other_kind(TimeSignature.parse(compound)).text == simple


def test_metres_without_a_twin() -> None:
    with pytest.raises(RegroupError, match="irregular"):
        other_kind(TimeSignature(5, 4))
    with pytest.raises(RegroupError, match="9/32"):
        other_kind(TimeSignature(3, 16))


TRIPLET, DUPLET = Tuplet(3, 2), Tuplet(2, 3)


@pytest.mark.parametrize(
    ("time", "bar", "twin"),
    [
        # 2/4 with triplets is 6/8; a duplet is two quavers of 2/4 (Gehrkens (1914) §55; Hutchinson, duplet)
        ("2/4", [Duration("quaver", 0, TRIPLET)] * 3 + [C], [Q, Q, Q, Duration("crotchet", 1)]),
        ("2/4", [Q, Q, C], [Duration("quaver", 0, DUPLET)] * 2 + [Duration("crotchet", 1)]),
        ("2/4", [M], [Duration("minim", 1)]),
        ("6/8", [C, Q, Duration("crotchet", 1)], [Duration("crotchet", 0, TRIPLET), Duration("quaver", 0, TRIPLET), C]),
        ("6/8", [Duration("quaver", 0, DUPLET)] * 2 + [Duration("crotchet", 1)], [Q, Q, C]),
        ("2/4", [S] * 4 + [C], [Duration("semiquaver", 0, Tuplet(4, 6))] * 4 + [Duration("crotchet", 1)]),
    ],
)
def test_the_same_sound(time: str, bar: list[Duration], twin: list[Duration]) -> None:
    written, _ = same_sound([(value, False) for value in bar], TimeSignature.parse(time))
    assert [value for value, _ in written] == twin


@given(st.lists(st.sampled_from([(3,), (1, 2), (2, 1), (1, 1, 1)]), min_size=1, max_size=4))
def test_beat_for_beat(beats: list[tuple[int, ...]]) -> None:
    """In the twin metre every note keeps its share of the beat, and the way back restores the writing."""
    time = TimeSignature(12, 8)
    values = {1: Q, 2: C, 3: Duration("crotchet", 1)}
    events = [(values[third], False) for beat in beats for third in beat]
    written, twin = same_sound(events, time)
    assert [v.ticks * time.beat.ticks for v, _ in written] == [v.ticks * twin.beat.ticks for v, _ in events]
    assert same_sound(written, twin) == (tuple(events), time)


def test_what_cannot_be_rewritten() -> None:
    with pytest.raises(RegroupError, match="crosses a beat"):
        same_sound([(Q, False), (C, False), (Q, False)], TimeSignature(2, 4))
    with pytest.raises(RegroupError, match="not full"):
        same_sound([(Q, False)], TimeSignature(2, 4))
