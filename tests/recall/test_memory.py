"""The memory model against the package `fsrs` (its own reference), published shape, and rules of its own."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from random import Random

import numpy as np
import pytest
from fsrs import Card, Rating, Scheduler
from hypothesis import given
from hypothesis import strategies as st

from stavewright.recall.errors import BadMemory
from stavewright.recall.memory import AGAIN, EASY, GOOD, HARD, WEIGHTS, after_recall, days_until, recall_chance, replay

START = datetime(2026, 1, 1, 12, tzinfo=UTC)
SCHEDULER = Scheduler(enable_fuzzing=False, learning_steps=(), relearning_steps=())


def _opinion(history: list[tuple[int, int]]) -> Card:
    card = Card(card_id=1, due=START)
    for day, grade in history:
        card, _ = SCHEDULER.review_card(card, Rating(grade), START + timedelta(days=day))
    return card


def _history(rng: Random) -> list[tuple[int, int]]:
    day, found = 0, []
    for _ in range(rng.randint(1, 12)):
        found.append((day, rng.choice((AGAIN, HARD, GOOD, GOOD, EASY))))
        day += rng.choice((0, 1, 2, 5, 9, 20, 60, 200))
    return found


def test_the_weights_are_the_package_s_own() -> None:
    assert tuple(SCHEDULER.parameters) == WEIGHTS


def test_ten_thousand_random_histories_agree_with_the_package() -> None:
    """Stability, difficulty and recall equal the package `fsrs` to one part in a million (10,000 histories)."""
    rng = Random(20261125)
    histories = [_history(rng) for _ in range(10_000)]
    ours = replay(histories)
    cards = [_opinion(history) for history in histories]
    np.testing.assert_allclose(ours.stability, [card.stability for card in cards], rtol=1e-6)
    np.testing.assert_allclose(ours.difficulty, [card.difficulty for card in cards], rtol=1e-6)
    later = [history[-1][0] + 30 for history in histories]
    theirs = [
        SCHEDULER.get_card_retrievability(card, START + timedelta(days=day))
        for card, day in zip(cards, later, strict=True)
    ]
    np.testing.assert_allclose(recall_chance(ours.stability, 30), theirs, rtol=1e-6)


def test_forgetting_halves_nothing_at_its_own_stability() -> None:
    """After as many days as its stability an item is recalled with a chance of 90 % (the model's own definition)."""
    for stability in (0.01, 1.0, 77.0, 900.0):
        assert recall_chance(stability, stability) == pytest.approx(0.9)
        assert days_until(stability) == pytest.approx(stability)


@given(st.floats(0.01, 1000), st.floats(0, 1000), st.floats(0.01, 100))
def test_recall_only_falls_with_time(stability: float, days: float, more: float) -> None:
    """The longer ago, the less likely the recall."""
    assert recall_chance(stability, days + more) <= recall_chance(stability, days)


@given(st.integers(1, 300), st.integers(1, 4))
def test_a_better_recall_never_leaves_a_weaker_memory(gap: int, grade: int) -> None:
    """Forgotten, with effort, well, at once: each leaves at least the stability of the one before."""
    found = replay([[(0, GOOD), (gap, one)] for one in range(1, grade + 1)])
    assert (np.diff(found.stability) >= 0).all()


def _best_gap(retention: int) -> int:
    """Two sessions, the second a test with feedback: the gap that leaves most after so many days."""
    gaps = np.arange(0, 60)
    first = replay([[(0, GOOD)]] * len(gaps))
    chance = recall_chance(first.stability, gaps)
    left = [
        recall_chance(after_recall(first, gaps, grade).stability, retention) for grade in (GOOD, AGAIN)
    ]
    return int(np.argmax(chance * left[0] + (1 - chance) * left[1]))


def test_the_spacing_ridgeline_has_the_published_shape() -> None:
    """The best gap rises in days and falls as a share of the delay (Cepeda and others 2008, 1,354 people)."""
    delays = (7, 35, 70, 350)
    best = [_best_gap(delay) for delay in delays]
    assert min(best) > 0
    assert best == sorted(set(best))
    shares = [gap / delay for gap, delay in zip(best, delays, strict=True)]
    assert shares == sorted(shares, reverse=True)


def test_what_cannot_have_happened_is_refused() -> None:
    with pytest.raises(BadMemory, match="graded"):
        replay([[(0, 5)]])
    with pytest.raises(BadMemory, match="order"):
        replay([[(5, GOOD), (3, GOOD)]])
    with pytest.raises(BadMemory, match="chance"):
        days_until(3.0, 1.5)
