"""What irregular groups stand for."""

from __future__ import annotations

from fractions import Fraction
from random import Random

import music21
import pytest

from questions.rhythms import AMERICAN, heard, row
from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.questions.asking import agree
from stavewright.questions.errors import BadDocument, Disagreement
from stavewright.questions.kind import Draft
from stavewright.questions.kinds.tuplet_value import KIND, TupletValue
from stavewright.questions.values import Value, WrittenValue
from stavewright.syllabus.scope import scope_for
from stavewright.theory.duration import Duration, Tuplet

GEHRKENS = "Gehrkens, Music Notation and Terminology (1914) §55"


def bar(time: str, text: str, unit: str) -> TupletValue:
    return TupletValue(time, row(text), unit)


def with_group(time: str, actual: int, normal: int, value: str, others: str, unit: str) -> TupletValue:
    notes = (WrittenValue.of(Duration(value, 0, Tuplet(actual, normal))),) * actual
    return TupletValue(time, (*notes, *row(others)), unit)


# fmt: off
CASES = [
    (bar("2/4", "q3 q3 q3 c", "quaver"), "2", f"{GEHRKENS}: a triplet is three in the time of two"),
    (bar("2/4", "q3 q3 q3 c", "semiquaver"), "4", f"{GEHRKENS}: two quavers are four semiquavers"),
    (bar("4/4", "c3 c3 c3 c c", "crotchet"), "2", GEHRKENS),
    (bar("6/8", "q2 q2 c.", "quaver"), "3",
     "Hutchinson, Music Theory for the 21st-Century Classroom, duplet: two in the time of three"),
    (with_group("3/4", 5, 4, "semiquaver", "c c", "semiquaver"), "4", f"{GEHRKENS}: five in the time of four"),
    (with_group("3/4", 6, 4, "semiquaver", "c c", "quaver"), "2", f"{GEHRKENS}: six in the time of four"),
    (with_group("6/8", 4, 3, "quaver", "c.", "quaver"), "3", "Hutchinson, quadruplet: four in the time of three"),
    (with_group("6/8", 4, 6, "semiquaver", "c.", "semiquaver"), "6", "Hutchinson, quadruplet, in semiquavers"),
    (with_group("2/4", 7, 4, "semiquaver", "c", "semiquaver"), "4", "common practice: seven in the time of four"),
]
# fmt: on


@pytest.mark.parametrize("facts, answer, source", CASES)
def test_published_groups(facts: TupletValue, answer: str, source: str) -> None:
    assert texts("tuplet-value", facts) == [answer], source


def test_no_step_says_that_a_quaver_is_one_quaver() -> None:
    """A length is counted in another value only where it is another."""
    steps = [step.text for step in KIND.work(bar("3/8", "q q sq3 sq3 sq3", "quaver"), "usual")]
    assert steps[2:] == ["So the whole triplet lasts one quaver.", "Check: 3 semiquavers go in the time of 2."]
    assert "A crotchet is 2 quavers." in [
        step.text for step in KIND.work(bar("2/4", "q3 q3 q3 c", "quaver"), "usual")
    ]
    (found,) = KIND.solve(bar("2/4", "q3 q3 q3 c", "quaver"))
    assert found.reason == "The triplet puts 3 quavers in the time of 2."


def test_slips() -> None:
    """The catalogue's face values, and more; a duplet taken for two of its notes."""
    assert slip_texts("tuplet-value", bar("6/8", "q2 q2 c.", "quaver")) == {
        "counted face values": "2",
        "took the group for one note": "1",
        "one note too many": "3",
        "took the whole bar": "6",
    }
    assert slip_texts("tuplet-value", bar("2/4", "q3 q3 q3 c", "semiquaver")) == {
        "counted face values": "6",
        "gave the figure": "3",
        "took the group for one note": "2",
        "one note left out": "4",
        "one note too many": "8",
    }


def test_what_cannot_be_asked_is_refused() -> None:
    with pytest.raises(BadDocument, match="not full"):
        bar("3/4", "q3 q3 q3 c", "quaver")
    with pytest.raises(BadDocument, match="just one irregular group"):
        bar("2/4", "c c", "quaver")
    with pytest.raises(BadDocument, match="just one irregular group"):
        bar("2/4", "q3 q3 q3 q3 q3 q3", "quaver")
    with pytest.raises(BadDocument, match="exact number"):
        bar("2/4", "q3 q3 q3 c", "minim")


def test_a_setter_that_counts_face_values_is_caught() -> None:
    facts = bar("2/4", "q3 q3 q3 c", "quaver")
    with pytest.raises(Disagreement):
        agree(KIND, Draft(facts, Value(number=3)), KIND.solve(facts))


@pytest.mark.parametrize("grade", [2, 3, 4, 5])
def test_an_outside_library_hears_the_group_as_long(grade: int) -> None:
    """music21's length of the group in the unit asked; duplets from grade 4, others from 5; more than one answer."""
    groups: set[int] = set()
    answers: set[int] = set()
    for seed in range(120):
        draft = KIND.set(scope_for(grade), Random(seed), None, None)
        assert draft is not None
        notes = [one for one in draft.facts.row if one.tuplet is not None]
        unit = Fraction(music21.duration.Duration(type=AMERICAN[draft.facts.unit]).quarterLength)
        count = sum(heard(one) for one in notes) / unit
        assert KIND.solve(draft.facts)[0].value[0].number == count
        groups.add(len(notes))
        answers.add(int(count))
    assert groups == {2: {3}, 3: {3}, 4: {2, 3}}.get(grade, set(range(2, 10)))
    assert len(answers) > 2


def test_every_rule_of_kinds() -> None:
    keeps_the_rules("tuplet-value")
