"""Which slip a pupil really holds, weighed over several answers: Bayes over named slips, none, and some other error.

An error class that is none of the named slips keeps a pupil with an error of their own from being given a name that
fits by chance. The shares below are common practice, chosen before the simulated pupils of `services.imagined_pupils`
were drawn, and those pupils follow other figures.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import exp, log
from typing import Any

from stavewright.questions.asking import built_choice, facts_of, native
from stavewright.questions.catalogue import kind as kind_of
from stavewright.questions.choosing import is_right
from stavewright.questions.comparing import compare_all
from stavewright.questions.documents import Answer, Question
from stavewright.questions.kind import Kind
from stavewright.questions.values import Value

NONE, OTHER = "", "*"
"""The two hypotheses that are no named slip: nothing wrong, and some other error."""
SURE = 0.9
"""A slip is named only when it is so likely."""
HALF_LIFE_DAYS = 21.0
"""An answer so old counts half: slips come and go (VanLehn 1982 retested and found many unstable; from memory)."""
_PRIOR = {NONE: 0.5, OTHER: 0.12}
_LEAST = 0.05
_FOLLOWS = 0.75
"""How often a pupil who holds a slip answers by it."""
_UNLISTED_SHARE = 0.5


@dataclass(frozen=True, slots=True)
class Foretold:
    """What every named slip foretells of one question. Answers are numbered: 0 right, 1 to `wrong` what slips give.

    A slip that gives the right answer here foretells 0; one whose answer is not among the options is in `barred`.
    `unlisted` says whether an answer that no slip gives is possible at all.
    """

    answers: Mapping[str, int]
    wrong: int
    barred: frozenset[str] = frozenset()
    unlisted: bool = True

    @property
    def outcomes(self) -> tuple[int, ...]:
        """Every answer that may come; -1 is one that no slip gives."""
        return (*range(self.wrong + 1), *((-1,) if self.unlisted else ()))

    def chance(self, outcome: int, held: str) -> float:
        """How likely an answer is from a pupil who holds a slip, none, or some other error."""
        if held == NONE or (self.answers.get(held, 0) == 0 and held not in self.barred and held != OTHER):
            return 0.92 if outcome == 0 else 0.08 * self._share(outcome)
        if held == OTHER:
            return 0.4 if outcome == 0 else 0.6 * self._share(outcome)
        if held in self.barred:
            return 0.3 if outcome == 0 else 0.7 * self._share(outcome)
        if outcome == self.answers[held]:
            return _FOLLOWS + 0.1 * self._share(outcome)
        return 0.15 if outcome == 0 else 0.1 * self._share(outcome)

    def _share(self, outcome: int) -> float:
        """The share of one wrong answer among wrong answers given for no known reason."""
        if not self.wrong:
            return 1.0
        listed = 1 - _UNLISTED_SHARE if self.unlisted else 1.0
        return _UNLISTED_SHARE if outcome == -1 else listed / self.wrong


def foretell(question: Question) -> tuple[Foretold, list[tuple[Value, ...]]]:
    """What the slips of its kind foretell of a question, and the wrong answers in the order they are numbered.

    Raises:
        UnknownKind, BadDocument: as `facts_of`.
    """
    kind = kind_of(question.kind)
    facts = facts_of(question)
    return _foretold(question, kind, facts, kind.solve(facts))


def _foretold(
    question: Question, kind: Kind, facts: Any, right: Sequence[Answer]
) -> tuple[Foretold, list[tuple[Value, ...]]]:
    form = built_choice(question)
    offered = None if form is None else [option.value for option in form.options if option.value is not None]
    answers: dict[str, int] = {}
    barred: set[str] = set()
    wrong: list[tuple[Value, ...]] = []
    for slip in kind.slips(facts):
        if slip.name in answers or slip.name in barred:
            continue
        if is_right(slip.value, right, kind):
            answers[slip.name] = 0
            continue
        if offered is not None and not any(compare_all((one,), slip.value, kind.marking).same for one in offered):
            barred.add(slip.name)
            continue
        for number, known in enumerate(wrong, 1):
            if compare_all(slip.value, known, kind.marking).same:
                answers[slip.name] = number
                break
        else:
            wrong.append(slip.value)
            answers[slip.name] = len(wrong)
    unlisted = offered is None or len(offered) > len(wrong) + 1
    return Foretold(answers, len(wrong), frozenset(barred), unlisted), wrong


@dataclass(frozen=True, slots=True)
class Seen:
    """One answer seen: what was foretold, which answer came, and how many days ago."""

    foretold: Foretold
    outcome: int
    days_ago: float = 0.0


def seen(question: Question, given: Sequence[Value], days_ago: float = 0.0) -> Seen | None:
    """An answer as evidence; None for a blank, which says nothing of slips.

    Raises:
        BadAnswer: a picked letter that is not among the options.
    """
    if not given:
        return None
    kind = kind_of(question.kind)
    said = tuple(native(question, value) for value in given)
    facts = facts_of(question)
    right = kind.solve(facts)
    foretold, wrong = _foretold(question, kind, facts, right)
    if is_right(said, right, kind) or (kind.faults is not None and kind.faults(facts, said[0]) == 0):
        return Seen(foretold, 0, days_ago)
    for number, known in enumerate(wrong, 1):
        if compare_all(said, known, kind.marking).same:
            return Seen(foretold, number, days_ago)
    return Seen(foretold, -1, days_ago) if foretold.unlisted else None


def weigh(evidence: Iterable[Seen], names: Iterable[str] = ()) -> dict[str, float]:
    """How likely each slip is that one kind's answers could show, beside NONE and OTHER; the shares add up to 1.

    `names` are slips to weigh although no answer has had to do with them yet. An older answer counts less.

    >>> one = Foretold({"counts the gap": 1, "counts semitones": 2}, 2)
    >>> found = weigh([Seen(one, 1), Seen(one, 1), Seen(one, 1)])
    >>> max(found, key=found.__getitem__), found["counts the gap"] > SURE
    ('counts the gap', True)
    """
    all_seen = list(evidence)
    foretold = [name for one in all_seen for name in (*one.foretold.answers, *one.foretold.barred)]
    slips = list(dict.fromkeys([*names, *foretold]))
    share = max(_LEAST, (1 - sum(_PRIOR.values())) / max(len(slips), 1))
    logs = {held: log(_PRIOR.get(held, share)) for held in (NONE, OTHER, *slips)}
    for one in all_seen:
        weight = 0.5 ** (one.days_ago / HALF_LIFE_DAYS)
        for held in logs:
            logs[held] += weight * log(one.foretold.chance(one.outcome, held))
    top = max(logs.values())
    parts = {held: exp(value - top) for held, value in logs.items()}
    whole = sum(parts.values())
    return {held: part / whole for held, part in parts.items()}


def named(likely: Mapping[str, float]) -> str | None:
    """The slip that may be named to the teacher: only one that is at least SURE.

    >>> named({"": 0.2, "*": 0.1, "counts the gap": 0.7}) is None
    True
    """
    best = max((held for held in likely if held not in (NONE, OTHER)), key=likely.__getitem__, default=None)
    return best if best is not None and likely[best] >= SURE else None
