"""Ties written as dots where the metre allows it, and dots as ties."""

from __future__ import annotations

from random import Random

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from questions.rhythms import heard, row
from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.marking.one_question import mark_question
from stavewright.questions.asking import agree, ask
from stavewright.questions.errors import BadDocument, Disagreement
from stavewright.questions.kind import Draft
from stavewright.questions.kinds.dot_or_tie import KIND, DotOrTie
from stavewright.questions.solving.tied import sounds
from stavewright.questions.values import Value
from stavewright.syllabus.scope import scope_for

GEHRKENS = "Gehrkens, Music Notation and Terminology (1914)"
OPEN = "The Open University, An introduction to music theory (2016) §3.9"


def bars(time: str, text: str, dots: int = 1) -> DotOrTie:
    return DotOrTie(time, row(text), dots)


# fmt: off
CASES = [
    (bars("3/4", "m~ c c c~ q q"), ["dotted minim, crotchet, dotted crotchet, quaver"],
     f"{GEHRKENS} §49: the dot is the tied half"),
    (bars("4/4", "m~ c~ q q", 2), ["double-dotted minim, quaver"], f"{GEHRKENS} §51"),
    (bars("4/4", "m~ c~ q q", 1), ["dotted minim tied to quaver, quaver"],
     f"{GEHRKENS} §49: with one dot at most no note is seven quavers long"),
    (bars("3/4", "c c c~ c c~ q q"), ["crotchet, crotchet, crotchet tied to crotchet, dotted crotchet, quaver"],
     f"{OPEN}: a tie over the bar line stays"),
    (bars("4/4", "c c~ c c"), ["crotchet, crotchet tied to crotchet, crotchet", "crotchet, minim, crotchet"],
     f"{OPEN}, and common practice: the middle of four beats stays in sight"),
    (bars("2/4", "q q~ q q"), ["quaver, crotchet, quaver"], "from memory: the plain syncopation may stand"),
    (bars("6/8", "c~ q c q"), ["dotted crotchet, crotchet, quaver"], f"{OPEN}: a whole beat of compound time"),
    (bars("6/8", "q c~ c q"), ["quaver, crotchet tied to crotchet, quaver"],
     "from memory: a minim would hide the second beat of 6/8"),
    (bars("2/4", "c. q", 0), ["crotchet tied to quaver, quaver", "quaver tied to crotchet, quaver"],
     f"{GEHRKENS} §49; either note first, from memory"),
    (bars("4/4", "m.. q", 0), ["minim tied to crotchet tied to quaver, quaver",
                               "quaver tied to crotchet tied to minim, quaver"], f"{GEHRKENS} §51"),
]
# fmt: on


@pytest.mark.parametrize("facts, answers, source", CASES)
def test_worked_by_hand(facts: DotOrTie, answers: list[str], source: str) -> None:
    assert texts("dot-or-tie", facts) == answers, source


def test_slips() -> None:
    """A dot taken for one beat, a note over the bar line, and more."""
    assert slip_texts("dot-or-tie", bars("3/4", "c~ q q c~ m~ c")) == {
        "dot taken for one beat": "crotchet tied to quaver, quaver, crotchet tied to minim tied to crotchet",
        "joined over a bar line or a beat": "dotted crotchet, quaver, semibreve",
        "second note left out": "crotchet, quaver, crotchet",
        "a dot for every tie": "dotted crotchet, quaver, double-dotted minim",
    }
    assert slip_texts("dot-or-tie", bars("2/4", "c~ c"))["dot taken for one beat"] == "dotted crotchet"
    assert slip_texts("dot-or-tie", bars("2/4", "c. q", 0)) == {
        "dot taken for one beat": "crotchet tied to crotchet, quaver",
        "dot left out": "crotchet, quaver",
        "ties left out": "crotchet, quaver, quaver",
    }


