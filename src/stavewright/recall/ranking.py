"""What to recall next: the items that bring most marks on the exam day for each second of study.

Source of the rule: greedy scheduling by gain over cost, as Pavlik and Anderson (2008) and Eglington and Pavlik (2020)
schedule practice; here the gain is counted on the exam day and not in general.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from stavewright.recall.errors import BadMemory
from stavewright.recall.memory import AGAIN, GOOD, Array, Memories, after_recall, recall_chance


@dataclass(frozen=True, slots=True)
class Worth:
    """What trying each item today is worth: marks gained on the exam day, seconds it takes, marks a second."""

    gain: Array
    seconds: Array
    rate: Array

    def order(self) -> NDArray[np.intp]:
        """The items from the one that is worth most to the one that is worth least; equal ones keep their order."""
        return np.argsort(-self.rate, kind="stable")


def worth(
    memories: Memories,
    *,
    today: float,
    exam: float,
    marks: ArrayLike,
    seconds_right: ArrayLike = 8.0,
    seconds_wrong: ArrayLike = 14.0,
    guess: ArrayLike = 0.0,
) -> Worth:
    """What one try of each item today is worth on the exam day.

    `marks` is what an item is expected to bring in the exam if it is known; `guess` the chance of a right answer to an
    item never recalled before. An item just learned again is not counted as less than it was: the curve of a fresh
    memory falls more steeply at first, and a try does no harm.

    Raises:
        BadMemory: the exam lies before today.
    """
    left = exam - today
    if left < 0:
        raise BadMemory(f"the exam lies {-left:g} days back: there is nothing to plan for")
    known = memories.known
    stable = np.where(known, memories.stability, 1.0)
    unknown = np.broadcast_to(np.asarray(guess, float), stable.shape)
    now = np.where(known, recall_chance(stable, np.maximum(today - memories.last, 0)), unknown)
    untouched = np.where(known, recall_chance(stable, np.maximum(exam - memories.last, 0)), unknown)
    up = recall_chance(after_recall(memories, today, GOOD).stability, left)
    down = recall_chance(after_recall(memories, today, AGAIN).stability, left)
    gain = np.asarray(marks, float) * (np.maximum(now * up, untouched) + (1 - now) * down - untouched)
    seconds = now * np.asarray(seconds_right, float) + (1 - now) * np.asarray(seconds_wrong, float)
    return Worth(np.asarray(gain), np.asarray(seconds), np.asarray(gain / seconds))
