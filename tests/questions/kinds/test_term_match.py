"""Terms and meanings in pairs: one way only, marked pair by pair."""

from __future__ import annotations

from random import Random

import pytest

from questions.asking_many import asked
from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.marking.one_question import mark_question
from stavewright.questions.errors import BadDocument
from stavewright.questions.kinds.term_match import KIND, TermMatch
from stavewright.questions.values import Value
from stavewright.syllabus.meanings import same_meaning, too_near
from stavewright.syllabus.scope import scope_for
from stavewright.syllabus.terms import term_of

GEHRKENS = "Gehrkens, Music Notation and Terminology (1914)"
FOUR = TermMatch(
    ("Crescendo|Italian", "Rallentando|Italian", "Diminuendo|Italian", "Allegro|Italian"),
    ("fast and lively", "gradually getting softer", "gradually getting louder", "gradually getting slower"),
)


def test_published_meanings() -> None:
    """Gehrkens, Music Notation and Terminology (1914) §§109, 111, 124, 126."""
    assert KIND.solve(FOUR)[0].value[0].pairs == (("a", "c"), ("b", "d"), ("c", "b"), ("d", "a"))
    assert texts("term-match", FOUR)[0].startswith("Crescendo: gradually getting louder; Rallentando: ")


def test_meanings_are_read_by_meaning() -> None:
    """The meanings may be printed in other words."""
    swapped = TermMatch(FOUR.terms, ("lively and quick", *FOUR.meanings[1:]))
    assert KIND.solve(swapped)[0].value[0].pairs == KIND.solve(FOUR)[0].value[0].pairs


def test_words_that_look_unlike_are_not_said_to_look_alike() -> None:
    """Molto and Allegretto are never read for each other; Rallentando and Ritardando are."""
    unlike = TermMatch(
        ("Da capo|Italian", "Molto|Italian", "Fine|Italian", "Allegretto|Italian"),
        ("go back to the beginning", "very, much", "the end", "fairly fast"),
    )
    assert "took two words that look alike for each other" not in slip_texts("term-match", unlike)
    assert "took two words that look alike for each other" in slip_texts(
        "term-match",
        TermMatch(("Largo|Italian", "Larghetto|Italian", "Forte|Italian"), ("loud", "slow and broad", "rather broad")),
    )


def test_a_term_with_two_meanings_to_choose_from_has_no_answer() -> None:
    """Allegro may be “fast and lively” and “lively and quick” (read by meaning): such a set is never asked."""
    facts = TermMatch(FOUR.terms, ("fast and lively", "lively and quick", *FOUR.meanings[1:3]))
    assert KIND.solve(facts) == ()


def test_slips_by_hand() -> None:
    """Crescendo and diminuendo are opposites, so each gets the other's meaning."""
    found = {one.name: one.value[0].pairs for one in KIND.slips(FOUR)}
    assert found["took two opposites for each other"] == (("a", "b"), ("b", "d"), ("c", "c"), ("d", "a"))
    assert found["guessed them all"] == (("a", "d"), ("b", "b"), ("c", "a"), ("d", "c"))
    four = TermMatch(
        ("Largo|Italian", "Larghetto|Italian", "Presto|Italian", "Arco|Italian"),
        ("play with the bow again", "slow and broad", "rather slow, less than largo", "very fast"),
    )
    found = slip_texts("term-match", four)
    assert found["took two words that look alike for each other"].startswith(
        "Largo: rather slow, less than largo; Larghetto: slow and broad"
    )
    assert found["took two opposites for each other"].startswith("Largo: very fast")
    near = TermMatch(
        ("Fine|Italian", "Vivace|Italian", "Moderato|Italian"), ("at a medium speed", "the end", "quick and lively")
    )
    assert slip_texts("term-match", near)["took two neighbours for each other"] == (
        "Fine: the end; Vivace: at a medium speed; Moderato: quick and lively"
    )


@pytest.mark.parametrize("level", [1, 2, 3, 4, 5])
def test_no_term_fits_two_meanings(level: int) -> None:
    for seed in range(150):
        draft = KIND.set(scope_for(level), Random(seed), None, None)
        if draft is None:
            continue
        for key in draft.facts.terms:
            term = term_of(key)
            fits = [said for said in draft.facts.meanings if any(too_near(said, m) for m in term.meanings)]
            assert len(fits) == 1, (key, fits)
            assert any(same_meaning(fits[0], m) for m in term.meanings), (key, fits)


def test_marks_are_given_pair_by_pair() -> None:
    """Two pairs swapped leave two right: half the marks."""
    _, _, question = next(iter(asked("term-match", 1)))
    right = KIND.solve(next(iter(asked("term-match", 1)))[1].facts)[0].value[0].pairs
    assert mark_question(question, (Value(pairs=right),)).marks == 4
    swapped = ((right[0][0], right[1][1]), (right[1][0], right[0][1]), *right[2:])
    assert mark_question(question, (Value(pairs=swapped),)).marks == 2
    assert mark_question(question, (Value(pairs=right[:3]),)).marks == 3


def test_uneven_sets_are_refused() -> None:
    with pytest.raises(BadDocument, match="each term needs one"):
        TermMatch(FOUR.terms, FOUR.meanings[:3])


def test_every_rule_of_kinds() -> None:
    keeps_the_rules("term-match")
