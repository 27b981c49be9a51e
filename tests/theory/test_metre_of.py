"""The time signatures of a bar: decided by length, values and beams."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stavewright.theory.duration import Duration, Tuplet
from stavewright.theory.grouping import beam
from stavewright.theory.metre import ALL_TIMES, COMMON, CUT, TimeSignature
from stavewright.theory.metre_of import MetreOfError, also_written, fitting_all, fitting_times, of_length

LETTERS = {"w": "semibreve", "m": "minim", "c": "crotchet", "q": "quaver", "s": "semiquaver"}


def bar(letters: str) -> list[tuple[Duration, bool]]:
    events = []
    for word in letters.split():
        note = word.lstrip("-")
        tuplet = Tuplet(3, 2) if note.endswith("3") else None
        events.append((Duration(LETTERS[note[0]], note.count("."), tuplet), word.startswith("-")))
    return events


def beams(marks: str) -> list[int | None]:
    return [None if mark == "-" else int(mark) for mark in marks]


@pytest.mark.parametrize(
    ("letters", "marks", "times", "source"),
    [
        # six quavers fit 3/4 and 6/8: the beams decide (The Open University (2016) §3.6, 3.9)
        ("q q q q q q", "000111", {"6/8"}, "The Open University (2016) §3.9"),
        ("q q q q q q", "001122", {"3/4"}, "The Open University (2016) §3.6"),
        ("q q q q q q", "000000", {"3/4"}, "The Open University (2016) §3.6"),
        ("c q c q", "----", {"6/8", "3/4"}, "common practice: 3/4 only as a syncopation"),
        ("c c c", "---", {"3/4"}, "from memory: crotchets cross the beat of 6/8"),
        ("m.", "-", {"3/4", "6/8", "12/16"}, "the length alone"),
        ("q q q q q q q q", "00001111", {"4/4", "2/2"}, "not told apart by one bar"),
        ("q q q q q q q q", "00112233", {"4/4"}, "pairs of quavers part the minim beat, from memory"),
        ("q q q", "000", {"3/8"}, "The Open University (2016) §3.6; 6/16 would tie"),
        ("q q q q q", "00011", {"5/8"}, "common practice"),
        ("q q q q q q q q q", "000111222", {"9/8"}, "The Open University (2016) §3.9"),
        ("c q3 q3 q3", "-000", {"2/4"}, "common practice"),
        ("c. c.", "--", {"6/8", "12/16"}, "common practice"),
    ],
)
def test_which_signatures_fit(letters: str, marks: str, times: set[str], source: str) -> None:
    found = {fit.time.text for fit in fitting_times(bar(letters), beams(marks))}
    assert times <= found <= times | {"4/8", "12/16", "6/16"}, source


def test_the_best_comes_first() -> None:
    """Crotchet-quaver twice is 6/8 before it is a syncopated 3/4 (common practice)."""
    fits = fitting_times(bar("c q c q"))
    assert [fit.time.text for fit in fits][:2] == ["6/8", "3/4"]
    assert fits[0].strength < fits[1].strength
    assert "2 dotted crotchet beats" in fits[0].reason


@pytest.mark.parametrize(
    ("letters", "marks", "first"),
    [
        ("c c m", "---", "4/4"),
        ("q q q q c c", "0000--", "4/4"),
        ("m m", "--", "4/4"),
        ("q q q q", "0011", "2/4"),
        ("c q q", "-00", "2/4"),
        ("c. c.", "--", "6/8"),
        ("c m c", "---", "4/4"),
    ],
)
def test_the_commoner_signature_comes_first_where_two_fit(letters: str, marks: str, first: str) -> None:
    """4/4 before 2/2 where nothing tells them apart; x/16, 2/8 and 4/8 last: no quartet by Haydn or Mozart in
    music21's corpus is in one of these.
    """
    assert fitting_times(bar(letters), beams(marks))[0].time.text == first


def test_several_bars_decide_together() -> None:
    rows = [(bar("m m"), None), (bar("q q q q q q q q"), beams("00112233"))]
    assert [fit.time.text for fit in fitting_all(rows)] == ["4/4"]


def test_refusals_name_what_the_length_allows() -> None:
    with pytest.raises(MetreOfError, match="by length alone: 3/4, 6/8, 12/16"):
        fitting_times(bar("q q q q q q"), beams("-00-11"))
    with pytest.raises(MetreOfError, match="silent or empty"):
        fitting_times(bar("-w"))
    with pytest.raises(MetreOfError, match="no one time signature"):
        fitting_all([(bar("c c c"), None), (bar("c c"), None)])


def test_signs_and_figures() -> None:
    """C is 4/4 and cut C is 2/2 (Gehrkens, Music Notation and Terminology (1914) §103)."""
    assert also_written(TimeSignature(4, 4)) == (COMMON,)
    assert also_written(CUT) == (TimeSignature(2, 2),)
    assert also_written(TimeSignature(3, 4)) == ()


@given(st.sampled_from(ALL_TIMES), st.integers(0, 1))
def test_a_bar_of_its_own_units_fits_its_metre(time: TimeSignature, smaller: int) -> None:
    """A bar filled with the lower figure's value, or its half, beamed as its metre prefers, may have that metre."""
    value = time.unit_value.scaled(-smaller)
    events = [(value, False)] * (time.beats << smaller)
    fits = fitting_times(events, beam(events, time))
    assert time in {fit.time for fit in fits}
    assert {fit.time for fit in fits} <= set(of_length(time.ticks))