def marks(facts: DotOrTie, text: str) -> int:
    question = ask(KIND, Draft(facts, KIND.solve(facts)[0].value[0]), id="q", grade=4, edition="written", seed=1)
    assert question is not None
    return mark_question(question, (Value(rhythm=row(text)),)).marks


def test_one_mark_off_for_each_sound_that_is_wrong() -> None:
    """One sound written wrongly is one fault, though every value after it stands elsewhere (common practice)."""
    facts = bars("3/4", "m~ c c c~ q q")
    assert marks(facts, "m. c c. q") == 2
    assert marks(facts, "m~ c c c. q") == 1
    assert marks(facts, "m~ c c c~ q q") == 0
    assert marks(facts, "m c c c q q") == 0
    assert marks(bars("2/4", "c. q", 0), "q~ c q") == 2


def test_what_cannot_be_asked_is_refused() -> None:
    with pytest.raises(BadDocument, match="no tie"):
        bars("2/4", "c c")
    with pytest.raises(BadDocument, match="no dotted note"):
        bars("2/4", "c~ c", 0)
    with pytest.raises(BadDocument, match="does not fill"):
        bars("2/4", "c~ c c")


def test_a_setter_that_joins_over_the_bar_line_is_caught() -> None:
    facts = bars("2/4", "c c~ c c")
    with pytest.raises(Disagreement):
        agree(KIND, Draft(facts, Value(rhythm=row("c m c"))), KIND.solve(facts))


@pytest.mark.parametrize("grade", [2, 3, 4, 5])
def test_an_outside_library_hears_the_same_sounds(grade: int) -> None:
    """music21 gives every sound the same length before and after, in every accepted answer; double dots from 4."""
    seen: set[int] = set()
    for seed in range(80):
        draft = KIND.set(scope_for(grade), Random(seed), None, None)
        assert draft is not None
        before = [sum(heard(one) for one in sound.values) for sound in sounds(draft.facts.row)]
        for answer in KIND.solve(draft.facts):
            written = answer.value[0].rhythm
            assert [sum(heard(one) for one in sound.values) for sound in sounds(written)] == before
            seen |= {one.dots for one in (*written, *draft.facts.row)}
    assert (2 in seen) is (grade >= 4)


def test_sounds_are_read_to_the_end_of_their_ties() -> None:
    """A tie joins a note to the next one; rests and the last note end a sound (Gehrkens §54)."""
    read = sounds(row("c~ q q_ m~ m~ q"))
    assert [len(one.values) for one in read] == [2, 1, 3]
    assert [one.first for one in read] == [1, 3, 4]
    assert read[2].ids == ("n4", "n5", "n6")


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 10**6), st.integers(2, 5))
def test_as_few_notes_as_may_be_cannot_be_fewer(seed: int, grade: int) -> None:
    """A row written with as few notes as the metre allows stays as it is when it is written so again."""
    draft = KIND.set(scope_for(grade), Random(seed), None, None)
    assume(draft is not None and draft.facts.dots > 0)
    model = KIND.solve(draft.facts)[0].value[0].rhythm
    assert len(model) < len(draft.facts.row)
    if any(one.tie for one in model):
        again = DotOrTie(draft.facts.time, model, draft.facts.dots)
        assert KIND.solve(again)[0].value[0].rhythm == model


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 10**6), st.integers(2, 5))
def test_dots_come_back_from_their_ties(seed: int, grade: int) -> None:
    """A dotted row written with ties, and then with as few notes as may be, has its dots again."""
    draft = KIND.set(scope_for(grade), Random(seed), None, None)
    assume(draft is not None and draft.facts.dots == 0)
    tied = KIND.solve(draft.facts)[0].value[0].rhythm
    back = KIND.solve(DotOrTie(draft.facts.time, tied, 2))[0].value[0].rhythm
    assert back == draft.facts.row


def test_every_rule_of_kinds() -> None:
    keeps_the_rules("dot-or-tie")
