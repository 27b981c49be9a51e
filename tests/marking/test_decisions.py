"""Composed answers: criteria in the marked script, the teacher's decisions, totals that follow."""

from __future__ import annotations

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from papers.small_papers import paper_of, posed, script_of
from stavewright.marking.decisions import decide, proposed
from stavewright.marking.documents import Decision, Report
from stavewright.marking.errors import BadDecisions
from stavewright.marking.one_question import mark_question
from stavewright.marking.whole_script import mark_script
from stavewright.questions.asking import answers_of
from stavewright.questions.errors import Disagreement
from stavewright.questions.kind import Draft
from stavewright.questions.kinds.answer_the_rhythm import KIND, AnswerTheRhythm
from stavewright.questions.kinds.name_the_note import NameTheNote
from stavewright.questions.values import Value, WrittenValue

CROTCHET, MINIM = WrittenValue("crotchet"), WrittenValue("minim")
DOTTED = WrittenValue("minim", 1)
FACTS = AnswerTheRhythm("3/4", ((MINIM, CROTCHET), (CROTCHET, MINIM)))
GOOD = Value(rhythm=(CROTCHET, MINIM, DOTTED))
SHORT = Value(rhythm=(MINIM, CROTCHET, MINIM))
"""Its second bar holds two crotchets of three: worked by hand, one mark lost."""


def marked(value: Value = SHORT, marks: int | None = None) -> Report:
    questions = [
        posed("name-the-note", NameTheNote("treble", 8, "sharp")),
        posed("answer-the-rhythm", FACTS, id="q2", marks=marks),
    ]
    return mark_script(paper_of(questions), script_of(q1=Value(words="F sharp"), q2=value))


def test_a_composed_answer_is_marked_by_criteria_and_waits_for_the_teacher() -> None:
    """Every criterion says what earns it and what was found, in words that point at bars."""
    report = marked()
    rhythm = report.questions[1]
    assert (rhythm.marks, rhythm.of, rhythm.provisional) == (5, 6, True)
    assert {one.name: (one.marks, one.of) for one in rhythm.criteria} == {
        "bars": (1, 2),
        "length": (1, 1),
        "ending": (1, 1),
        "balance": (1, 1),
        "grouping": (1, 1),
    }
    assert rhythm.criteria[0].why == "bar 2 does not add up"
    assert "3/4" in rhythm.criteria[0].earns
    assert rhythm.note.startswith("Bar 2 does not add up")
    assert report.to_confirm == ("q2",)
    assert report.total == 6


def test_an_answer_to_a_question_with_a_key_has_no_criteria() -> None:
    """Only a composed answer waits for the teacher; a blank one does not."""
    first = marked().questions[0]
    assert (first.criteria, first.provisional) == ((), False)
    blank = mark_question(posed("answer-the-rhythm", FACTS), ())
    assert (blank.marks, blank.criteria, blank.provisional) == (0, (), False)


def test_any_answer_that_meets_every_criterion_earns_full_marks() -> None:
    """The model answer is an example, not the key."""
    got = mark_question(posed("answer-the-rhythm", FACTS), (GOOD,))
    assert answers_of(posed("answer-the-rhythm", FACTS))[0].value[0] != GOOD
    assert (got.marks, got.provisional) == (6, True)
    assert got.note == (
        "Every bar adds up; it has 2 bars; it ends on a long note; "
        "bar 1 has the rhythm of bar 2 of the question; the beams fit."
    )


def test_marks_are_in_the_proportion_of_the_criteria() -> None:
    """A paper may give such a question other marks than its criteria add up to; full marks only if nothing is lost.

    Nine marks over criteria of 2, 1, 1, 1, 1 are 3, 2, 2, 1, 1 by largest remainder; half of the bars' 3 is 1.
    """
    nine = marked(marks=9).questions[1]
    assert [(one.marks, one.of) for one in nine.criteria] == [(1, 3), (2, 2), (2, 2), (1, 1), (1, 1)]
    assert decide(marked(marks=9), {"q2": {"bars": Decision(3)}}).questions[1].marks == 9
    assert [marked(marks=of).questions[1].marks for of in (1, 3, 6, 9, 12)] == [0, 2, 5, 7, 10]
    assert [marked(GOOD, of).questions[1].marks for of in (1, 3, 9)] == [1, 3, 9]


