"""Completing bars with rests: published rules, several places at once, and named faults."""

from __future__ import annotations

from random import Random

import music21
import pytest

from questions.rhythms import duration, rests, row
from questions.rules_of_kinds import keeps_the_rules
from stavewright.marking.one_question import mark_question
from stavewright.questions.asking import ask
from stavewright.questions.comparing import compare
from stavewright.questions.kind import Draft
from stavewright.questions.kinds.complete_the_bar import KIND, CompleteTheBar, Silence
from stavewright.questions.values import Value
from stavewright.score.check import faults
from stavewright.score.event import Rest
from stavewright.syllabus.scope import scope_for
from stavewright.theory.metre import TimeSignature

OU = "The Open University, An introduction to music theory (2016)"
COUNTED = "counted in published piano accompaniments"


def one(time: str, notes: str, after: int, silent: str) -> CompleteTheBar:
    """A bar with one gap as long as the values of `silent`."""
    ticks = sum(duration(word).ticks for word in silent.split())
    return CompleteTheBar(time, (row(notes),), (Silence(0, after, ticks),))


def accepted(facts: CompleteTheBar, answer: str) -> bool:
    return any(compare(rests(answer), right.value[0], KIND.marking).same for right in KIND.solve(facts))


# fmt: off
# time, notes, gap after so many, length, rests, right or wrong, source
CASES = [
    ("3/4", "c", 1, "m", "c c", True, f"{OU} §4.2; {COUNTED}: 97 in 100"),
    ("3/4", "c", 1, "m", "m", False, f"{OU} §4.2"),
    ("3/4", "c", 0, "m", "c c", True, f"{OU} §4.2"),
    ("3/4", "c", 0, "m", "m", True, "some texts allow it: from memory"),
    ("4/4", "m", 1, "m", "m", True, f"{OU} §4.2; {COUNTED}: 98 in 100"),
    ("4/4", "c c", 1, "m", "c c", True, f"{OU} §4.2: never across the middle"),
    ("4/4", "c c", 1, "m", "m", False, f"{OU} §4.2: never across the middle"),
    ("4/4", "c", 1, "m.", "c m", True, f"{OU} §4.2; {COUNTED}: 99 in 100"),
    ("4/4", "c", 1, "m.", "m c", False, f"{OU} §4.2"),
    ("4/4", "c", 1, "m.", "m.", False, f"{OU} §4.2: no dotted rest of a beat or more in simple time"),
    ("2/4", "q", 1, "c.", "q c", True, f"{OU} §4.2: finish the beat first"),
    ("2/4", "q", 1, "c.", "c q", False, f"{OU} §4.2"),
    ("6/8", "c.", 1, "c.", "c.", True, f"{OU} §4.3: both are written"),
    ("6/8", "c.", 1, "c.", "c q", True, f"{OU} §4.3: both are written; {COUNTED}: 94 in 100"),
    ("6/8", "c.", 1, "c.", "q c", False, f"{OU} §4.3"),
    ("6/8", "q c.", 1, "c", "q q", True, f"{OU} §4.3; {COUNTED}: 96 in 100"),
    ("6/8", "q c.", 1, "c", "c", False, f"{OU} §4.3"),
    ("6/8", "q c.", 0, "c", "c", True, f"{COUNTED}: 81 in 100"),
    ("6/8", "q c.", 0, "c", "q q", True, f"{COUNTED}: 19 in 100"),
    ("12/8", "m.", 1, "m.", "m.", True, f"{OU} §4.3: half a bar"),
    ("4/4", "sq c m", 1, "q.", "sq q", True, f"{COUNTED}: 98 in 100"),
]
# fmt: on


@pytest.mark.parametrize("time, notes, after, silent, answer, right, source", CASES)
def test_published_rules(time: str, notes: str, after: int, silent: str, answer: str, right: bool, source: str) -> None:
    if time == "4/4" and notes.startswith("sq"):
        silent = "q."
        notes = "sq m."
    assert accepted(one(time, notes, after, silent), answer) is right, source


def test_a_reason_says_a_thing_once() -> None:
    """Two places with one reason between them (found in review)."""
    facts = CompleteTheBar("4/4", (row("sq sq q q"),), (Silence(0, 1, 161_280), Silence(0, 2, 241_920)))
    for answer in KIND.solve(facts):
        parts = answer.reason.rstrip(".").lower().split("; ")
        assert len(parts) == len(set(parts)), answer.reason


def test_a_silent_bar_takes_a_semibreve_rest_in_any_metre() -> None:
    """Gehrkens, Music Notation and Terminology (1914) §33; in 4/2 a breve rest as well (from memory)."""
    for time in ("2/4", "3/4", "6/8", "12/8", "3/8", "5/4"):
        ticks = TimeSignature.parse(time).ticks
        facts = CompleteTheBar(time, (row("c"), ()), (Silence(1, 0, ticks),))
        assert [answer.text for answer in KIND.solve(facts)] == ["semibreve rest"]
        drawn = list(KIND.draw(facts, rests("s")).events())[-1]
        assert isinstance(drawn, Rest)
        assert drawn.whole_bar
    ticks = TimeSignature.parse("4/2").ticks
    found = KIND.solve(CompleteTheBar("4/2", (row("B"), ()), (Silence(1, 0, ticks),)))
    assert [answer.text for answer in found] == ["breve rest", "semibreve rest"]


