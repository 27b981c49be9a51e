"""A plausible script: an invented pupil's answers, right by ability and wrong by named slips. For demos and tests."""

from __future__ import annotations

from math import exp
from random import Random

from msgspec.structs import replace

from stavewright.papers.documents import Paper, Script
from stavewright.questions.asking import answers_of, facts_of, slips_of
from stavewright.questions.catalogue import kind as kind_of
from stavewright.questions.documents import ChoiceForm, ChoicesForm, Question
from stavewright.questions.naming import shown_words
from stavewright.questions.values import Value

BLANK_SHARE = 0.08
"""How many of the questions an invented pupil cannot do are left blank (assumed)."""


def fill(paper: Paper, *, ability: float, seed: int) -> Script:
    """Fill a script for a pupil of that ability (logits: 0 nearly ready, 2 sure, -2 far off).

    Each question is answered rightly with the logistic chance of ability minus difficulty; otherwise by one of its
    slips, or left blank.
    """
    answers = {question.id: _one(question, ability, Random(f"{seed}/{question.id}")) for question in paper.questions()}
    return Script(paper.id, answers)


def _one(question: Question, ability: float, rng: Random) -> tuple[Value, ...]:
    """What the pupil writes, in the paper's own note names."""
    values = _meant(question, ability, rng)
    return tuple(
        one if one.words is None else replace(one, words=shown_words(question, one.words)) for one in values
    )


def _meant(question: Question, ability: float, rng: Random) -> tuple[Value, ...]:
    kind = kind_of(question.kind)
    chance = 1 / (1 + exp(kind.difficulty(facts_of(question)) - ability))
    right = answers_of(question)
    if rng.random() < chance:
        return rng.choice(right).value
    if rng.random() < BLANK_SHARE:
        return ()
    slips = slips_of(question)
    if slips:
        return rng.choice(slips).value
    form = question.response[0]
    if isinstance(form, ChoiceForm):
        wrong = [option.id for option in form.options if (Value(choice=option.id),) not in [a.value for a in right]]
        return (Value(choice=rng.choice(wrong)),)
    if isinstance(form, ChoicesForm) and right[0].value[0].choices:
        return (Value(choices=right[0].value[0].choices[:-1]),)
    return ()
