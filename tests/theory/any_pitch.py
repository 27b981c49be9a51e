"""Notes, pitches, intervals and keys for the property tests."""

from __future__ import annotations

from hypothesis import strategies as st

from stavewright.theory.interval import Interval
from stavewright.theory.key import ALL_KEYS
from stavewright.theory.pitch import STEPS, NoteName, Pitch

note_names = st.builds(NoteName, st.sampled_from(STEPS), st.integers(-4, 4))
pitches = st.builds(Pitch, st.sampled_from(STEPS), st.integers(-4, 4), st.integers(1, 7))
keys = st.sampled_from(ALL_KEYS)

PERFECT_QUALITIES = ("P", "A", "d", "AA", "dd")
OTHER_QUALITIES = ("M", "m", "A", "d", "AA", "dd")


def every_interval(most: int) -> list[Interval]:
    """List every interval to a number, to doubly augmented and diminished; a unison is never diminished."""
    return [
        Interval(quality, number)
        for number in range(1, most + 1)
        for quality in (PERFECT_QUALITIES if number % 7 in (1, 4, 5) else OTHER_QUALITIES)
        if number > 1 or quality[0] != "d"
    ]


intervals = st.sampled_from(every_interval(15))
simple_intervals = st.sampled_from(every_interval(8))
EVERY_PITCH = [Pitch(step, alter, 4) for step in STEPS for alter in range(-2, 3)]
"""Thirty-five pitches: each letter in octave 4, from double flat to double sharp."""
