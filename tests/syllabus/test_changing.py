"""A speed or loudness that changes, said in pupils' own words; the sayings are from memory of pupils' papers."""

from __future__ import annotations

import pytest

from stavewright.syllabus.meanings import same_meaning

SLOWER, FASTER, LOUDER, SOFTER = "getting slower", "getting faster", "getting louder", "getting softer"

SAID = [
    (SLOWER, "slows down gradually"),
    (SLOWER, "going slower"),
    (SLOWER, "gradually decrease the speed"),
    (SLOWER, "slowing down the tempo"),
    (FASTER, "gets faster"),
    (FASTER, "gradually increase in speed"),
    (LOUDER, "gradually increasing in volume"),
    (LOUDER, "gets gradually louder"),
    (SOFTER, "decrease in volume"),
    (SOFTER, "going quieter little by little"),
    ("from the beginning", "go back to start"),
    ("return to the first speed", "back to normal speed"),
    ("a little", "bit"),
    ("smoothly", "join the notes"),
]


@pytest.mark.parametrize("meaning, said", SAID)
def test_a_change_is_understood(meaning: str, said: str) -> None:
    assert same_meaning(said, meaning)
    for other in {SLOWER, FASTER, LOUDER, SOFTER} - {meaning}:
        assert not same_meaning(said, other)


@pytest.mark.parametrize("said", ["slow", "slower", "soft", "softer", "loud", "louder", "fast", "faster", "speed"])
def test_a_state_is_no_change(said: str) -> None:
    """Theory of terms, common practice: "più mosso" (faster) is not "accelerando" (getting faster)."""
    assert not any(same_meaning(said, change) for change in (SLOWER, FASTER, LOUDER, SOFTER))
