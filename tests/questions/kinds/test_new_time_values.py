"""A rhythm in values twice or half as long, with its new time signature."""

from __future__ import annotations

from fractions import Fraction
from random import Random

import music21
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from questions.rhythms import heard, row
from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.marking.one_question import mark_question
from stavewright.questions.asking import agree, ask
from stavewright.questions.errors import Disagreement
from stavewright.questions.kind import Draft
from stavewright.questions.kinds.new_time_values import KIND, NewTimeValues
from stavewright.questions.values import Value
from stavewright.syllabus.scope import scope_for
from stavewright.theory.metre import TimeSignature
from stavewright.theory.regroup import RegroupError


def bars(time: str, text: str, *, doubled: bool = True) -> NewTimeValues:
    return NewTimeValues(time, tuple(row(bar) for bar in text.split(" | ")), doubled)


# fmt: off
CASES = [
    (bars("2/4", "c q q"), "2/2: minim, crotchet, crotchet",
     "Gehrkens, Music Notation and Terminology (1914) §96: the lower figure names the value of the beat"),
    (bars("3/8", "q q_ q | c. "), "3/4: crotchet, crotchet rest, crotchet, dotted minim",
     "Gehrkens (1914) §96; rests as notes §5; the dot is half of its note §49"),
    (bars("4/2", "s m c c", doubled=False), "4/4: minim, crotchet, quaver, quaver", "Gehrkens (1914) §1, §96"),
    (bars("cut C", "m c c", doubled=False), "2/4: crotchet, quaver, quaver", "Gehrkens (1914) §103: cut C is 2/2"),
    (bars("6/8", "c q q q q"), "6/4: minim, crotchet, crotchet, crotchet, crotchet",
     "common practice: six counts, each twice as long"),
]
# fmt: on


@pytest.mark.parametrize("facts, answer, source", CASES)
def test_worked_by_hand(facts: NewTimeValues, answer: str, source: str) -> None:
    assert texts("new-time-values", facts) == [answer], source


def test_slips() -> None:
    found = slip_texts("new-time-values", bars("2/4", "c. q_"))
    assert found == {
        "signature unchanged": "2/4: dotted minim, crotchet rest",
        "changed the upper figure": "4/4: dotted minim, crotchet rest",
        "values unchanged": "2/2: dotted crotchet, quaver rest",
        "turned the wrong way": "2/8: dotted quaver, semiquaver rest",
        "rests left as they were": "2/2: dotted minim, quaver rest",
        "dots left out": "2/2: minim, crotchet rest",
    }
    tails = slip_texts("new-time-values", bars("2/4", "c q q"))["notes with tails left as they were"]
    assert tails == "2/2: minim, quaver, quaver"


def marks(facts: NewTimeValues, value: Value) -> int:
    question = ask(KIND, Draft(facts, KIND.solve(facts)[0].value[0]), id="q", grade=4, edition="written", seed=1)
    assert question is not None
    return mark_question(question, (value,)).marks


def test_one_mark_off_for_each_fault() -> None:
    """Common practice: the time signature is one item; a wrong value is one fault; C stands for 4/4."""
    facts = bars("4/2", "s m c c", doubled=False)
    right = row("m c q q")
    assert marks(facts, Value(rhythm=right, time="4/4")) == 3
    assert marks(facts, Value(rhythm=right, time="C")) == 3
    assert marks(facts, Value(rhythm=right, time="4/2")) == 2
    assert marks(facts, Value(rhythm=right)) == 2
    assert marks(facts, Value(rhythm=row("m c c q"), time="4/4")) == 2
    assert marks(facts, Value(rhythm=row("s m c c"), time="4/2")) == 0


def test_metres_without_a_double_are_refused() -> None:
    with pytest.raises(RegroupError):
        bars("12/4", "m. m. m. m.")


def test_a_setter_that_keeps_the_signature_is_caught() -> None:
    facts = bars("2/4", "c q q")
    with pytest.raises(Disagreement):
        agree(KIND, Draft(facts, Value(rhythm=row("m c c"), time="2/4")), KIND.solve(facts))


@pytest.mark.parametrize("grade", [2, 3, 4, 5])
def test_an_outside_library_finds_every_value_doubled_or_halved(grade: int) -> None:
    for seed in range(50):
        draft = KIND.set(scope_for(grade), Random(seed), None, None)
        assert draft is not None
        facts = draft.facts
        value = KIND.solve(facts)[0].value[0]
        given = [one for bar in facts.bars for one in bar]
        factor = Fraction(2) if facts.doubled else Fraction(1, 2)
        for before, after in zip(given, value.rhythm, strict=True):
            assert heard(after) == factor * heard(before)
            assert (before.rest, before.tuplet) == (after.rest, after.tuplet)
        old_bar, new_bar = (
            music21.meter.TimeSignature(time).barDuration.quarterLength
            for time in (TimeSignature.parse(facts.time).figures, value.time)
        )
        assert new_bar == factor * Fraction(old_bar)


@settings(max_examples=60, deadline=None)
@given(st.integers(0, 10**6), st.integers(2, 5))
def test_what_is_doubled_and_halved_is_as_it_was(seed: int, grade: int) -> None:
    """A rhythm doubled and halved again, or halved and doubled, is the rhythm itself under its own time signature."""
    draft = KIND.set(scope_for(grade), Random(seed), None, None)
    assume(draft is not None)
    facts = draft.facts
    value = KIND.solve(facts)[0].value[0]
    left, bars_back = list(value.rhythm), []
    for bar in facts.bars:
        bars_back.append(tuple(left[: len(bar)]))
        del left[: len(bar)]
    back = NewTimeValues(value.time, tuple(bars_back), not facts.doubled)
    again = KIND.solve(back)[0].value[0]
    assert again.rhythm == tuple(one for bar in facts.bars for one in bar)
    assert again.time == TimeSignature.parse(facts.time).figures


def test_every_rule_of_kinds() -> None:
    keeps_the_rules("new-time-values")
