"""The pack that a series of papers is dealt from: no question returns before its pack is through."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field
from hashlib import blake2b
from random import Random

from stavewright.questions.catalogue import kind as kind_of
from stavewright.questions.documents import Question
from stavewright.questions.kind import Draft

_KEY_BYTES = 12
Family = tuple[str, str]
"""A kind and the form it is asked in."""


def key_of(family: Family, facts: bytes) -> bytes:
    """What two questions have in common that are the same: kind, form and facts, in twelve bytes."""
    return blake2b(facts, digest_size=_KEY_BYTES, key="/".join(family).encode()[:64]).digest()


@dataclass(slots=True)
class Deck:
    """All the questions a small family can ask at a grade, and which of them are left in the present round."""

    cards: dict[bytes, Draft]
    left: dict[bytes, Draft] = field(default_factory=dict)

    def drawn(self, rng: Random, first: int) -> list[tuple[bytes, Draft]]:
        """So many cards at random, then all the others."""
        keys = list(self.left)
        some = rng.sample(keys, min(first, len(keys)))
        seen = set(some)
        return [(key, self.left[key]) for key in (*some, *(key for key in keys if key not in seen))]


@dataclass(slots=True)
class Pack:
    """How often each question (kind, form and facts) has been dealt, and which round each family is in.

    In round n a question may be dealt only if it has come fewer than n times. When a family has nothing left to deal,
    its next round begins: that is a shuffled pack gone through and taken up again. Questions are kept by a short key,
    so that a long series costs no more to go on with than a short one.

    >>> pack, family = Pack(), ("name-the-note", "words")
    >>> one, other = key_of(family, b"1"), key_of(family, b"2")
    >>> pack.deal(family, one); pack.fresh(family, one), pack.fresh(family, other)
    (False, True)
    >>> pack.next_round(family); pack.fresh(family, one)
    True
    """

    dealt: Counter[bytes] = field(default_factory=Counter)
    rounds: Counter[Family] = field(default_factory=Counter)
    decks: dict[tuple[Family, int], Deck | None] = field(default_factory=dict)
    early: int = 0
    """How many rounds began before their pack was through, because nothing else could be set."""

    def fresh(self, family: Family, key: bytes) -> bool:
        """Whether the question may be dealt in the family's present round."""
        return self.dealt[key] <= self.rounds[family]

    def deal(self, family: Family, key: bytes) -> None:
        """The question has been dealt."""
        self.dealt[key] += 1
        if not self.fresh(family, key):
            for (name, _), deck in self.decks.items():
                if deck is not None and name == family:
                    deck.left.pop(key, None)

    def next_round(self, family: Family) -> None:
        """The family's pack is through: take it up again."""
        self.rounds[family] += 1
        for (name, _), deck in self.decks.items():
            if deck is not None and name == family:
                self._fill(family, deck)

    def left(self, family: Family, grade: int, pool: int) -> int:
        """How many questions of a family are left in its present round, as far as that is known."""
        deck = self.decks.get((family, grade))
        return pool if deck is None else len(deck.left)

    def back_to(self, rounds: Counter[Family]) -> None:
        """Go back to earlier rounds: what was to be set has not been set."""
        for family in [name for name, number in self.rounds.items() if number != rounds[name]]:
            self.rounds[family] = rounds[family] - 1
            self.next_round(family)

    def lay(self, family: Family, grade: int, cards: dict[bytes, Draft] | None) -> None:
        """Keep the whole deck of a small family (None: it is too large to lay out)."""
        deck = None if cards is None else Deck(cards)
        if deck is not None:
            self._fill(family, deck)
        self.decks[family, grade] = deck

    def take(self, questions: Iterable[Question]) -> None:
        """Count the questions of an earlier paper as dealt."""
        for question in questions:
            family = family_of(question)
            self.deal(family, key_of(family, bytes(question.facts)))

    def _fill(self, family: Family, deck: Deck) -> None:
        deck.left = {key: card for key, card in deck.cards.items() if self.fresh(family, key)}


def family_of(question: Question) -> Family:
    """The kind of a question and the form it is asked in."""
    return question.kind, kind_of(question.kind).forms.get(question.edition, question.edition)
