"""The version of a bar that shows its beats."""

from __future__ import annotations

from random import Random

import pytest

from questions.music21_beams import by_music21
from questions.rhythms import heard, row
from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.questions.asking import ask, built_choice
from stavewright.questions.choosing import is_right
from stavewright.questions.errors import BadDocument
from stavewright.questions.kinds.which_grouping import KIND, WhichGrouping
from stavewright.questions.solving.tied import sounds
from stavewright.questions.values import Value
from stavewright.syllabus.scope import scope_for
from stavewright.theory.metre import TimeSignature

OU = "The Open University, An introduction to music theory (2016)"


def bar(time: str, text: str) -> WhichGrouping:
    return WhichGrouping(time, row(text))


def right(facts: WhichGrouping, text: str, beams: str) -> bool:
    return is_right(Value(rhythm=row(text, beams)), KIND.solve(facts), KIND)


# fmt: off
CASES = [
    ("6/8", "q q q q q q", "111222", True, f"{OU} §3.6: threes in compound time"),
    ("6/8", "q q q q q q", "112233", False, f"{OU} §3.6: pairs would show three beats"),
    ("3/4", "q q q q q q", "112233", True, f"{OU} §3.6: three beats"),
    ("3/4", "q q q q q q", "111222", False, f"{OU} §3.6: two threes would show 6/8"),
    ("4/4", "q q q q m", "11110", True, f"{OU} §3.6: fours inside one half"),
    ("4/4", "q q q q q q q q", "11122333", False, f"{OU} §3.6: the beat must show"),
    ("4/4", "q q q q q q q q", "00111100", False, f"{OU} §3.6: never across the middle"),
    ("5/8", "q q q q q", "11122", True, "LilyPond default beaming table: 3+2"),
    ("5/8", "q q q q q", "11222", True, "common practice: 2+3"),
]
# fmt: on


@pytest.mark.parametrize("time, text, beams, good, source", CASES)
def test_published_groupings(time: str, text: str, beams: str, good: bool, source: str) -> None:
    assert right(bar(time, text), text, beams) is good, source


def test_a_sign_that_hides_a_beat_is_wrong() -> None:
    """In 3/4 two crotchet rests, not a minim rest, after beat 1 (OU §4.2); a tie over the middle of 4/4 (§3.9)."""
    rests = bar("3/4", "q q c_ c_")
    assert texts("which-grouping", rests) == ["beams over notes 1 and 2"]
    joined = slip_texts("which-grouping", rests)["rests joined over a beat"]
    assert joined == "quaver, quaver, minim rest: beams over notes 1 and 2"
    assert not right(rests, "q q m_", "110")
    tied = bar("4/4", "c c~ c q q")
    assert slip_texts("which-grouping", tied)["note hides a beat"].startswith("crotchet, minim, quaver, quaver: ")
    assert right(tied, "c c~ c q q", "00011")
    assert not right(tied, "c m q q", "0011")


def test_a_rest_inside_one_beat_is_left_alone() -> None:
    """A dotted quaver rest inside a beat is met in print: it is not offered as wrong (from memory)."""
    assert "rests joined over a beat" not in slip_texts("which-grouping", bar("3/4", "sq sq_ q_ q q q q"))


def test_the_working_names_no_way_that_cannot_be_picked() -> None:
    """One picture is right, so another right way to beam the bar would only puzzle."""
    steps = [step.text for step in KIND.work(bar("4/4", "q q q q q q q q"), "usual")]
    assert not any("Also right" in step for step in steps)
    assert len(KIND.solve(bar("4/4", "q q q q q q q q"))) > 1


def test_slips_of_beaming() -> None:
    """The named wrong ways are those of the theory of beams."""
    found = slip_texts("which-grouping", bar("6/8", "q q q q q q"))
    assert found["compound as simple"] == "beams over notes 1 and 2, 3 and 4, 5 and 6"
    assert slip_texts("which-grouping", bar("3/4", "q q q q q q"))["simple as compound"] == (
        "beams over notes 1 to 3, 4 to 6"
    )


def test_what_cannot_be_asked_is_refused() -> None:
    with pytest.raises(BadDocument, match="not full"):
        bar("3/4", "q q c")
    with pytest.raises(BadDocument, match="needs at least two"):
        bar("2/4", "c q_ q")
    with pytest.raises(BadDocument, match="hides a beat"):
        bar("6/8", "q m q")
    with pytest.raises(BadDocument, match="beams already"):
        WhichGrouping("2/4", row("q q c", "110"))


@pytest.mark.parametrize("grade", [1, 2, 3, 4, 5])
def test_music21_groups_in_one_of_the_right_ways(grade: int) -> None:
    """Its own beams of the bar are always among ours; 4/8 it leaves unbeamed, 5/4 and 7/4 it groups in its own way."""
    counted = 0
    for seed in range(100):
        draft = KIND.set(scope_for(grade), Random(seed), None, None)
        assert draft is not None
        figures = TimeSignature.parse(draft.facts.time).figures
        if figures in ("4/8", "5/4", "7/4") or any(one.tuplet for one in draft.facts.row):
            continue
        counted += 1
        assert is_right(by_music21(draft.facts.row, figures), KIND.solve(draft.facts), KIND), draft.facts
    assert counted > 30


@pytest.mark.parametrize("grade", [1, 2, 3, 4, 5])
def test_all_versions_sound_the_same(grade: int) -> None:
    """Options differ in how they are written only: music21 hears the same sounds in each; rests and ties are drawn."""
    signs: set[str] = set()
    for seed in range(60):
        draft = KIND.set(scope_for(grade), Random(seed), None, None)
        assert draft is not None
        question = ask(KIND, draft, id="q", grade=grade, edition="written", seed=seed)
        if question is None:
            continue
        heard_in = set()
        for option in built_choice(question).options:
            written = sounds(option.value.rhythm)
            silent = [(sum(heard(one) for one in sound.values), sound.values[0].rest) for sound in written]
            heard_in.add(_merged(silent))
            signs |= {"rest" for one in option.value.rhythm if one.rest}
            signs |= {"tie" for one in option.value.rhythm if one.tie}
        assert len(heard_in) == 1
    assert signs == {"rest", "tie"}


def _merged(row: list[tuple[object, bool]]) -> tuple[object, ...]:
    """Rests in a row as one silence."""
    found: list[list[object]] = []
    for length, rest in row:
        if rest and found and found[-1][1]:
            found[-1][0] += length
        else:
            found.append([length, rest])
    return tuple(tuple(one) for one in found)


def test_every_rule_of_kinds() -> None:
    keeps_the_rules("which-grouping")
