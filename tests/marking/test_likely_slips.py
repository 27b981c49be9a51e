"""Which slip is held: the arithmetic against Bayes' rule by hand, and what must never be named."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stavewright.marking.follow_up import most_telling, told_by, uncertainty
from stavewright.marking.likely_slips import NONE, OTHER, SURE, Foretold, Seen, foretell, named, seen, weigh
from stavewright.questions.values import Value
from stavewright.services.imagined_pupils import MOST, Found, bank, examine, imagine, rates
from stavewright.services.set_questions import set_questions
from stavewright.wiring import composed_melodies

GAP = Foretold({"counts the gap": 1, "counts semitones": 2}, 2)
ALIKE = Foretold({"counts the gap": 1, "counts semitones": 1}, 1)
BLIND = Foretold({"counts the gap": 0, "counts semitones": 1}, 1)


def foretolds() -> st.SearchStrategy[Foretold]:
    """Any question with up to four slips."""

    def made(wrong: int, answers: list[int], unlisted: bool) -> Foretold:
        return Foretold({f"slip {at}": min(one, wrong) for at, one in enumerate(answers)}, wrong, frozenset(), unlisted)

    return st.builds(made, st.integers(1, 4), st.lists(st.integers(0, 4), min_size=1, max_size=4), st.booleans())


def test_the_posterior_is_bayes_rule_worked_by_hand() -> None:
    """Bayes (1763): posterior = prior times likelihood over the sum. Two answers by the slip, worked on paper.

    Prior: none .5, other .12, each slip .38/2. Likelihood of outcome 1: none .08/4, other .6/4, the slip .75 + .1/4,
    the other slip .1/4 (half of the unexplained answers go to answers no slip gives, a quarter to each of the two).
    """
    weights = {
        NONE: 0.5 * 0.02**2,
        OTHER: 0.12 * 0.15**2,
        "counts the gap": 0.19 * 0.775**2,
        "counts semitones": 0.19 * 0.025**2,
    }
    found = weigh([Seen(GAP, 1), Seen(GAP, 1)])
    for held, weight in weights.items():
        assert found[held] == pytest.approx(weight / sum(weights.values()), abs=1e-12)


@given(foretolds())
def test_chances_add_up(one: Foretold) -> None:
    """Whatever is held, the chances of all the answers that may come add up to one."""
    for held in (NONE, OTHER, *one.answers):
        assert sum(one.chance(outcome, held) for outcome in one.outcomes) == pytest.approx(1)


@given(st.lists(foretolds(), min_size=1, max_size=5), st.randoms(use_true_random=False))
def test_likelihoods_add_up(questions: list[Foretold], rng: object) -> None:
    """The likelihoods of all that may be held add up to one, whatever was answered."""
    found = weigh([Seen(one, rng.choice(one.outcomes)) for one in questions])  # type: ignore[attr-defined]
    assert sum(found.values()) == pytest.approx(1)


@given(foretolds(), st.lists(foretolds(), max_size=3), st.randoms(use_true_random=False))
def test_no_question_is_expected_to_confuse(one: Foretold, before: list[Foretold], rng: object) -> None:
    """An answer is never expected to leave one less sure than before (Shannon 1948: information is not negative)."""
    names = [name for question in (one, *before) for name in question.answers]
    likely = weigh([Seen(b, rng.choice(b.outcomes)) for b in before], names)  # type: ignore[attr-defined]
    assert told_by(likely, one) >= -1e-9


def test_one_wrong_answer_names_nobody() -> None:
    assert named(weigh([Seen(GAP, 1)])) is None


def test_wrong_answers_of_many_sorts_are_no_named_slip() -> None:
    found = weigh([Seen(GAP, -1), Seen(GAP, 1), Seen(GAP, -1), Seen(GAP, 2)])
    assert named(found) is None
    assert max(found, key=found.__getitem__) == OTHER


def test_right_answers_speak_for_nothing_held() -> None:
    found = weigh([Seen(GAP, 0)] * 4)
    assert found[NONE] > SURE


def test_slips_that_answer_alike_are_not_told_apart_and_not_named() -> None:
    found = weigh([Seen(ALIKE, 1)] * 5)
    assert found["counts the gap"] == pytest.approx(found["counts semitones"])
    assert named(found) is None


def test_the_follow_up_tells_the_two_apart() -> None:
    """Of the candidates the one is taken on which the two slips differ."""
    two = {"counts the gap": 0.5, "counts semitones": 0.5}
    assert most_telling(two, [ALIKE, BLIND, ALIKE]) == 1
    assert most_telling(two, [ALIKE, GAP, BLIND]) == 1
    assert most_telling(two, [ALIKE]) is None
    assert uncertainty(two) == 1.0


def test_an_old_answer_counts_less() -> None:
    fresh = weigh([Seen(GAP, 1), Seen(GAP, 1)])
    old = weigh([Seen(GAP, 1, 42.0), Seen(GAP, 1, 42.0)])
    assert old["counts the gap"] < fresh["counts the gap"]
    halved = weigh([Seen(GAP, 1, 21.0), Seen(GAP, 1, 21.0)])
    once = weigh([Seen(GAP, 1)])
    assert halved["counts the gap"] == pytest.approx(once["counts the gap"]), "two answers of half weight weigh as one"


def test_an_answer_is_seen_as_what_the_slips_foretell() -> None:
    (question,) = set_questions(
        kind="interval-number", grade=2, edition="written", count=1, seed=3, melodies=composed_melodies()
    )
    foretold, wrong = foretell(question)
    assert seen(question, ()) is None
    for number, value in enumerate(wrong, 1):
        one = seen(question, value)
        assert one is not None
        assert one.outcome == number
    strange = seen(question, (Value(number=40),))
    assert strange is not None
    assert strange.outcome == -1
    assert foretold.wrong == len(wrong) >= 2


def test_imagined_pupils_are_named_rightly() -> None:
    """Precision at least .95 and recall at least .9 over pupils whose slip is known (eight kinds, both editions)."""
    from random import Random

    kinds = {
        "name-the-note": 2, "interval-number": 3, "degree-number": 3, "relative-key": 3, "how-many-in": 2,
        "name-the-interval": 4, "time-signature-meaning": 3, "chord-and-inversion": 5,
    }  # fmt: skip
    found: list[Found] = []
    for kind, grade in kinds.items():
        for edition in ("written", "on-screen"):
            asked = bank(kind, grade, edition, count=48, seed=900, melodies=composed_melodies())
            rng = Random(f"{kind}/{edition}")
            for held in (*asked.holdable(), NONE, OTHER):
                found += [examine(imagine(held, rng), asked, rng) for _ in range(8)]
    got = rates(found)
    assert max(one.asked for one in found) <= MOST
    assert got.precision >= 0.95, got
    assert got.recall >= 0.9, got
    assert got.false_none <= 0.05, got
    assert got.false_other <= 0.1, got
