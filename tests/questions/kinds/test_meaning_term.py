"""The term for a meaning: every term that has it, short forms, and fair choices."""

from __future__ import annotations

from random import Random

import pytest

from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.questions.comparing import compare
from stavewright.questions.kinds.meaning_term import KIND, MeaningTerm
from stavewright.questions.reading import read_words
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.syllabus.meanings import too_near
from stavewright.syllabus.scope import scope_for
from stavewright.syllabus.terms import all_terms, term_of

GEHRKENS = "Gehrkens, Music Notation and Terminology (1914)"

# fmt: off
# the term whose meaning is printed, what a pupil writes, right or wrong, source
CASES = [
    ("Rallentando|Italian", "rallentando", True, f"{GEHRKENS} §111"),
    ("Rallentando|Italian", "Ritardando", True, f"{GEHRKENS} §111: both slow down by and by"),
    ("Rallentando|Italian", "rall.", True, "common practice: the short form"),
    ("Rallentando|Italian", "accelerando", False, f"{GEHRKENS} §111: faster"),
    ("Diminuendo|Italian", "decrescendo", True, f"{GEHRKENS} §126"),
    ("Diminuendo|Italian", "dim.", True, f"{GEHRKENS} §126"),
    ("Diminuendo|Italian", "crescendo", False, f"{GEHRKENS} §124"),
    ("Mezzo forte|Italian", "mf", True, f"{GEHRKENS} §120"),
    ("Mezzo forte|Italian", "mp", False, f"{GEHRKENS} §120"),
    ("Presto|Italian", "presto", True, f"{GEHRKENS} §109"),
    ("Presto|Italian", "allegro", False, f"{GEHRKENS} §109"),
    ("Lento|Italian", "adagio", True, f"{GEHRKENS} §109: the books do not order slow words (both say slow)"),
    ("Lento|Italian", "lent", False, "the prompt asks for the Italian term"),
    ("A tempo|Italian", "Tempo primo", True, f"{GEHRKENS} §113"),
    ("Langsam|German", "langsam", True, "LilyPond Music Glossary, lento"),
    ("Süß|German", "süss", True, "common practice: ß may be written ss"),
]
# fmt: on


@pytest.mark.parametrize("term, said, right, source", CASES)
def test_every_term_with_the_meaning_is_right(term: str, said: str, right: bool, source: str) -> None:
    answers = KIND.solve(MeaningTerm(term, 5))
    assert any(compare(Value(words=said), one.value[0], KIND.marking).same for one in answers) is right, source


@pytest.mark.parametrize(
    "key, said",
    [
        ("Mezzo forte|Italian", "mezzoforte"),
        ("Da capo|Italian", "DC"),
        ("Tempo primo|Italian", "Tempo 1"),
        ("Con sordino|Italian", "con sord."),
        ("Süß|German", "suess"),
        ("Mäßig|German", "maessig"),
        ("Très|French", "tres"),
    ],
)
def test_other_ways_to_write_a_term(key: str, said: str) -> None:
    """As it is printed in scores, and without the letters an English keyboard lacks (common practice)."""
    answers = KIND.solve(MeaningTerm(key, 5))
    assert any(compare(Value(words=said), one.value[0], KIND.marking).same for one in answers)


def test_the_model_answer_comes_first_with_a_reason() -> None:
    assert texts("meaning-term", MeaningTerm("Crescendo|Italian", 1))[0] == "Crescendo"
    reasons = [one.reason for one in KIND.solve(MeaningTerm("Decrescendo|Italian", 1))]
    assert "Diminuendo can mean “gradually getting softer” as well." in reasons


def test_slips_are_opposite_look_alike_and_neighbour() -> None:
    """By hand, from the terms of level 1."""
    assert slip_texts("meaning-term", MeaningTerm("Decrescendo|Italian", 1))["took it for its opposite"] == "Crescendo"
    assert (
        slip_texts("meaning-term", MeaningTerm("Allegretto|Italian", 1))["took it for a word that looks like it"]
        == "Allegro"
    )


@pytest.mark.parametrize("level", [1, 2, 3, 4, 5])
def test_no_wrong_choice_has_the_meaning(level: int) -> None:
    """No meaning of a wrong option is near the printed one, and all options are of one language."""
    by_name = {(term.term, term.language): term for term in all_terms()}
    for seed in range(120):
        draft = KIND.set(scope_for(level), Random(seed), None, None)
        assert draft is not None
        term = term_of(draft.facts.term)
        wrong = [one.text for one in KIND.slips(draft.facts)] + [str(v.words) for v in KIND.neighbours(draft.facts)]
        assert len(set(wrong)) >= 3, term.term
        for name in wrong:
            other = by_name[name, term.language]
            assert not any(too_near(term.meaning, said) for said in other.meanings), (term.term, name)


@pytest.mark.parametrize("level", [1, 3, 5])
def test_the_prompt_never_says_the_term(level: int) -> None:
    for seed in range(200):
        draft = KIND.set(scope_for(level), Random(seed), None, None)
        assert draft is not None
        (block,) = KIND.pose(draft.facts, Wording("words")).blocks
        assert f" {read_words(term_of(draft.facts.term).term)} " not in f" {read_words(block.text)} "


def test_the_prompt_names_the_language() -> None:
    (block,) = KIND.pose(MeaningTerm("Lent|French", 4), Wording("words")).blocks
    assert block.text == "Write the French term that means “slow”."


def test_every_rule_of_kinds() -> None:
    keeps_the_rules("meaning-term")