def test_the_teacher_changes_a_mark_and_the_totals_follow() -> None:
    """A changed mark keeps the program's own beside it; what is not named stands."""
    report = decide(marked(), {"q2": {"bars": Decision(2, "the rest was meant"), "ending": Decision(1)}})
    rhythm = report.questions[1]
    by_name = {one.name: one for one in rhythm.criteria}
    assert (by_name["bars"].marks, by_name["bars"].program) == (2, 1)
    assert by_name["bars"].note == "the rest was meant"
    assert (by_name["ending"].marks, by_name["ending"].program) == (1, None)
    assert (rhythm.marks, rhythm.provisional) == (6, False)
    assert (report.total, report.by_topic["composing"].marks, report.to_confirm) == (7, 6, ())


def test_a_question_that_is_only_named_is_confirmed() -> None:
    """The teacher agrees: nothing changes but that it no longer waits."""
    before = marked()
    after = decide(before, {"q2": {}})
    assert after.questions[1].criteria == before.questions[1].criteria
    assert (after.total, after.to_confirm) == (before.total, ())


def test_what_is_proposed_changes_nothing_and_confirms_all() -> None:
    """The program's own marks, given back as they are, leave every mark where it was."""
    before = marked()
    after = decide(before, proposed(before))
    assert after.questions[1].criteria == before.questions[1].criteria
    assert (after.to_confirm, proposed(after)) == ((), {})


def test_deciding_again_goes_by_what_the_program_gave_first() -> None:
    """Changing one's mind back is no change."""
    once = decide(marked(), {"q2": {"bars": Decision(2)}})
    assert decide(once, {"q2": {"bars": Decision(1)}}).questions[1].criteria == marked().questions[1].criteria


def test_decisions_that_do_not_fit_are_refused_together() -> None:
    """Unknown questions and criteria, questions with a key, and marks out of bounds are all named."""
    wrong = {
        "q1": {"bars": Decision(1)},
        "q2": {"bars": Decision(3), "rhyme": Decision(1)},
        "q9": {},
    }
    with pytest.raises(BadDecisions) as caught:
        decide(marked(), wrong)
    for said in ("'q1' is not judged", "3 marks, where there are 2", "no criterion 'rhyme'", "'q9' is not in"):
        assert said in str(caught.value)


def test_marks_below_nought_are_refused_on_reading() -> None:
    """A decision is a number of marks, nothing else."""
    for text in (b'{"marks": -1}', b'{"marks": 1, "why": "x"}', b'{"marks": "1"}', b"{}"):
        with pytest.raises(msgspec.ValidationError):
            msgspec.json.decode(text, type=Decision)


@given(st.lists(st.integers(0, 1), min_size=5, max_size=5))
@settings(max_examples=32, deadline=None)
def test_the_marks_of_a_question_are_those_of_its_criteria(given: list[int]) -> None:
    """Whatever the teacher decides, the question, its topic and the total agree with the criteria."""
    names = ("bars", "length", "ending", "balance", "grouping")
    wanted = {name: Decision(marks) for name, marks in zip(names, given, strict=True)}
    report = decide(marked(), {"q2": wanted})
    got = sum(given)
    assert report.questions[1].marks == got
    assert report.total == got + 1
    assert report.by_topic["composing"].marks == got


def test_what_the_setter_meant_must_meet_every_criterion() -> None:
    """Double entry for composed answers: the report judges what the setter meant and what the solver wrote."""
    from stavewright.questions.asking import agree

    agree(KIND, Draft(FACTS, GOOD), KIND.solve(FACTS))
    with pytest.raises(Disagreement, match="setter meant loses marks: bars, bar 2"):
        agree(KIND, Draft(FACTS, SHORT), KIND.solve(FACTS))
    wrong = msgspec.structs.replace(KIND.solve(FACTS)[0], value=(SHORT,))
    with pytest.raises(Disagreement, match="solver wrote loses marks"):
        agree(KIND, Draft(FACTS, GOOD), (wrong,))
