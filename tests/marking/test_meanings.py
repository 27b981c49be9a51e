"""A meaning in the pupil's own words: right, part, wrong, and what is left to the teacher."""

from __future__ import annotations

import pytest

from papers.small_papers import paper_of, posed, script_of
from stavewright.marking.decisions import decide, proposed
from stavewright.marking.documents import Decision, Marked, Report
from stavewright.marking.whole_script import mark_script
from stavewright.questions.kinds.term_meaning import TermMeaning
from stavewright.questions.values import Value


def report(term: str, said: str) -> Report:
    question = posed("term-meaning", TermMeaning(f"{term}|Italian", 2))
    return mark_script(paper_of([question]), script_of(q1=Value(words=said)))


def marked(term: str, said: str) -> Marked:
    return report(term, said).questions[0]


@pytest.mark.parametrize(
    "term, said",
    [
        ("Rallentando", "gradualy slower"),
        ("Dolce", "sweet and gentle"),
        ("Forte", "lound"),
        ("Allegro", "fast and cheerful"),
        ("Rallentando", "it tells you to slow down bit by bit"),
    ],
)
def test_own_words_and_slips_of_spelling_are_right(term: str, said: str) -> None:
    """Common practice: what is meant is marked, not how it is spelt."""
    got = marked(term, said)
    assert (got.marks, got.provisional) == (got.of, False)


@pytest.mark.parametrize(
    "term, said, told",
    [
        ("Fortepiano", "loud and soft", "Part of it is right"),
        ("Forte", "not loud", "opposite"),
        ("Adagio", "fast and slow", "opposite"),
        ("Ritardando", "ritardando", "the term itself"),
        ("Da capo", "D.C.", "the term itself"),
    ],
)
def test_what_is_not_right_says_why(term: str, said: str, told: str) -> None:
    got = marked(term, said)
    assert (got.marks, got.provisional) == (0, False)
    assert told in got.note


def test_what_the_marker_is_unsure_of_waits_for_the_teacher() -> None:
    """Never guessed: no mark is proposed, and the teacher's decision counts."""
    waiting = report("Allegro", "zippy")
    one = waiting.questions[0]
    assert (one.marks, one.provisional, waiting.to_confirm) == (0, True, ("q1",))
    assert "zippy" in one.note
    assert [line.name for line in one.criteria] == ["meaning"]
    assert list(proposed(waiting)) == ["q1"]
    decided = decide(waiting, {"q1": {"meaning": Decision(one.of, "a good word for it")}})
    assert decided.total == one.of
    assert decided.to_confirm == ()
    assert decided.questions[0].criteria[0].program == 0