def test_a_silent_four_two_bar_waits_for_the_breve() -> None:
    """Common practice of the syllabus: never before the breve is known."""
    for grade in (2, 3):
        for seed in range(600):
            draft = KIND.set(scope_for(grade), Random(seed), None, None)
            if draft is not None and draft.facts.time == "4/2":
                assert draft.facts.gaps[0].bar == 0


TWO = CompleteTheBar("6/8", (row("q q"),), (Silence(0, 1, duration("c").ticks), Silence(0, 2, duration("c").ticks)))


def test_all_ways_at_all_places_are_accepted() -> None:
    """6/8, quaver and two silent thirds twice over: each third of a begun beat has its own rest (OU §4.3)."""
    assert [answer.text for answer in KIND.solve(TWO)] == ["(a) quaver rest, quaver rest; (b) quaver rest, quaver rest"]
    first = CompleteTheBar(
        "6/8", (row("q q"),), (Silence(0, 0, duration("c").ticks), Silence(0, 1, duration("c").ticks))
    )
    said = {answer.text for answer in KIND.solve(first)}
    assert said == {
        "(a) crotchet rest; (b) crotchet rest",
        "(a) crotchet rest; (b) quaver rest, quaver rest",
        "(a) quaver rest, quaver rest; (b) crotchet rest",
        "(a) quaver rest, quaver rest; (b) quaver rest, quaver rest",
    }


def test_slips_have_the_names_of_their_faults() -> None:
    """The catalogue's two: right length but wrong split, a dotted rest of a beat or more in simple time."""
    found = {slip.name: slip.text for slip in KIND.slips(one("4/4", "c", 1, "m."))}
    assert found["dotted rest of a beat or more in simple time"] == "dotted minim rest"
    assert "across the middle" in found
    assert {slip.name for slip in KIND.slips(one("3/4", "q c", 1, "c."))} >= {"across the beat", "wrong length"}
    for slip in KIND.slips(TWO):
        assert slip.remedy


def test_any_answer_can_be_drawn() -> None:
    """Pupils' answers are drawn as they are: too short, too long, or nothing at all."""
    for answer in (rests("c"), rests("m m m"), Value(rhythm=())):
        assert faults(KIND.draw(TWO, answer)) == []


def test_an_outside_library_finds_the_bars_full() -> None:
    """music21 adds up the lengths of every completed bar of notes outside tuplets."""
    names = {"breve": "breve", "semibreve": "whole", "minim": "half", "crotchet": "quarter", "quaver": "eighth"}
    names |= {"semiquaver": "16th", "demisemiquaver": "32nd"}
    checked = 0
    for seed in range(150):
        draft = KIND.set(scope_for(5), Random(seed), None, None)
        if draft is None or len(draft.facts.bars) > 1 or any(v.tuplet for v in draft.facts.bars[0]):
            continue
        model = KIND.solve(draft.facts)[0].value[0]
        total = sum(
            music21.duration.Duration(type=names[event.duration.type], dots=event.duration.dots).quarterLength
            for event in KIND.draw(draft.facts, model).events()
        )
        assert (
            total
            == music21.meter.TimeSignature(TimeSignature.parse(draft.facts.time).figures).barDuration.quarterLength
        )
        checked += 1
    assert checked > 60


def test_every_rule_of_kinds() -> None:
    keeps_the_rules("complete-the-bar")


def marks(facts: CompleteTheBar, answer: Value) -> int:
    draft = Draft(facts, KIND.solve(facts)[0].value[0])
    question = ask(KIND, draft, id="q", grade=3, edition="written", seed=1)
    assert question is not None
    return mark_question(question, (answer,)).marks


def test_one_cause_costs_once() -> None:
    """Common practice: a right length in the wrong order costs one mark, a wrong length both; place by place."""
    half = one("4/4", "c", 1, "m.")
    assert marks(half, rests("c m")) == 2
    assert marks(half, rests("m c")) == 1
    assert marks(half, rests("m")) == 0
    assert marks(half, Value(rhythm=row("c m"))) == 0
    assert marks(TWO, rests("q q q q")) == 2
    assert marks(TWO, rests("c q q")) == 1
    assert marks(TWO, rests("q q c")) == 1
    assert marks(TWO, rests("c c")) == 0


def test_a_crowd_of_rests_is_the_last_choice() -> None:
    """Found in review: eight tiny rests beside one can be ruled out by their look."""
    for facts in (one("6/8", "q q", 2, "q c."), one("4/4", "c", 1, "m.")):
        sizes = [len(wrong.value[0].rhythm or ()) for wrong in KIND.slips(facts)]
        crowded = [size > 4 for size in sizes]
        assert crowded == sorted(crowded)
        assert max(sizes[:3]) <= 4
