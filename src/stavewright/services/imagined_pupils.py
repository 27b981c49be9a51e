"""Imagined pupils with a known slip, to measure how often the slip is found and how often a wrong one is named.

They do not follow the shares that `marking.likely_slips` weighs by: how steadily one holds to a slip, how careless one
is and how often an unknown error comes out right are drawn anew for every pupil.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from random import Random

from stavewright.marking.follow_up import most_telling
from stavewright.marking.likely_slips import NONE, OTHER, Foretold, Seen, foretell, named, weigh
from stavewright.questions.catalogue import kind as kind_of
from stavewright.questions.melodies import Melodies
from stavewright.services.set_questions import set_questions

MOST = 5
"""So many questions a pupil is asked at most."""
CLEAR = 0.97
"""So sure that nothing, or nothing known, is held: no more questions are asked."""
SHOWS = 0.2
"""A slip that changes fewer of a kind's questions than this share is not given to an imagined pupil."""


@dataclass(frozen=True, slots=True)
class Bank:
    """Questions of one kind and grade, by what the slips foretell of them: those of one edition, and those of all.

    A pupil goes wrong in a question of the edition, and is then asked in whatever form tells most.
    """

    kind: str
    questions: tuple[Foretold, ...]
    follow_ups: tuple[Foretold, ...]

    def names(self) -> tuple[str, ...]:
        """Every slip that any of its questions knows."""
        found = dict.fromkeys(name for one in self.questions for name in (*one.answers, *one.barred))
        return tuple(found)

    def holdable(self) -> tuple[str, ...]:
        """The slips that give a wrong answer of their own often enough to be held by an imagined pupil."""
        least = SHOWS * len(self.questions)
        shown = {name: sum(one.answers.get(name, 0) > 0 for one in self.questions) for name in self.names()}
        return tuple(name for name, times in shown.items() if times >= least)

    def alike(self) -> tuple[tuple[str, str], ...]:
        """Pairs of slips that give the same answer to every question: no answer could ever tell them apart."""
        rows = {name: tuple(one.answers.get(name, 0) for one in self.questions) for name in self.holdable()}
        names = list(rows)
        return tuple((a, b) for at, a in enumerate(names) for b in names[at + 1 :] if rows[a] == rows[b])


def bank(kind: str, grade: int, edition: str, *, count: int, seed: int, melodies: Melodies) -> Bank:
    """Set `count` questions and work out what every slip foretells of them.

    Raises:
        CannotSet: the grade or edition does not ask that kind.
    """
    made = {
        one: tuple(
            foretell(question)[0]
            for question in set_questions(
                kind=kind, grade=grade, edition=one, count=count, seed=seed, melodies=melodies
            )
        )
        for one in dict.fromkeys((edition, *kind_of(kind).forms))
    }
    return Bank(kind, made[edition], tuple(one for those in made.values() for one in those))


@dataclass(frozen=True, slots=True)
class Found:
    """One imagined pupil: what was held, what was named (None: nothing), after how many questions."""

    held: str
    named: str | None
    asked: int


@dataclass(frozen=True, slots=True)
class Pupil:
    """Somebody who holds a slip (or NONE, or OTHER): how steadily, how carelessly, how often right all the same."""

    held: str
    steady: float
    careless: float
    lucky: float

    def answer(self, question: Foretold, rng: Random) -> int:
        """The answer given to a question, as an outcome."""
        wrong = [outcome for outcome in question.outcomes if outcome]
        if self.held == OTHER:
            if rng.random() < self.lucky or not wrong:
                return 0
            return -1 if question.unlisted and rng.random() < 0.7 else rng.choice(wrong)
        if self.held in question.barred:
            return rng.choice(question.outcomes)
        by_slip = question.answers.get(self.held, 0) if self.held != NONE else 0
        if by_slip and rng.random() < self.steady:
            return by_slip
        return rng.choice(wrong) if wrong and rng.random() < self.careless else 0


def imagine(held: str, rng: Random) -> Pupil:
    """Draw a pupil who holds a slip: steadiness about .85, carelessness about .08, luck about .3."""
    return Pupil(held, rng.betavariate(8.5, 1.5), rng.betavariate(4, 46), rng.betavariate(3, 7))


def examine(pupil: Pupil, questions: Bank, rng: Random) -> Found:
    """Ask at most MOST questions until a slip is named or plainly none is held.

    The first is one that the pupil got wrong, as in a marked paper; each further one is the one that says most.
    """
    names = questions.names()
    first = list(questions.questions)
    rng.shuffle(first)
    evidence: list[Seen] = []
    for question in first:
        outcome = pupil.answer(question, rng)
        if outcome:
            evidence.append(Seen(question, outcome))
            break
    left = [one for one in questions.follow_ups if not any(one is before.foretold for before in evidence)]
    rng.shuffle(left)
    while True:
        likely = weigh(evidence, names)
        found = named(likely)
        if found is not None or len(evidence) == MOST or (evidence and likely[NONE] + likely[OTHER] >= CLEAR):
            return Found(pupil.held, found, len(evidence))
        best = most_telling(likely, left)
        if best is None:
            return Found(pupil.held, None, len(evidence))
        question = left.pop(best)
        evidence.append(Seen(question, pupil.answer(question, rng)))


@dataclass(frozen=True, slots=True)
class Rates:
    """How good the naming is: shares from 0 to 1, and questions asked on average."""

    pupils: int
    precision: float
    recall: float
    false_none: float
    false_other: float
    asked: float


def rates(found: Sequence[Found]) -> Rates:
    """Sum imagined pupils up.

    Precision: of the names given, how many are right. Recall: of the pupils who hold a slip, how many are named
    rightly. The false shares: of pupils who hold none, or an unknown error, how many are given a name.
    """
    given = [one for one in found if one.named is not None]
    holders = [one for one in found if one.held not in (NONE, OTHER)]
    right = sum(one.named == one.held for one in holders)

    def wrongly(held: str) -> float:
        those = [one for one in found if one.held == held]
        return sum(one.named is not None for one in those) / len(those) if those else 0.0

    return Rates(
        pupils=len(found),
        precision=right / len(given) if given else 1.0,
        recall=right / len(holders) if holders else 1.0,
        false_none=wrongly(NONE),
        false_other=wrongly(OTHER),
        asked=sum(one.asked for one in found) / len(found) if found else 0.0,
    )
