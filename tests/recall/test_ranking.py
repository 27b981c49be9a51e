"""Marks gained a second: worked values, and what an order by worth must respect."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stavewright.recall.errors import BadMemory
from stavewright.recall.memory import GOOD, replay, unknown
from stavewright.recall.ranking import worth


@pytest.mark.parametrize(
    ("day", "gain", "rate"),
    [
        (1, 0.0954, 5.73e-4), (7, 0.1601, 8.75e-4), (28, 0.1839, 9.24e-4), (70, 0.2722, 1.301e-3),
        (83, 0.3842, 1.821e-3),
    ],
)  # fmt: skip
def test_the_gain_of_one_term_before_an_exam(day: int, gain: float, rate: float) -> None:
    """A term recalled well on day 0, exam on day 84, .05 marks, 8 and 14 seconds (worked apart from this code)."""
    found = worth(replay([[(0, GOOD)]]), today=day, exam=84, marks=0.05)
    assert found.gain[0] / 0.05 == pytest.approx(gain, abs=5e-5)
    assert found.rate[0] == pytest.approx(rate, rel=2e-3)


@given(st.integers(0, 60), st.integers(0, 60), st.floats(0.01, 5))
def test_a_try_never_costs_marks(gap: int, left: int, marks: float) -> None:
    """Trying an item today is never expected to lose marks on the exam day."""
    found = worth(replay([[(0, GOOD), (gap, GOOD)]]), today=gap + 1, exam=gap + 1 + left, marks=marks)
    assert found.gain[0] >= -1e-12


def test_more_marks_come_first_and_equal_ones_keep_their_order() -> None:
    memories = replay([[(0, GOOD)]] * 4)
    assert worth(memories, today=5, exam=30, marks=[1, 3, 1, 2]).order().tolist() == [1, 3, 0, 2]


def test_what_is_sure_is_left_alone_before_what_is_shaky() -> None:
    sure, shaky = [(0, GOOD), (3, GOOD), (20, GOOD)], [(0, GOOD)]
    found = worth(replay([sure, shaky]), today=21, exam=28, marks=1)
    assert found.order().tolist() == [1, 0]


def test_what_was_never_met_can_be_worth_most() -> None:
    found = worth(unknown(1), today=0, exam=1, marks=1)
    assert found.gain[0] > 0


def test_an_exam_that_is_over_is_refused() -> None:
    with pytest.raises(BadMemory, match="3 days back"):
        worth(unknown(1), today=5, exam=2, marks=1)


def test_every_item_gets_a_rate() -> None:
    memories = replay([[(day % 7, GOOD)] if day % 3 else [] for day in range(380)])
    found = worth(memories, today=10, exam=40, marks=1)
    assert np.isfinite(found.rate).all()
    assert found.rate.shape == (380,)
