"""Marks for one question, rule by rule."""

from __future__ import annotations

import pytest

from papers.small_papers import posed
from stavewright.marking.one_question import mark_question
from stavewright.questions.asking import answers_of, slips_of
from stavewright.questions.documents import Question
from stavewright.questions.errors import BadAnswer
from stavewright.questions.kinds.name_the_interval import NameTheInterval
from stavewright.questions.kinds.name_the_note import NameTheNote
from stavewright.questions.kinds.write_the_scale import WriteTheScale
from stavewright.questions.values import Value

F_SHARP = NameTheNote("treble", 8, "sharp")


def test_a_right_answer_earns_full_marks_and_a_reason() -> None:
    """A right answer, in any accepted spelling, earns full marks and says why."""
    question = posed("name-the-note", F_SHARP)
    for typed in ("F sharp", "f#", "F♯"):
        got = mark_question(question, (Value(words=typed),))
        assert (got.marks, got.slip) == (1, None)
        assert got.note
        assert got.working == ()


def test_a_wrong_answer_names_its_slip_and_the_remedy() -> None:
    """The slip behind a wrong answer is named, with what to do about it and the working."""
    question = posed("name-the-note", F_SHARP)
    got = mark_question(question, (Value(words="A sharp"),))
    assert (got.marks, got.slip) == (0, "read in the bass clef")
    assert "treble clef" in got.remedy
    assert got.working
    assert got.right == "F sharp"


def test_an_unknown_wrong_answer_has_no_slip() -> None:
    """An answer that no known slip gives is simply not right: nothing is guessed."""
    got = mark_question(posed("name-the-note", F_SHARP), (Value(words="the moon"),))
    assert (got.marks, got.slip) == (0, None)


def test_a_blank_earns_nothing_and_is_told_to_write() -> None:
    """A blank is never right."""
    got = mark_question(posed("name-the-note", F_SHARP), ())
    assert got.marks == 0
    assert "write something" in got.note


def test_gated_marks() -> None:
    """The quality of an interval counts only if its number is right (common practice)."""
    question = posed("name-the-interval", _minor_sixth(), marks=2)
    assert mark_question(question, (Value(words="minor 6th"),)).marks == 2
    assert mark_question(question, (Value(words="major 6th"),)).marks == 1
    assert mark_question(question, (Value(words="minor 5th"),)).marks == 0
    assert mark_question(question, (Value(words="minor"),)).marks == 0


def _minor_sixth() -> NameTheInterval:
    from papers.small_papers import drawn

    for seed in range(400):
        facts = drawn("name-the-interval", grade=4, seed=seed)
        if answers_of(posed("name-the-interval", facts))[0].text == "minor 6th":
            assert isinstance(facts, NameTheInterval)
            return facts
    raise AssertionError("no minor 6th was drawn")


def test_two_picks_are_no_answer() -> None:
    """Two answers given where one is asked for earn nothing, even when one of them is right."""
    question = posed("name-the-note", F_SHARP, edition="on-screen")
    right = answers_of(question)[0].value[0].choice
    assert mark_question(question, (Value(choice=right),)).marks == 1
    other = next(option.id for option in question.response[0].options if option.id != right)
    assert mark_question(question, (Value(choices=(right, other)),)).marks == 0
    assert mark_question(question, (Value(choices=(right,)),)).marks == 1


def test_another_form_or_option_is_refused_by_name() -> None:
    """An answer in another form, or an option that is not there, is an error that says what would be right."""
    question = posed("name-the-note", F_SHARP, edition="on-screen")
    with pytest.raises(BadAnswer, match="options are a, b, c, d"):
        mark_question(question, (Value(choice="z"),))
    with pytest.raises(BadAnswer, match="asks for choice"):
        mark_question(question, (Value(words="F sharp"),))
    with pytest.raises(BadAnswer, match="1 asked for"):
        mark_question(question, (Value(choice="a"), Value(choice="b")))


def test_every_slip_of_a_choice_is_recognised_by_its_letter() -> None:
    """On screen a slip is the option that it would pick."""
    question = posed("name-the-note", F_SHARP, edition="on-screen")
    slips = slips_of(question)
    assert slips
    for slip in slips:
        assert mark_question(question, slip.value).slip is not None


def _scale(marks: int, signature: str = "none") -> Question:
    return posed(
        "write-the-scale", WriteTheScale("treble", "D", 4, "harmonic minor", "up", signature, "minim"), marks=marks
    )


@pytest.mark.parametrize("marks", [2, 3, 4, 5])
def test_a_steady_slip_costs_at_most_half(marks: int) -> None:
    """One cause costs once, at most half of the marks, of an odd number of marks too (common practice)."""
    question = _scale(marks)
    steady = [slip for slip in slips_of(question) if slip.steady]
    assert {"accidentals forgotten", "major for minor"} <= {slip.name for slip in steady}
    for slip in steady:
        got = mark_question(question, slip.value)
        assert 2 * (got.of - got.marks) <= got.of, slip.name
        assert got.marks < got.of, slip.name


def test_one_wrong_accidental_costs_one_mark() -> None:
    """Minus one per fault: a scale with one wrong sign loses one mark (common practice)."""
    wrong = next(slip for slip in slips_of(_scale(4)) if slip.name == "raised 7th forgotten")
    assert mark_question(_scale(4), wrong.value).marks == 3


def test_a_signature_where_none_is_wanted_costs_one_mark() -> None:
    """Where accidentals are asked for, a signature is one fault, whatever the notes (common practice)."""
    right = answers_of(_scale(4, "printed"))[0].value[0]
    assert right.signature == -1
    assert mark_question(_scale(4, "printed"), (right,)).marks == 4
    assert mark_question(_scale(4), (right,)).marks == 3
