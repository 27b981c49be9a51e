"""Beaming: the published ways, the refused ones with their names, and the rules as properties."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stavewright.theory.duration import Duration, Tuplet
from stavewright.theory.grouping import (
    FAULTS,
    GroupingError,
    accepted_beamings,
    beam,
    is_accepted,
    wrong_beamings,
)
from stavewright.theory.metre import ALL_TIMES, TimeSignature

OU = "The Open University, An introduction to music theory (2016)"
LILY = "LilyPond default beaming table"
LETTERS = {"b": "breve", "w": "semibreve", "m": "minim", "c": "crotchet", "q": "quaver", "s": "semiquaver"}
LETTERS["d"] = "demisemiquaver"
Event = tuple[Duration, bool]


def bar(letters: str) -> list[Event]:
    """Short hand for a bar: q quaver, c. dotted crotchet, -q quaver rest, q3 in a triplet, q2 in a duplet."""
    events = []
    for word in letters.split():
        note = word.lstrip("-")
        tuplet = {"3": Tuplet(3, 2), "2": Tuplet(2, 3), "5": Tuplet(5, 4), "6": Tuplet(6, 4)}.get(note[-1])
        events.append((Duration(LETTERS[note[0]], note.count("."), tuplet), word.startswith("-")))
    return events


def sizes(groups: tuple[int | None, ...]) -> str:
    """Beams as the numbers of notes under them, "1" where there is none."""
    said: list[int] = []
    last: int | None = None
    for group in groups:
        if group is not None and group == last:
            said[-1] += 1
        else:
            said.append(1)
        last = group
    return "+".join(map(str, said))


# fmt: off
# time, bar, every accepted way with the preferred one first, source
ACCEPTED = [
    ("2/4", "q q q q", ["4", "2+2"], f"{OU} §3.6; {LILY}"),
    ("3/4", "q q q q q q", ["6", "4+2", "2+4", "2+2+2"], f"{OU} §3.6; {LILY}; 4+2 in 10%, 2+4 in 6% of 1,460 songs"),
    ("4/4", "q q q q q q q q", ["4+4", "4+2+2", "2+2+4", "2+2+2+2"], f"{OU} §3.6; {LILY}; Open Music Theory, beams"),
    ("4/4", "c q q q q c", ["1+2+2+1"], f"{OU} §3.6: a break at the middle"),
    ("3/4", "c q q q q", ["1+4", "1+2+2"], f"{OU} §3.6: four on beats 2 and 3"),
    ("3/4", "c. q q q", ["1+1+2"], "common practice: three quavers at the end would look like 6/8"),
    ("2/2", "q q q q q q q q", ["4+4"], "from memory: by minim; 99% in 1,460 songs"),
    ("3/2", "q q q q q q q q q q q q", ["4+4+4"], "from memory: by minim"),
    ("2/2", "s s s s q q m", ["6+1", "4+2+1"], "from memory: semiquavers by minim or by crotchet"),
    ("3/2", "q. s q q m m", ["4+1+1", "2+2+1+1"], "from memory: shorter notes by minim or by crotchet"),
    ("3/8", "q q q", ["3"], f"{OU} §3.6; {LILY}"),
    ("4/8", "q q q q", ["2+2", "4"], f"{LILY} (2+2); four in 23% of 1,460 songs"),
    ("6/8", "q q q q q q", ["3+3"], f"{OU} §3.9; {LILY}"),
    ("9/8", "q q q q q q q q q", ["3+3+3"], f"{OU} §3.9; {LILY}"),
    ("12/8", "q q q q q q q q q q q q", ["3+3+3+3"], f"{OU} §3.9; {LILY}"),
    ("6/16", "s s s s s s", ["3+3"], "from memory: one beat each"),
    ("5/8", "q q q q q", ["3+2", "2+3"], f"{LILY} (3+2); 2+3 common practice"),
    ("7/8", "q q q q q q q", ["2+2+3", "3+2+2", "2+3+2", "4+3", "3+4"], "from memory"),
    ("2/4", "s s s s s s s s", ["4+4"], f"{OU} §3.6; {LILY}"),
    ("4/4", "s s s s q q m", ["4+2+1"], f"{OU} §3.6: semiquavers by beat"),
    ("2/4", "q. s q q", ["2+2"], f"{OU} §3.6"),
    ("2/4", "d d d d d d d d c", ["8+1", "4+4+1"], "from memory; quartets by Haydn in music21's corpus have both"),
    ("2/4", "s. d s d d c", ["5+1", "2+3+1"], "from memory: half beats, each with a demisemiquaver"),
    ("2/4", "q d d d d c", ["5+1"], "from memory: a quaver is not left alone"),
    ("6/8", "q c q q q", ["1+1+3"], f"{OU} §3.9"),
    ("6/8", "q. s q q. s q", ["3+3"], f"{OU} §3.9"),
    ("4/4", "q c q q c q", ["1+1+1+1+1+1"], "common practice: syncopated quavers keep their tails"),
    ("4/4", "-q q q q m", ["1+1+2+1", "1+3+1"], f"{LILY} (three); by beat common practice"),
    ("2/4", "q3 q3 q3 q3 q3 q3", ["3+3"], "common practice: each triplet its own beam"),
    ("6/8", "q2 q2 q q q", ["2+3"], "common practice: each duplet its own beam"),
    ("4/4", "q5 q5 q5 q5 q5 m", ["5+1"], "common practice: an irregular group is one beam"),
    ("4/4", "w", ["1"], "no tails"),
]
# fmt: on


@pytest.mark.parametrize(("time", "letters", "ways", "source"), ACCEPTED)
def test_published_ways(time: str, letters: str, ways: list[str], source: str) -> None:
    found = accepted_beamings(bar(letters), TimeSignature.parse(time))
    assert [sizes(beaming.groups) for beaming in found][:1] == ways[:1], source
    assert sorted(sizes(beaming.groups) for beaming in found) == sorted(ways), source
    assert [beaming.preferred for beaming in found] == [True] + [False] * (len(ways) - 1)
    assert all(beaming.reason for beaming in found)


@pytest.mark.parametrize(
    ("time", "letters", "beams", "fault", "source"),
    [
        ("6/8", "q q q q q q", "001122", "compound as simple", f"{OU} §3.9"),
        ("3/4", "q q q q q q", "000111", "simple as compound", f"{OU} §3.6"),
        ("4/4", "c q q q q c", "-0000-", "across the middle", f"{OU} §3.6"),
        ("4/4", "q q q q q q q q", "00000000", "across the middle", "Open Music Theory, beams"),
        ("4/4", "q q q q q q q q", "00111122", "across the middle", "Open Music Theory, beams"),
        ("4/4", "q q q q q q q q", "-001122-", "across the beat", f"{OU} §3.6"),
        ("4/4", "q q q q q q q q", "--------", "nothing beamed", "common practice"),
        ("6/8", "q q q q q q", "000000", "beats run together", f"{OU} §3.9"),
        ("2/4", "s s s s s s s s", "00000000", "beats run together", f"{OU} §3.6"),
        ("6/8", "q q q q q q", "-00111", "beat broken", f"{OU} §3.9"),
        ("2/2", "q q q q q q q q", "00112233", "beat broken", "from memory: by minim"),
        ("2/4", "q -q q q", "0000", "beam on a rest or a note without a tail", "common practice"),
        ("2/4", "c q q", "000", "beam on a rest or a note without a tail", "common practice"),
        ("5/8", "q q q q q", "00000", "beats run together", LILY),
    ],
)
def test_faults_have_their_names(time: str, letters: str, beams: str, fault: str, source: str) -> None:
    numbers = [None if mark == "-" else int(mark) for mark in beams]
    verdict = is_accepted(numbers, bar(letters), TimeSignature.parse(time))
    assert verdict.fault == fault, source
    assert verdict.reason == FAULTS[fault]


def test_a_given_grouping_decides_an_irregular_bar() -> None:
    """When 2+3 is given in 5/8, 3+2 is no longer accepted (common practice)."""
    quavers, time = bar("q q q q q"), TimeSignature(5, 8)
    assert sizes(beam(quavers, time, grouping=(2, 3))) == "2+3"
    assert is_accepted([0, 0, 0, 1, 1], quavers, time).accepted
    assert is_accepted([0, 0, 0, 1, 1], quavers, time, grouping=(2, 3)).fault == "across the beat"


def test_longer_notes_choose_the_irregular_grouping() -> None:
    """A dotted crotchet last in 5/8 shows 2+3 (common practice)."""
    assert sizes(beam(bar("q q c."), TimeSignature(5, 8))) == "2+1"
    assert accepted_beamings(bar("q q c."), TimeSignature(5, 8))[0].reason.endswith("grouped 2+3")


def test_a_pick_up_is_beamed_from_the_end_of_its_bar() -> None:
    """Two quavers before the first bar line of 4/4 are its fourth beat."""
    start = 3 * Duration("crotchet").ticks
    assert beam(bar("q q"), TimeSignature(4, 4), start=start) == (0, 0)
    assert beam(bar("q q"), TimeSignature(4, 4), start=start // 2) == (None, None)


def test_bad_bars_are_refused() -> None:
    with pytest.raises(GroupingError, match="holds"):
        beam(bar("m m q"), TimeSignature(4, 4))
    with pytest.raises(GroupingError, match="one for each"):
        is_accepted([0], bar("q q"), TimeSignature(2, 4))


@st.composite
def bars(draw: st.DrawFn) -> tuple[TimeSignature, list[Event]]:
    time = draw(st.sampled_from([time for time in ALL_TIMES if time.figures != "12/4"]))
    events: list[Event] = []
    left = time.ticks
    while left:
        names = [
            d for name in ("minim", "crotchet", "quaver", "semiquaver") for d in (Duration(name), Duration(name, 1))
        ]
        fitting = [d for d in names if d.ticks <= left and (left - d.ticks) % Duration("semiquaver").ticks == 0]
        duration = draw(st.sampled_from(fitting))
        events.append((duration, draw(st.integers(0, 4)) == 0))
        left -= duration.ticks
    return time, events


@given(bars())
def test_beams_keep_the_middle_of_four(case: tuple[TimeSignature, list[Event]]) -> None:
    """Beams never cross the middle of a bar of four crotchets, minims or dotted beats."""
    time, events = case
    if time.count != 4 or (time.unit == 8 and time.kind == "simple"):
        return
    for beaming in accepted_beamings(events, time):
        sides: dict[int, set[bool]] = {}
        at = 0
        for (duration, _), group in zip(events, beaming.groups, strict=True):
            if group is not None:
                sides.setdefault(group, set()).add(at >= time.ticks // 2)
            at += duration.ticks
        assert all(len(side) == 1 for side in sides.values())


@given(bars())
def test_compound_beams_stay_in_their_beat(case: tuple[TimeSignature, list[Event]]) -> None:
    """In compound time one beam belongs to one dotted beat."""
    time, events = case
    if time.kind != "compound":
        return
    for beaming in accepted_beamings(events, time):
        beats: dict[int, set[int]] = {}
        at = 0
        for (duration, _), group in zip(events, beaming.groups, strict=True):
            if group is not None:
                beats.setdefault(group, set()).add(at // time.beat.ticks)
            at += duration.ticks
        assert all(len(beat) == 1 for beat in beats.values())


@given(bars())
def test_accepted_and_wrong_never_meet(case: tuple[TimeSignature, list[Event]]) -> None:
    """Every accepted way is accepted, every wrong way is refused by its own name, one way alone is preferred."""
    time, events = case
    ways = accepted_beamings(events, time)
    assert [way.preferred for way in ways].count(True) == 1
    assert all(is_accepted(way.groups, events, time).accepted for way in ways)
    for wrong in wrong_beamings(events, time):
        assert is_accepted(wrong.groups, events, time).fault == wrong.fault


@given(bars())
def test_only_neighbouring_notes_with_tails_are_beamed(case: tuple[TimeSignature, list[Event]]) -> None:
    """A beam joins two or more neighbouring notes that have tails."""
    time, events = case
    for way in accepted_beamings(events, time):
        for number in {group for group in way.groups if group is not None}:
            members = [place for place, group in enumerate(way.groups) if group == number]
            assert members == list(range(members[0], members[0] + len(members)))
            assert len(members) >= 2
            assert all(events[place][0].tails and not events[place][1] for place in members)


@pytest.mark.parametrize(
    ("time", "value", "count", "broken"),
    [
        (TimeSignature(2, 4), "semiquaver", 8, "2+2+2+2"),
        (TimeSignature(2, 2), "quaver", 8, "2+2+2+2"),
        (TimeSignature(6, 8), "semiquaver", 12, "2+4+2+4"),
    ],
)
def test_a_broken_beat_breaks_in_the_middle_or_after_a_third(
    time: TimeSignature, value: str, count: int, broken: str
) -> None:
    """A simple beat is broken in its middle, a compound beat after its first third (from memory: pupils' bars)."""
    events = [(Duration(value), False)] * count
    found = [wrong.groups for wrong in wrong_beamings(events, time) if wrong.fault == "beat broken"]
    assert [sizes(groups) for groups in found] == [broken]
