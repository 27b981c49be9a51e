"""The time signature of a bar: by its length, told apart by beams and values."""

from __future__ import annotations

from random import Random

import music21
import pytest

from questions.rhythms import row
from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.questions.kinds.add_the_time_signature import KIND, AddTheTimeSignature
from stavewright.syllabus.scope import scope_for

OMT = "Open Music Theory (version 1), meter"
OU = "The Open University, An introduction to music theory (2016)"
ALL = scope_for(5).times

# fmt: off
# values, beams, signature, source
CASES = [
    ("q q q q q q", "111222", "6/8", f"{OU} §3.9: beamed in threes"),
    ("q q q q q q", "112233", "3/4", f"{OU} §3.9: beamed in twos"),
    ("q q q q q q", "111111", "3/4", f"{OU} §3.6: six quavers of 3/4 under one beam"),
    ("c. q q q", "0111", "6/8", f"{OU} §3.9"),
    ("c c c", "000", "3/4", f"{OMT}: three crotchets hide the middle of 6/8"),
    ("m c", "00", "3/4", f"{OMT}: a minim hides the middle of 6/8"),
    ("c q c q", "0000", "6/8", f"{OU} §3.9: the quavers stand in the third of each beat"),
    ("q q q", "111", "3/8", "from memory: 3/8 as one group of three"),
    ("m m m", "000", "3/2", OMT),
    ("c. c. c.", "000", "9/8", OMT),
    ("c. c. c. q q q", "000111", "12/8", OMT),
    ("q q q q q", "11122", "5/8", "common practice: 3 and 2"),
    ("q q q q q", "11222", "5/8", "common practice: 2 and 3"),
    ("q. sq q q", "1122", "2/4", OMT),
]
# fmt: on


@pytest.mark.parametrize("values, beams, time, source", CASES)
def test_published_bars(values: str, beams: str, time: str, source: str) -> None:
    assert texts("add-the-time-signature", AddTheTimeSignature((row(values, beams),), ALL))[0] == time, source


def test_the_signs_are_accepted_for_their_figures() -> None:
    """C for 4/4 (Gehrkens, Music Notation and Terminology, 1914, §103)."""
    facts = AddTheTimeSignature((row("q q q q q q q q", "11223344"),), scope_for(1).times)
    assert texts("add-the-time-signature", facts) == ["4/4", "C", "common time"]


def test_four_four_and_two_two_cannot_always_be_told_apart() -> None:
    """D12 of the project's notes, from scores: one bar of minims is both; both are accepted, with a reason."""
    said = texts("add-the-time-signature", AddTheTimeSignature((row("m m"),), scope_for(2).times))
    assert {"4/4", "C", "2/2", "cut C"} <= set(said)
    reasons = [answer.reason for answer in KIND.solve(AddTheTimeSignature((row("m m"),), scope_for(2).times))]
    assert any("Also accepted" in reason for reason in reasons)


def test_a_second_bar_can_decide() -> None:
    """A dotted minim alone is 3/4 or 6/8; the next bar shows which."""
    facts = AddTheTimeSignature((row("m."), row("q q q q q q", "111222")), ALL)
    assert texts("add-the-time-signature", facts) == ["6/8"]


def test_slips_of_the_catalogue() -> None:
    """3/4 for 6/8, and the other wrong ways to count."""
    six_eight = AddTheTimeSignature((row("c. q q q", "0111"),), ALL)
    slips = slip_texts("add-the-time-signature", six_eight)
    assert slips["right length, wrong kind of beat"] == "3/4"
    assert slips["dotted beats taken for plain ones"] == "2/4"
    assert slips["counted the notes"] == "4/8"
    assert slips["dots not counted"] == "5/8"
    assert slip_texts("add-the-time-signature", AddTheTimeSignature((row("m c"),), ALL))["counted the notes"] == "2/4"


@pytest.mark.parametrize("grade", [2, 4, 5])
def test_only_clear_bars_are_set(grade: int) -> None:
    """One metre of the grade fits, or the two that a bar of minims and crotchets cannot tell apart."""
    for seed in range(150):
        draft = KIND.set(scope_for(grade), Random(seed), None, None)
        if draft is not None:
            figures = {answer.text for answer in KIND.solve(draft.facts)} & set(draft.facts.known)
            assert len(figures - {"C", "cut C"}) == 1 or figures <= {"4/4", "2/2", "C", "cut C"}


def test_a_metre_met_later_is_right_too() -> None:
    """Common practice; theory of metre: quaver, crotchet, quaver fill 2/4 and 4/8, six crotchets 3/2 and 6/4."""
    early = AddTheTimeSignature((row("q c q"),), ("2/4", "3/4", "4/4", "C"))
    assert texts("add-the-time-signature", early) == ["2/4", "4/8"]
    assert KIND.solve(early)[1].reason.startswith("Also right, though it is met later than 2/4.")
    third = AddTheTimeSignature((row("c m c q q c", "000110"),), ("3/2", "3/4", "6/8", "12/8"))
    assert texts("add-the-time-signature", third) == ["3/2", "6/4"]


def test_an_outside_library_finds_the_same_length() -> None:
    """music21's bar length of every answer is the length of the bars."""
    names = {"breve": "breve", "semibreve": "whole", "minim": "half", "crotchet": "quarter", "quaver": "eighth"}
    names |= {"semiquaver": "16th", "demisemiquaver": "32nd", "hemidemisemiquaver": "64th"}
    checked = 0
    for seed in range(150):
        draft = KIND.set(scope_for(4), Random(seed), None, None)
        if draft is None or any(value.tuplet for bar in draft.facts.bars for value in bar):
            continue
        for bar in draft.facts.bars:
            length = sum(music21.duration.Duration(type=names[v.type], dots=v.dots).quarterLength for v in bar)
            assert length == music21.meter.TimeSignature(draft.expected).barDuration.quarterLength
        checked += 1
    assert checked > 60


def test_every_rule_of_kinds() -> None:
    keeps_the_rules("add-the-time-signature")


def test_no_remedy_speaks_of_beams_where_there_are_none() -> None:
    """Found in review: crotchets and minims have no beams to look at."""
    bare = AddTheTimeSignature((row("c. q c m c"),), ("3/2", "3/4", "6/8", "12/8"))
    assert not [one for one in KIND.slips(bare) if "beamed" in one.remedy]
    assert [one for one in KIND.slips(bare) if one.name == "right length, wrong kind of beat"]
