"""What a term means: accepted words, fair choices, and what a term is mixed up with."""

from __future__ import annotations

from random import Random

import pytest

from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.questions.comparing import compare
from stavewright.questions.kinds.term_meaning import KIND, TermMeaning
from stavewright.questions.reading import read_words
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.syllabus.meanings import too_near
from stavewright.syllabus.scope import scope_for
from stavewright.syllabus.terms import core_terms, term_of

GEHRKENS = "Gehrkens, Music Notation and Terminology (1914)"

# fmt: off
# term, what a pupil may write, right or wrong, source
CASES = [
    ("Rallentando|Italian", "getting slower", True, f"{GEHRKENS} §111"),
    ("Rallentando|Italian", "gradually slower", True, f"{GEHRKENS} §111"),
    ("Rallentando|Italian", "Gradually getting slower.", True, f"{GEHRKENS} §111"),
    ("Rallentando|Italian", "slow", False, f"{GEHRKENS} §111: a change, not a speed"),
    ("Ritenuto|Italian", "held back", True, f"{GEHRKENS} §111"),
    ("Allegro|Italian", "quick", True, f"{GEHRKENS} §109"),
    ("Allegro|Italian", "very fast", False, f"{GEHRKENS} §109: that is presto"),
    ("Mezzo forte|Italian", "fairly loud", True, f"{GEHRKENS} §120"),
    ("Mezzo forte|Italian", "loud", False, f"{GEHRKENS} §120"),
    ("Andantino|Italian", "a little slower than andante", True, f"{GEHRKENS} §109: both are in print"),
    ("Da capo|Italian", "repeat from the beginning", True, "LilyPond Music Glossary, da capo"),
    ("Da capo|Italian", "repeat from the sign", False, "LilyPond Music Glossary, dal segno"),
    ("Alla breve|Italian", "2 half note beats in a measure", True, "Gehrkens §103; half note: Schmidt-Jones (m11887)"),
    ("Alla breve|Italian", "four crotchet beats in a bar", False, f"{GEHRKENS} §103: that is C"),
    ("Con sordino|Italian", "muted", True, "LilyPond Music Glossary, con sordino"),
    ("Langsam|German", "slowly", True, "LilyPond Music Glossary, lento"),
]
# fmt: on


@pytest.mark.parametrize("term, said, right, source", CASES)
def test_meanings_are_marked_by_meaning(term: str, said: str, right: bool, source: str) -> None:
    answers = KIND.solve(TermMeaning(term, 5))
    assert any(compare(Value(words=said), one.value[0], KIND.marking).same for one in answers) is right, source


def test_the_model_answer_comes_first() -> None:
    assert texts("term-meaning", TermMeaning("Fortepiano|Italian", 2))[0] == "loud, then at once soft"


def test_slips_are_opposite_look_alike_and_neighbour() -> None:
    """By hand, from the terms of level 1."""
    assert slip_texts("term-meaning", TermMeaning("Decrescendo|Italian", 1)) == {
        "took it for its opposite": "gradually getting louder",
        "took it for a neighbour": "very loud",
    }
    assert slip_texts("term-meaning", TermMeaning("Allegretto|Italian", 1))[
        "took it for a word that looks like it"
    ] == ("fast and lively")


@pytest.mark.parametrize("level", [1, 2, 3, 4, 5])
def test_no_wrong_choice_is_nearly_right(level: int) -> None:
    """Every wrong option of every core term differs in sense from all its accepted meanings."""
    for term in core_terms(level):
        facts = TermMeaning(term.key, level)
        wrong = [one.text for one in KIND.slips(facts)] + [str(one.words) for one in KIND.neighbours(facts)]
        assert len(set(wrong)) >= 2, term.term
        for option in wrong:
            assert not any(too_near(option, right) for right in term.meanings), (term.term, option)


@pytest.mark.parametrize("level", [3, 4, 5])
def test_no_wrong_choice_names_the_term_itself(level: int) -> None:
    """Found in review: "rather slow, less than largo" cannot be what Largo means, so it was no choice."""
    facts = TermMeaning("Largo|Italian", level)
    wrong = [one.text for one in KIND.slips(facts)] + [str(one.words) for one in KIND.neighbours(facts)]
    assert wrong
    assert not [option for option in wrong if "largo" in option]


def test_the_prompt_never_says_the_meaning() -> None:
    """Terms that English uses in the same sense are left out."""
    for seed in range(500):
        draft = KIND.set(scope_for(5), Random(seed), None, None)
        assert draft is not None
        (block,) = KIND.pose(draft.facts, Wording("choice")).blocks
        for right in term_of(draft.facts.term).meanings:
            assert f" {read_words(right)} " not in f" {read_words(block.text)} ", right


def test_words_within_a_term_help() -> None:
    steps = [step.text for step in KIND.work(TermMeaning("Allegro con brio|Italian", 3), "usual")]
    assert any("brio: vigour" in text for text in steps)
    steps = [step.text for step in KIND.work(TermMeaning("Prestissimo|Italian", 2), "usual")]
    assert any("-issimo: very" in text for text in steps)


def test_the_prompt_names_the_language_where_it_is_not_italian() -> None:
    (block,) = KIND.pose(TermMeaning("Lent|French", 4), Wording("words")).blocks
    assert block.text == "Write the meaning of “Lent” (French)."


def test_a_level_asks_only_its_own_terms() -> None:
    assert term_of("Langsam|German") not in core_terms(4)


def test_every_rule_of_kinds() -> None:
    keeps_the_rules("term-meaning")


def test_every_theme_can_be_said() -> None:
    for term in core_terms(5):
        first = KIND.work(TermMeaning(term.key, 5), "usual")[0].text
        assert first.startswith(f"{term.term} is {term.language}. It is about ")


@pytest.mark.parametrize(
    "term, said",
    [
        ("Andantino", "faster than andante"),
        ("Andantino", "slower than andante"),
        ("Allegretto", "slower than allegro"),
        ("Allegretto", "slightly slower than allegro"),
        ("Poco", "a bit"),
    ],
)
def test_comparisons_are_understood(term: str, said: str) -> None:
    """Andantino stands in print for both: Gehrkens (1914) §109 has it quicker, Webster (1913) slower than andante."""
    answers = KIND.solve(TermMeaning(f"{term}|Italian", 5))
    assert any(compare(Value(words=said), one.value[0], KIND.marking).same for one in answers)


@pytest.mark.parametrize("level", [1, 2, 3, 4, 5])
def test_no_two_wrong_choices_say_the_same(level: int) -> None:
    """Found in review: "playfully" beside "playful, merry"; two that say the same cannot both be right."""
    for term in core_terms(level):
        facts = TermMeaning(term.key, level)
        wrong = [one.text for one in KIND.slips(facts)] + [str(one.words) for one in KIND.neighbours(facts)]
        for at, one in enumerate(wrong):
            assert not any(too_near(one, other) for other in wrong[:at]), (term.term, one)
        assert len(wrong) >= 2, term.term
