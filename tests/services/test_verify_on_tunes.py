"""The promises of every kind that is set on a melody, held on real tunes: chorales, quartets and fiddle collections."""

from __future__ import annotations

from collections import Counter
from random import Random

import pytest

from stavewright.questions.catalogue import kinds
from stavewright.services.verify import cases, verify_case
from stavewright.syllabus.scope import scope_for
from stavewright.wiring import melodies

SEEDS = 12
ON_A_MELODY = {id_ for id_, kind in kinds().items() if kind.extract} | {
    "transpose-the-melody", "sounding-pitch", "which-transposition", "cadence-chords", "add-the-bar-lines",
    "find-the-faulty-bar",
}  # fmt: skip


@pytest.mark.parametrize(("kind", "grade", "edition"), [case for case in cases() if case[0] in ON_A_MELODY])
def test_every_promise_holds_on_real_tunes(kind: str, grade: int, edition: str) -> None:
    """What is proved of composed melodies holds for music that nobody composed for the program."""
    found = verify_case(kind, grade, edition, seed=300, count=SEEDS, melodies=melodies())
    assert found.problems == ()


def test_the_tunes_are_real() -> None:
    """Most melodies come from the collections (else this file would prove nothing new)."""
    source = melodies()
    credits_ = Counter(
        found.credit
        for grade in range(1, 6)
        for seed in range(10)
        if (found := source.melody(scope_for(grade), Random(seed), bars=8)) is not None
    )
    assert sum(count for credit, count in credits_.items() if "composed by" not in credit) > 25
