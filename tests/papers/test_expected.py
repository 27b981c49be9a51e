"""The predicted mark: the model, and the data near what is measured."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stavewright.papers.expected import chance, target
from stavewright.questions.catalogue import kind as kind_of

sys.path.insert(0, str(Path(__file__).parent.parent.parent / "scripts"))


@given(st.floats(-4, 4), st.floats(0, 0.5))
def test_chance_rises_with_ability_and_never_falls_below_guessing(difficulty: float, guess: float) -> None:
    """An abler pupil is likelier to be right, and nobody does worse than by guessing."""
    low, middle, high = chance(difficulty, guess)
    assert guess < low < middle < high < 1


@given(st.floats(-3, 3))
def test_a_harder_question_is_less_likely_right(difficulty: float) -> None:
    """The chance falls as difficulty rises."""
    assert all(hard < easy for hard, easy in zip(chance(difficulty + 0.5), chance(difficulty), strict=True))


@pytest.mark.parametrize(
    ("kind", "grade", "edition"),
    [
        ("name-the-note", 1, "written"),
        ("write-the-scale", 3, "written"),
        ("name-the-interval", 4, "on-screen"),
        ("complete-the-bar", 2, "on-screen"),
        ("transpose-the-melody", 5, "written"),
    ],
)
def test_targets_are_near_what_is_measured(kind: str, grade: int, edition: str) -> None:
    """The kept targets are the means over many questions (else: run scripts/make_targets.py)."""
    from make_targets import measured  # type: ignore[import-not-found]

    for kept, now in zip(target(kind_of(kind), grade, edition), measured(kind, grade, edition, 40), strict=True):
        assert abs(kept - now) < 0.08
