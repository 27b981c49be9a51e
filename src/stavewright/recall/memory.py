"""How well things are remembered: the FSRS-6 memory model over many items at once.

Source of the formulas and the default weights: the Free Spaced Repetition Scheduler, version 6 (Ye and others, open
spaced repetition project); the package `fsrs` is the second opinion in the tests. Times are days; a memory has a
stability S (days until recall falls to 90 %) and a difficulty D (1 easy to 10 hard).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from stavewright.recall.errors import BadMemory

Array = NDArray[np.float64]

AGAIN, HARD, GOOD, EASY = 1, 2, 3, 4
"""How a recall went: forgotten, with effort, well, at once."""

WEIGHTS: Final = (
    0.212, 1.2931, 2.3065, 8.2956, 6.4133, 0.8334, 3.0194, 0.001, 1.8722, 0.1666, 0.796,
    1.4835, 0.0614, 0.2629, 1.6483, 0.6014, 1.8729, 0.5425, 0.0912, 0.0658, 0.1542,
)  # fmt: skip
"""The default weights of FSRS-6: fitted to many people's reviews by its authors, never to one pupil."""

LEAST_STABILITY: Final = 0.001
_DECAY: Final = WEIGHTS[20]
_FACTOR: Final = 0.9 ** (-1 / _DECAY) - 1


@dataclass(frozen=True, slots=True)
class Memories:
    """The memories of some items side by side: stability and difficulty of each, and the day of its last recall.

    An item that was never recalled has stability 0.
    """

    stability: Array
    difficulty: Array
    last: Array

    def __post_init__(self) -> None:
        if not self.stability.shape == self.difficulty.shape == self.last.shape:
            raise BadMemory("stability, difficulty and last day are of different lengths")

    @property
    def known(self) -> NDArray[np.bool_]:
        """Which items were recalled at least once."""
        return np.asarray(self.stability > 0)


def unknown(count: int) -> Memories:
    """The memories of items that were never recalled.

    >>> unknown(2).known.tolist()
    [False, False]
    """
    return Memories(np.zeros(count), np.zeros(count), np.zeros(count))


def recall_chance(stability: ArrayLike, days: ArrayLike) -> Array:
    """How likely an item of that stability is recalled after so many days (0 to 1).

    >>> recall_chance(10.0, [0, 10, 60]).round(4).tolist()
    [1.0, 0.9, 0.7427]
    """
    return np.asarray((1 + _FACTOR * np.asarray(days, float) / np.asarray(stability, float)) ** -_DECAY)


def days_until(stability: ArrayLike, chance: float = 0.9) -> Array:
    """After how many days recall falls to that chance.

    >>> float(days_until(10.0, 0.9).round(6))
    10.0

    Raises:
        BadMemory: a chance that is not between 0 and 1.
    """
    if not 0 < chance < 1:
        raise BadMemory(f"recall falls to a chance between 0 and 1, not to {chance}")
    return np.asarray(np.asarray(stability, float) / _FACTOR * (chance ** (-1 / _DECAY) - 1))


def after_recall(memories: Memories, day: ArrayLike, grade: ArrayLike) -> Memories:
    """The memories after every item was tried once, on a day, with a grade (AGAIN, HARD, GOOD or EASY).

    Days are counted in whole days from any fixed day; two tries on one day strengthen by less.

    Raises:
        BadMemory: a grade that is none, or a day before the last recall.
    """
    days = np.broadcast_to(np.asarray(day, float), memories.stability.shape)
    grades = np.broadcast_to(np.asarray(grade), memories.stability.shape).astype(int)
    if not np.isin(grades, (AGAIN, HARD, GOOD, EASY)).all():
        raise BadMemory("a recall is graded 1 (forgotten), 2 (with effort), 3 (well) or 4 (at once)")
    known = memories.known
    gap = np.where(known, days - memories.last, 0.0)
    if (gap < 0).any():
        raise BadMemory("a recall lies before the last one: give recalls in the order they happened")
    first = np.asarray(WEIGHTS[:4])[grades - 1]
    stable = np.where(known, memories.stability, 1.0)
    hard = np.where(known, memories.difficulty, 1.0)
    chance = recall_chance(stable, gap)
    later = np.where(
        gap < 1,
        _same_day(stable, grades),
        np.where(grades == AGAIN, _forgotten(stable, hard, chance), _recalled(stable, hard, chance, grades)),
    )
    return Memories(
        np.maximum(np.where(known, later, first), LEAST_STABILITY),
        np.clip(np.where(known, _harder(hard, grades), _first_difficulty(grades)), 1.0, 10.0),
        days.copy(),
    )


def _first_difficulty(grades: NDArray[np.int_]) -> Array:
    return np.asarray(WEIGHTS[4] - np.exp(WEIGHTS[5] * (grades - 1)) + 1)


def _harder(hard: Array, grades: NDArray[np.int_]) -> Array:
    change = (10 - hard) / 9 * (-WEIGHTS[6] * (grades - 3))
    easiest = _first_difficulty(np.full_like(grades, EASY))
    return np.asarray(WEIGHTS[7] * easiest + (1 - WEIGHTS[7]) * (hard + change))


def _same_day(stable: Array, grades: NDArray[np.int_]) -> Array:
    factor = np.exp(WEIGHTS[17] * (grades - 3 + WEIGHTS[18])) * stable ** -WEIGHTS[19]
    return np.asarray(stable * np.where(grades >= HARD, np.maximum(factor, 1.0), factor))


def _recalled(stable: Array, hard: Array, chance: Array, grades: NDArray[np.int_]) -> Array:
    bonus = np.where(grades == HARD, WEIGHTS[15], np.where(grades == EASY, WEIGHTS[16], 1.0))
    growth = np.exp(WEIGHTS[8]) * (11 - hard) * stable ** -WEIGHTS[9] * np.expm1((1 - chance) * WEIGHTS[10]) * bonus
    return np.asarray(stable * (1 + growth))


def _forgotten(stable: Array, hard: Array, chance: Array) -> Array:
    longer = WEIGHTS[11] * hard ** -WEIGHTS[12] * ((stable + 1) ** WEIGHTS[13] - 1) * np.exp((1 - chance) * WEIGHTS[14])
    return np.asarray(np.minimum(longer, stable / np.exp(WEIGHTS[17] * WEIGHTS[18])))


def replay(histories: Sequence[Iterable[tuple[float, int]]]) -> Memories:
    """The memories after whole histories of (day, grade), one history an item.

    >>> found = replay([[(0, GOOD), (7, GOOD)], []])
    >>> found.stability.round(4).tolist()
    [21.4114, 0.0]

    Raises:
        BadMemory: as `after_recall`.
    """
    rows = [list(history) for history in histories]
    found = unknown(len(rows))
    for turn in range(max(map(len, rows), default=0)):
        at = np.asarray([index for index, row in enumerate(rows) if turn < len(row)])
        some = Memories(found.stability[at], found.difficulty[at], found.last[at])
        tried = after_recall(some, [rows[i][turn][0] for i in at], [rows[i][turn][1] for i in at])
        found.stability[at], found.difficulty[at], found.last[at] = tried.stability, tried.difficulty, tried.last
    return found
