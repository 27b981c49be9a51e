"""Signs for the player keep the rules of docs/composing.md."""

from __future__ import annotations

from dataclasses import replace
from random import Random

from hypothesis import given, settings
from hypothesis import strategies as st

from composing.looking import compose
from stavewright.composing.performance import LEVELS, perform
from stavewright.score.check import faults

seeds = st.integers(0, 100_000)
few = settings(max_examples=40, deadline=None)


@few
@given(seeds)
def test_notes_stay(seed: int) -> None:
    """Signs for the player leave the notes as they were, and every slur that starts stops."""
    score = compose(seed).score
    dressed = perform(score, Random(seed), tempo="Andante", staccato=True)
    assert faults(dressed) == []
    assert [replace(note, slur=None, marks=()) for note in dressed.notes()] == list(score.notes())
    ends = [note.slur for note in dressed.notes() if note.slur]
    assert ends == ["start", "stop"] * (len(ends) // 2)


@few
@given(seeds)
def test_hairpins(seed: int) -> None:
    """A hairpin lies inside its bar, and leads to the level printed after it."""
    bars = perform(compose(seed).score, Random(seed)).staves[0].bars
    levels = [(number, d.text) for number, bar in enumerate(bars) for d in bar.directions if d.kind == "dynamic"]
    assert levels[0][0] == 0
    for number, bar in enumerate(bars):
        for direction in bar.directions:
            if direction.kind not in ("crescendo", "diminuendo"):
                continue
            assert direction.until is not None
            assert direction.at < direction.until < len(bar.events)
            before = [text for at, text in levels if at <= number][-1]
            after = next(text for at, text in levels if at > number)
            louder = LEVELS.index(after) > LEVELS.index(before)
            assert louder is (direction.kind == "crescendo")
