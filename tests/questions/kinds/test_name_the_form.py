"""Lettering phrases: forms worked by hand, every slip, the setter's forms against the solver's."""

from __future__ import annotations

from random import Random

import pytest

from questions.hand_written import extract
from questions.rules_of_kinds import slip_texts, texts
from stavewright.marking.one_question import mark_question
from stavewright.questions.asking import ask
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft
from stavewright.questions.kinds.name_the_form import KIND, NameTheForm
from stavewright.questions.score_mirror import document_of, score_of
from stavewright.questions.values import Place, Value
from stavewright.score.check import faults
from stavewright.syllabus.scope import scope_for
from stavewright.wiring import composed_melodies

ID = "name-the-form"
# Phrases of two bars: B has the rhythm of A, C another one, D begins like A.
BARS = {
    "A": "C5/1 D5/1 | E5/2",
    "B": "E5/1 F5/1 | D5/2",
    "C": "G5/2 | E5/1 C5/1",
    "D": "C5/1 E5/1 | D5/1 B4/1",
}


def facts(form: str) -> NameTheForm:
    return NameTheForm(document_of(extract(" | ".join(BARS[letter] for letter in form), "2/4")))


# Two-part AB, three-part ABA and song form AABA by what returns note for note
# (Schmidt-Jones, Understanding Basic Music Theory, "Form in Music": phrases are named with letters, A first).
@pytest.mark.parametrize(
    ("form", "ends"), [("AAB", "2, 4 and 6"), ("ABA", "2, 4 and 6"), ("ABB", "2, 4 and 6"), ("AABA", "2, 4, 6 and 8"),
                       ("ABAB", "2, 4, 6 and 8"), ("ABAC", "2, 4, 6 and 8"), ("ABBA", "2, 4, 6 and 8")]
)  # fmt: skip
def test_forms_worked_by_hand(form, ends):
    assert texts(ID, facts(form)) == [f"{form}; the phrases end in bars {ends}"]


def test_letters_go_by_order_not_by_our_names():
    assert texts(ID, facts("CAC")) == ["ABA; the phrases end in bars 2, 4 and 6"]


def test_every_slip():
    wrong = slip_texts(ID, facts("AABA"))
    assert wrong["rhythm taken for melody"] == "AAAA; the phrases end in bars 2, 4, 6 and 8"
    assert wrong["every phrase taken for new"] == "ABCD; the phrases end in bars 2, 4, 6 and 8"
    assert wrong["beginnings for ends"] == "AABA; the phrases end in bars 1, 3, 5 and 7"
    wrong = slip_texts(ID, facts("ADA"))
    assert wrong["only the first bar's rhythm looked at"] == "AAA; the phrases end in bars 2, 4 and 6"
    other = NameTheForm(document_of(extract("C5/1 D5/1 | E5/2 | C5/2 | D5/2 | C5/1 D5/1 | E5/2", "2/4")))
    assert slip_texts(ID, other)["only the first note looked at"] == "AAA; the phrases end in bars 2, 4 and 6"


def test_choice_and_places_are_marked_together():
    right = (Value(choice="c"), Value(places=(Place(2), Place(4), Place(6))))
    question = ask(KIND, Draft(facts("ABA"), right), id="q", grade=2, edition="written", seed=1)
    assert mark_question(question, right).marks == 3
    assert mark_question(question, (Value(choice="b"), right[1])).marks == 2
    assert mark_question(question, (right[0], Value(places=(Place(2), Place(3), Place(6))))).marks == 2
    assert mark_question(question, (right[0],)).marks == 0


@pytest.mark.parametrize("grade", [2, 3, 5])
def test_the_setter_builds_the_form_it_means(grade):
    made = 0
    for seed in range(25):
        draft = KIND.set(scope_for(grade), Random(seed), None, composed_melodies())
        if draft is None:
            continue
        assert faults(score_of(draft.facts.music)) == []
        assert KIND.solve(draft.facts)[0].value == draft.expected
        made += 1
    assert made > 15


def test_other_lengths_are_refused():
    with pytest.raises(BadDocument):
        facts("AB")
    assert KIND.set(scope_for(2), Random(1), None, None) is None
