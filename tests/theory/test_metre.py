"""The table of time signatures, against published classes."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stavewright.theory.duration import Duration
from stavewright.theory.metre import ALL_TIMES, COMMON, CUT, TimeSignature, TimeSignatureError

OMT = "Open Music Theory (version 1), meter"
OU = "The Open University, An introduction to music theory (2016) §3.6"
times = st.sampled_from(ALL_TIMES)

# figures, class, beat, source
CLASSES = [
    ("2/4", "simple duple", "crotchet", f"{OMT}; {OU}"),
    ("3/4", "simple triple", "crotchet", f"{OMT}; {OU}"),
    ("4/4", "simple quadruple", "crotchet", f"{OMT}; {OU}"),
    ("C", "simple quadruple", "crotchet", "Gehrkens, Music Notation and Terminology (1914) §100"),
    ("2/2", "simple duple", "minim", OMT),
    ("cut C", "simple duple", "minim", "Gehrkens (1914) §103"),
    ("3/2", "simple triple", "minim", OMT),
    ("4/2", "simple quadruple", "minim", OMT),
    ("3/8", "simple triple", "quaver", f"{OU}; three libraries disagree"),
    ("2/8", "simple duple", "quaver", "from memory"),
    ("4/8", "simple quadruple", "quaver", "from memory"),
    ("3/16", "simple triple", "semiquaver", "from memory"),
    ("6/8", "compound duple", "dotted crotchet", OMT),
    ("9/8", "compound triple", "dotted crotchet", OMT),
    ("12/8", "compound quadruple", "dotted crotchet", OMT),
    ("6/4", "compound duple", "dotted minim", OMT),
    ("9/4", "compound triple", "dotted minim", OMT),
    ("12/4", "compound quadruple", "dotted minim", "from memory"),
    ("6/16", "compound duple", "dotted quaver", OMT),
    ("9/16", "compound triple", "dotted quaver", OMT),
    ("12/16", "compound quadruple", "dotted quaver", OMT),
    ("5/4", "irregular quintuple", "crotchet", "common practice"),
    ("5/8", "irregular quintuple", "quaver", "common practice"),
    ("7/4", "irregular septuple", "crotchet", "common practice"),
    ("7/8", "irregular septuple", "quaver", "common practice"),
]


@pytest.mark.parametrize(("figures", "description", "beat", "source"), CLASSES)
def test_classes(figures: str, description: str, beat: str, source: str) -> None:
    time = TimeSignature.parse(figures)
    assert (time.description, time.beat.text, time.text) == (description, beat, figures), source


def test_every_row_is_checked_here() -> None:
    assert {figures for figures, *_ in CLASSES} == {time.text for time in (*ALL_TIMES, COMMON, CUT)}


@given(times)
def test_beats_fill_the_bar(time: TimeSignature) -> None:
    """The main beats, or the groups of an irregular bar, fill it without gap or overlap."""
    for grouping in time.groupings or (None,):
        at = 0
        for start, length in time.spans(grouping):
            assert start == at
            at += length
        assert at == time.ticks
    assert time.count * time.beat.ticks == time.ticks


@given(times)
def test_dots_and_kind_agree(time: TimeSignature) -> None:
    """The beat is dotted in compound time and only there; only irregular bars have groupings."""
    assert (time.beat.dots == 1) == (time.kind == "compound")
    assert bool(time.groupings) == (time.kind == "irregular")


@given(times)
def test_the_middle_is_the_start_of_a_beat(time: TimeSignature) -> None:
    """Duple and quadruple bars have a middle, where a beat begins; others have none."""
    if time.count in (2, 4):
        assert time.middle in {start for start, _ in time.spans()}
    else:
        assert time.middle is None


@pytest.mark.parametrize("said", ["7/16", "4/5", "0/4", "3", "", "3/4/4", "\u00b2/\u2074", "3/\u00b2", "-3/4", "c/4"])
def test_unknown_signatures_list_the_known(said: str) -> None:
    with pytest.raises(TimeSignatureError, match=r"known: 2/2, .*7/8, C \(4/4\), cut C \(2/2\)"):
        TimeSignature.parse(said)


def test_signs_mean_their_figures() -> None:
    """C is 4/4 and cut C 2/2 (Gehrkens (1914) §103); the sign is a different print of the same metre."""
    assert (COMMON.figures, CUT.figures) == ("4/4", "2/2")
    assert TimeSignature(4, 4) != COMMON
    assert COMMON.plain == TimeSignature(4, 4)
    assert TimeSignature.parse("C|") == TimeSignature.parse("alla breve") == TimeSignature.parse("\U0001d135") == CUT
    with pytest.raises(TimeSignatureError, match="common is 4/4"):
        TimeSignature(3, 4, "common")


def test_groupings_are_named_or_refused() -> None:
    quaver = Duration("quaver").ticks
    assert TimeSignature(7, 8).spans((2, 3, 2)) == ((0, 2 * quaver), (2 * quaver, 3 * quaver), (5 * quaver, 2 * quaver))
    with pytest.raises(TimeSignatureError, match=r"accepted: 3\+2, 2\+3"):
        TimeSignature(5, 8).spans((4, 1))
    with pytest.raises(TimeSignatureError, match="not irregular"):
        TimeSignature(4, 4).spans((2, 2))


def test_meaning_in_both_words() -> None:
    """What the figures say, in British and American words (common practice)."""
    assert TimeSignature(3, 2).meaning() == "3 minim beats in a bar"
    assert TimeSignature(9, 8).meaning("us") == "3 dotted quarter note beats in a measure"


def test_beats_by_place() -> None:
    """Each tick belongs to one main beat; four beats are accented on 1 and 3 (Gehrkens (1914) §100)."""
    quaver = Duration("quaver").ticks
    assert [TimeSignature(4, 4).beat_at(place * quaver)[0] for place in range(8)] == [1, 1, 2, 2, 3, 3, 4, 4]
    assert [TimeSignature(9, 8).beat_at(place * quaver) for place in (0, 2, 3)] == [(1, 0), (1, 2 * quaver), (2, 0)]
    assert TimeSignature(4, 2).strong_beats == (1, 3)
    assert TimeSignature(3, 4).strong_beats == (1,)
    with pytest.raises(TimeSignatureError, match="inside"):
        TimeSignature(2, 4).beat_at(4 * quaver)
