"""Faults planted on purpose, one a test: `verify` finds every one of them, and finds nothing without them."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from services import planted_answers, planted_marking, planted_sheets
from services.planting import FAULTS, Fault, Ground
from stavewright.questions.catalogue import kinds
from stavewright.services.spread import dead_slips
from stavewright.services.verify import verify_case
from stavewright.wiring import composed_melodies

PLANTED_IN = (planted_answers, planted_marking, planted_sheets)
SEEDS = 40


def found(one: Fault) -> list[str]:
    verified = verify_case(one.kind, one.grade, one.edition, seed=0, count=SEEDS, melodies=composed_melodies())
    return [*verified.problems, *dead_slips([verified.slips], after=SEEDS)]


@pytest.fixture
def ground(monkeypatch: pytest.MonkeyPatch) -> Iterator[Ground]:
    one = Ground(monkeypatch)
    yield one
    one.clear()


@pytest.mark.parametrize("one", FAULTS, ids=lambda one: one.name)
def test_a_planted_fault_is_found(one: Fault, ground: Ground) -> None:
    """Without the fault nothing is found; with it, at least one problem is, and for the right reason."""
    assert found(one) == []
    one.plant(ground)
    problems = found(one)
    assert [problem for problem in problems if re.search(one.told, problem)], problems[:3]


def test_faults_of_many_kinds_are_planted() -> None:
    """At least forty-five faults, no two of one name, in kinds of every topic."""
    assert len(FAULTS) >= 45
    # The last part of the name: pytest may have collected a file for its examples under a longer one.
    last = {one.plant.__module__.rpartition(".")[2] for one in FAULTS}
    assert last == {module.__name__.rpartition(".")[2] for module in PLANTED_IN}
    assert len({one.name for one in FAULTS}) == len(FAULTS)
    planted = {kinds()[one.kind].topic for one in FAULTS}
    assert {kind.topic for kind in kinds().values()} - planted <= {"composing"}
