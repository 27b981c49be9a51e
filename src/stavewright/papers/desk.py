"""What a paper holds so far: questions used, what they ask and show, and the predicted mark against its aim."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

from stavewright.papers.blueprint import Slot
from stavewright.papers.expected import Chances, chance, guess_of
from stavewright.papers.pack import Family
from stavewright.questions.documents import Question
from stavewright.questions.kind import Kind

_OF_KEYS = ("signature", "scale")
"""Tokens of which there is one a key."""
LIKELY_GUESS = 0.25
"""The chance of a blind guess among options that are not drawn yet."""


@dataclass(slots=True)
class Desk:
    """The paper as far as it is set. `drift`: what it predicts, with average questions from here on, minus the aim."""

    drift: Chances
    keys: int = 1000
    """How many keys the grade has: no more than half of them are asked, or shown, while there is a choice."""
    used: dict[tuple[str, bytes], tuple[Family, bytes]] = field(default_factory=dict)
    asks: set[str] = field(default_factory=set)
    shows: set[str] = field(default_factory=set)

    def copy(self) -> Desk:
        """The same desk, to try something out on."""
        return Desk(self.drift, self.keys, dict(self.used), set(self.asks), set(self.shows))

    def spoils(self, kind: Kind, facts: Any, *, again: bool) -> bool:
        """Whether the question would answer another of the paper, or be answered by it.

        Unless `again`, asking one thing twice (in two ways) is avoided too. But small grades have few keys: when half
        of them are asked the others are left to be shown, and the other way about.
        """
        asks, shows = kind.asks(facts), kind.shows(facts)
        if not asks.isdisjoint(self.shows) or not self.asks.isdisjoint(shows):
            return True
        if again:
            return False
        return any((one in self.asks) != self._crowded(one, self.asks) for one in asks) or any(
            one not in self.shows and self._crowded(one, self.shows) for one in shows
        )

    def _crowded(self, token: str, tokens: set[str]) -> bool:
        """Whether half of the grade's keys stand among the tokens of that sort."""
        sort = token.partition(":")[0]
        return sort in _OF_KEYS and 2 * sum(one.startswith(sort) for one in tokens) >= self.keys

    def drift_with(self, kind: Kind, facts: Any, slot: Slot, guess: float | None = None) -> Chances:
        """The drift when that question is taken for an item of the slot."""
        if guess is None:
            guess = LIKELY_GUESS if kind.forms[slot.edition] == "choice" else 0.0
        return _moved(self.drift, chance(kind.difficulty(facts), guess), slot)

    def keep(self, kind: Kind, facts: Any, slot: Slot, question: Question, family: Family, key: bytes) -> None:
        """Put the question into the paper."""
        self.drift = self.drift_with(kind, facts, slot, guess_of(question))
        self.used[kind.id, bytes(question.facts)] = (family, key)
        self.asks |= kind.asks(facts)
        self.shows |= kind.shows(facts)

    def changed(self, planned: Slot, taken: Slot) -> None:
        """An item of another family is taken than was planned: what is expected changes with it."""
        self.drift = _moved(self.drift, taken.expected, planned)


def size_of(drift: Chances) -> float:
    """How far a prediction is from its aim: at the middle ability above all."""
    return abs(drift[0]) / 4 + abs(drift[1]) + abs(drift[2]) / 4


def away(now: Chances, aim: Chances) -> Chances:
    """What is predicted minus what is aimed at."""
    return now[0] - aim[0], now[1] - aim[1], now[2] - aim[2]


def _moved(drift: Chances, likely: Chances, slot: Slot) -> Chances:
    mean, marks = slot.expected, slot.marks
    return (
        drift[0] + marks * (likely[0] - mean[0]),
        drift[1] + marks * (likely[1] - mean[1]),
        drift[2] + marks * (likely[2] - mean[2]),
    )


def shared(rows: Iterable[Chances]) -> Chances:
    """The sum of several predictions."""
    low = middle = high = 0.0
    for row in rows:
        low, middle, high = low + row[0], middle + row[1], high + row[2]
    return low, middle, high
