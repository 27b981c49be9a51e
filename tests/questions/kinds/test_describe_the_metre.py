"""Describing a metre: class and number of beats."""

from __future__ import annotations

import pytest

from papers.small_papers import posed
from stavewright.marking.one_question import mark_question
from stavewright.questions.asking import answers_of, slips_of
from stavewright.questions.catalogue import kind
from stavewright.questions.kinds.describe_the_metre import DescribeTheMetre
from stavewright.questions.values import Value

# Sources: Open Music Theory (version 1), meter; Gehrkens, Music Notation and Terminology (1914) §96-107;
# The Open University, An introduction to music theory (2016) §3.6, 3.9 (3/8 as simple triple).
CLASSES = [
    ("2/4", "simple duple"),
    ("3/4", "simple triple"),
    ("4/4", "simple quadruple"),
    ("C", "simple quadruple"),
    ("2/2", "simple duple"),
    ("3/2", "simple triple"),
    ("3/8", "simple triple"),
    ("6/8", "compound duple"),
    ("9/8", "compound triple"),
    ("12/8", "compound quadruple"),
    ("6/4", "compound duple"),  # the rows below: common practice
    ("9/16", "compound triple"),
    ("5/4", "irregular quintuple"),
    ("7/8", "irregular septuple"),
]


@pytest.mark.parametrize(("time", "said"), CLASSES)
def test_classes_of_the_handbooks(time: str, said: str) -> None:
    """A metre is simple when its beat is a plain note, compound when it is dotted; the beats give the number."""
    (found,) = kind("describe-the-metre").solve(DescribeTheMetre(time, irregular=True))
    assert found.text == said


def test_each_word_is_an_item() -> None:
    """Kind and number of beats earn a mark each."""
    question = posed("describe-the-metre", DescribeTheMetre("6/8"))
    right = answers_of(question)[0].value[0].choices
    assert right == ("b", "c")
    assert mark_question(question, (Value(choices=("c", "b")),)).marks == 2
    assert mark_question(question, (Value(choices=("a", "c")),)).marks == 1
    assert mark_question(question, (Value(choices=("a", "d")),)).marks == 0
    assert mark_question(question, (Value(choices=("b", "c", "d")),)).marks == 1


@pytest.mark.parametrize(
    ("time", "slip"), [("6/8", "simple triple"), ("12/8", "simple quadruple"), ("3/4", "compound triple")]
)
def test_reading_the_upper_figure_is_recognised(time: str, slip: str) -> None:
    """Compound time read by its upper figure, and the kinds mixed up, are named slips."""
    question = posed("describe-the-metre", DescribeTheMetre(time))
    assert slip in [one.text for one in slips_of(question)]


def test_on_screen_the_words_stand_together() -> None:
    """On screen each option is one whole description."""
    question = posed("describe-the-metre", DescribeTheMetre("9/8"), edition="on-screen")
    texts = [option.text for option in question.response[0].options]
    assert "compound triple" in texts
    assert len(set(texts)) == 4
