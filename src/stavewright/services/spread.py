"""What only many questions of one kind show together: dead slips, favoured letters, one answer to everything."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from stavewright.questions.asking import built_choice, facts_of
from stavewright.questions.catalogue import kind as kind_of
from stavewright.questions.choosing import is_right
from stavewright.questions.documents import Answer, Question, Slip
from stavewright.questions.kind import Kind

DEAD_AFTER = 1000
"""A slip that was drawn so often and never once gave a wrong answer is no slip (some need a rare turn in a melody)."""
FEW = 20
"""From so many questions on, one and the same answer to all of them is a fault."""
FAR = 5.0
"""Standard deviations: a letter that is right so much oftener or seldomer than its share is favoured."""


@dataclass(frozen=True, slots=True)
class Known:
    """A question with what its kind knows about it, worked out once from the stored facts."""

    question: Question
    kind: Kind
    facts: Any
    answers: tuple[Answer, ...]
    slips: tuple[Slip, ...]

    @property
    def texts(self) -> set[str]:
        """The accepted answers in words."""
        return {one.text.casefold() for one in self.answers}


def known(question: Question) -> Known:
    """Work a stored question out, every slip of its kind included.

    Raises:
        UnknownKind, BadDocument: as `facts_of`.
    """
    kind = kind_of(question.kind)
    facts = facts_of(question)
    return Known(question, kind, facts, kind.solve(facts), kind.slips(facts))


def over_many(questions: Sequence[Known]) -> Iterator[str]:
    """Every fault that the questions of one case show only together, in words."""
    yield from _letters(questions)
    yield from _mistaken(questions)
    if len(questions) >= FEW and len({one.answers[0].text for one in questions}) == 1:
        yield f"all {len(questions)} questions have one answer: {questions[0].answers[0].text!r}"


def tally(questions: Sequence[Known]) -> dict[str, tuple[int, int]]:
    """For every slip by name: how often it was drawn, and how often it gave a wrong answer."""
    found: dict[str, tuple[int, int]] = {}
    for one in questions:
        for slip in one.slips:
            drawn, wrong = found.get(slip.name, (0, 0))
            found[slip.name] = drawn + 1, wrong + (not is_right(slip.value, one.answers, one.kind))
    return found


def dead_slips(tallies: Iterable[Mapping[str, tuple[int, int]]], after: int = DEAD_AFTER) -> list[str]:
    """The slips of one kind that never once gave a wrong answer, over all the tallies of its cases.

    >>> dead_slips([{"clef misread": (30, 30), "one too high": (30, 0)}], after=20)
    ["the slip 'one too high' gave a right answer all 30 times: it shows nothing"]
    """
    drawn: Counter[str] = Counter()
    wrong: Counter[str] = Counter()
    for one in tallies:
        for name, (times, missed) in one.items():
            drawn[name] += times
            wrong[name] += missed
    return [
        f"the slip {name!r} gave a right answer all {times} times: it shows nothing"
        for name, times in drawn.items()
        if times >= after and not wrong[name]
    ]


def _letters(questions: Sequence[Known]) -> Iterator[str]:
    """Where options are shuffled, every letter is right about as often as any other."""
    seen: Counter[str] = Counter()
    expected: Counter[str] = Counter()
    spread: Counter[str] = Counter()
    for one in questions:
        form = built_choice(one.question)
        if form is None or one.kind.options is not None:
            continue
        share = 1 / len(form.options)
        for option in form.options:
            seen[option.id] += option.value is not None and is_right(option.value, one.answers, one.kind)
            expected[option.id] += share  # type: ignore[assignment]
            spread[option.id] += share * (1 - share)  # type: ignore[assignment]
    for letter, mean in expected.items():
        if mean >= 5 and abs(seen[letter] - mean) > FAR * spread[letter] ** 0.5:
            yield f"option {letter!r} is right {seen[letter]} times, where {mean:.0f} would be its share"


def _mistaken(questions: Sequence[Known]) -> Iterator[str]:
    """The answer to one question is not taken for right in the next, unless it is one of its answers."""
    for one, other in pairwise(questions):
        model = other.answers[0]
        meant = one.kind.marking.meaning or any(model.value[0].content == a.value[0].content for a in one.answers)
        if meant or model.text.casefold() in one.texts or _under(one) != _under(other):
            continue
        if is_right(model.value, one.answers, one.kind):
            yield f"seed {one.question.seed}: {model.text!r} is taken for {one.answers[0].text!r}"


def _under(one: Known) -> tuple[object, ...]:
    """What written notes are read under: the same places say other notes under another clef or signature."""
    model = one.answers[0].value[0]
    return model.clef, model.signature, model.bar_lines
