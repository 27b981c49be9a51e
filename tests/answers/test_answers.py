"""Answers made by hand: right ones that differ from the model answer earn full marks, near misses do not.

Each file of this folder is a topic. An entry is one question, its facts written out, with what a person who knows the
subject says of other answers to it, written before the marker was asked. See `written_answers.py` for the short forms.
"""

from __future__ import annotations

from collections import Counter

import pytest

from answers.written_answers import Entry, Said, entries, given
from stavewright.marking.one_question import mark_question
from stavewright.questions.asking import answers_of
from stavewright.questions.catalogue import kinds
from stavewright.questions.reading import read_words

ENTRIES = entries()
RIGHT = [(entry, one) for entry in ENTRIES for one in entry.right]
WRONG = [(entry, one) for entry in ENTRIES for one in entry.wrong]


def _names(pairs: list[tuple[Entry, Said]]) -> list[str]:
    return [f"{entry.name}-{one.why[:40]}" for entry, one in pairs]


@pytest.mark.parametrize("entry", ENTRIES, ids=[entry.name for entry in ENTRIES])
def test_the_model_answer_is_the_one_expected(entry: Entry) -> None:
    """The question is the one the person had in mind: its model answer, in words, is as written in the entry."""
    assert answers_of(entry.question)[0].text == entry.answer


@pytest.mark.parametrize(("entry", "one"), RIGHT, ids=_names(RIGHT))
def test_another_right_answer_earns_full_marks(entry: Entry, one: Said) -> None:
    """Right though it differs from the model answer."""
    value = given(entry.question, one)
    assert value != answers_of(entry.question)[0].value, "this is the model answer itself"
    marked = mark_question(entry.question, value)
    assert marked.marks == marked.of, (entry.answer, one.why, marked.note, marked.slip)


@pytest.mark.parametrize(("entry", "one"), WRONG, ids=_names(WRONG))
def test_a_near_miss_does_not_earn_full_marks(entry: Entry, one: Said) -> None:
    """Wrong though it looks much like a right answer."""
    marked = mark_question(entry.question, given(entry.question, one))
    assert marked.marks < marked.of, (entry.answer, one.why, marked.note)


def test_every_entry_is_filed_under_its_topic() -> None:
    assert [entry.name for entry in ENTRIES if kinds()[entry.question.kind].topic not in entry.topics] == []


def test_no_answer_is_written_twice() -> None:
    said = Counter((entry.name, repr(given(entry.question, one))) for entry, one in RIGHT + WRONG)
    assert [name for name, count in said.items() if count > 1] == []


def test_most_other_right_answers_differ_in_more_than_their_spelling() -> None:
    """At most a third are the model answer's own words in another form, such as "m3" for "minor 3rd"."""
    spelt = 0
    for entry, one in RIGHT:
        (model, *more), (value, *others) = answers_of(entry.question)[0].value, given(entry.question, one)
        if not more and not others and model.words is not None and value.words is not None:
            spelt += read_words(model.words) == read_words(value.words)
    assert 3 * spelt <= len(RIGHT)


def test_every_kind_has_near_misses_and_there_are_enough_of_both() -> None:
    """At least 250 other right answers and 250 near misses; a kind with one possible answer has near misses only."""
    missing = set(kinds()) - {entry.question.kind for entry, _ in WRONG}
    assert missing == set()
    assert len(RIGHT) >= 250
    assert len(WRONG) >= 250
