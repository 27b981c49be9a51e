"""Composed rhythms keep the rules of docs/composing.md."""

from __future__ import annotations

from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stavewright.composing.cells import Cell, slots_of, ticks_of
from stavewright.composing.errors import CannotCompose
from stavewright.composing.rhythm import Rhythm, compose_rhythm
from stavewright.composing.writing import rhythm_score
from stavewright.score.check import faults
from stavewright.syllabus.scope import scope_for
from stavewright.theory.duration import Duration
from stavewright.theory.metre import ALL_TIMES, TimeSignature

seeds = st.integers(0, 100_000)
times = st.sampled_from(ALL_TIMES)
few = settings(max_examples=60, deadline=None)


def starts(row: Cell) -> list[tuple[int, int]]:
    """(start, length) of each sounding value, tied values apart."""
    return [(ticks_of(row[:place]), value.duration.ticks) for place, value in enumerate(row) if not value.rest]


@few
@given(seeds, times, st.sampled_from((2, 3, 4, 6, 8)), st.booleans(), st.booleans())
def test_lengths(seed: int, time: TimeSignature, bars: int, pick: bool, rests: bool) -> None:
    """Every bar adds up, and the last bar is short by the pick-up."""
    made = compose_rhythm(Random(seed), time=time, bars=bars, anacrusis=pick, rests=rests)
    whole = made.bars[1:] if pick else made.bars
    assert len(whole) == bars
    assert pick is (made.pickup > 0)
    assert ticks_of(made.bars[0]) == (made.pickup or time.ticks)
    assert all(ticks_of(row) == time.ticks for row in whole[:-1])
    assert ticks_of(whole[-1]) == time.ticks - made.pickup
    assert faults(rhythm_score(made)) == []
    assert rests or not any(value.rest for row in made.bars for value in row)


@few
@given(seeds, st.sampled_from((1, 2, 3, 4, 5)), st.booleans())
def test_values(seed: int, grade: int, pick: bool) -> None:
    """Only the values, dots and irregular groups allowed are written."""
    rng = Random(seed)
    scope = scope_for(grade)
    time = rng.choice(scope.time_signatures)
    made = compose_rhythm(
        rng, time=time, values=scope.values, dots=scope.dots, tuplets=scope.tuplets, anacrusis=pick, rests=True
    )
    for row in made.bars:
        for value in row:
            assert value.duration.dots <= scope.dots
            assert value.duration.tuplet is None or value.duration.tuplet.actual in scope.tuplets
            assert value.rest or value.duration.type in scope.values


@few
@given(seeds, times)
def test_return(seed: int, time: TimeSignature) -> None:
    """A rhythm of four bars brings its first bar back as its third."""
    made = compose_rhythm(Random(seed), time=time)
    assert made.bars[0] == made.bars[2]


def closing(made: Rhythm) -> Cell:
    return tuple(value for value in made.bars[-1] if not value.rest)


@few
@given(seeds, times, st.booleans(), st.booleans())
def test_close(seed: int, time: TimeSignature, pick: bool, rests: bool) -> None:
    """A closing note never hides a group of an irregular bar, nor ends inside a later compound beat."""
    made = compose_rhythm(Random(seed), time=time, anacrusis=pick, rests=rests)
    slots = slots_of(time, made.grouping)
    row = closing(made)
    assert all(value.tie for value in row[:-1])
    assert not row[-1].tie
    ends = {slot.start + slot.length for slot in slots}
    for start, length in starts(row):
        if time.kind == "compound" and length > slots[0].length:
            assert start + length in ends
        if time.kind == "irregular":
            hidden = [slot.start for slot in slots if slot.heavy and start < slot.start < start + length]
            assert not hidden or (length & (length - 1)) == 0 or Duration.parse("minim").ticks % length in (0, length)


@pytest.mark.parametrize("want", ["syncopation", "triplet"])
def test_wants(want: str) -> None:
    """What is wanted of a rhythm is in it, or it is refused by name."""
    time = TimeSignature(2, 4)
    beat = time.beat.ticks
    for seed in range(20):
        made = compose_rhythm(Random(seed), time=time, wanted=(want,))
        places = [one for row in made.bars for one in starts(row)]
        across = any(start % beat and start % beat + length > beat for start, length in places)
        groups = any(value.duration.tuplet is not None for row in made.bars for value in row)
        assert across if want == "syncopation" else groups
    with pytest.raises(CannotCompose, match=want):
        compose_rhythm(Random(1), time=time, wanted=(want,), values=("minim", "crotchet"))
