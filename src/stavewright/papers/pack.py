"""The pack that a series of papers is dealt from: no question returns before its pack is through."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field

from stavewright.questions.documents import Question


@dataclass(slots=True)
class Pack:
    """How often each question (kind and facts) has been dealt, and which round each kind is in.

    In round n a question may be dealt only if it has come fewer than n times. When a kind has nothing left to deal, its
    next round begins: that is a shuffled pack gone through and taken up again. The form of a kind is fixed by the
    edition, so within a series kind and facts say which question it is.

    >>> pack = Pack()
    >>> pack.deal("name-the-note", b"1"); pack.fresh("name-the-note", b"1"), pack.fresh("name-the-note", b"2")
    (False, True)
    >>> pack.next_round("name-the-note"); pack.fresh("name-the-note", b"1")
    True
    """

    dealt: Counter[tuple[str, bytes]] = field(default_factory=Counter)
    rounds: Counter[str] = field(default_factory=Counter)

    def fresh(self, kind: str, facts: bytes) -> bool:
        """Whether the question may be dealt in the kind's present round."""
        return self.dealt[kind, facts] <= self.rounds[kind]

    def deal(self, kind: str, facts: bytes) -> None:
        """The question has been dealt."""
        self.dealt[kind, facts] += 1

    def next_round(self, kind: str) -> None:
        """The kind's pack is through: take it up again."""
        self.rounds[kind] += 1

    def take(self, questions: Iterable[Question]) -> None:
        """Count the questions of an earlier paper as dealt."""
        for question in questions:
            self.deal(question.kind, bytes(question.facts))
