"""The mark a paper predicts: what pupils of three abilities would be expected to get."""

from __future__ import annotations

import json
from collections.abc import Iterable
from functools import lru_cache
from importlib.resources import files
from math import exp

from stavewright.questions.asking import facts_of
from stavewright.questions.catalogue import kind as kind_of
from stavewright.questions.documents import ChoiceForm, Question
from stavewright.questions.kind import Kind

THETAS = (-0.5, 0.5, 1.5)
"""Abilities in logits: a pupil not ready yet, one nearly ready, one ready with room to spare."""
Chances = tuple[float, float, float]
"""Something at each of THETAS: chances of full marks, or marks."""


def chance(difficulty: float, guess: float = 0.0) -> Chances:
    """The chance of full marks at each of THETAS: logistic in ability minus difficulty, floored by guessing.

    Source: the Rasch model; with a guessing floor as in the three-parameter logistic model (from memory).

    >>> [round(p, 2) for p in chance(0.5)]
    [0.27, 0.5, 0.73]
    """
    low, middle, high = (guess + (1 - guess) / (1 + exp(difficulty - theta)) for theta in THETAS)
    return low, middle, high


def guess_of(question: Question) -> float:
    """The chance of a blind guess being right."""
    form = question.response[0]
    return 1 / len(form.options) if isinstance(form, ChoiceForm) and form.options else 0.0


def expected_marks(questions: Iterable[Question]) -> Chances:
    """The mark that all these questions together predict at each of THETAS.

    Full marks or none is what is predicted of each question: part marks are not.
    """
    low = middle = high = 0.0
    for question in questions:
        one = chance(kind_of(question.kind).difficulty(facts_of(question)), guess_of(question))
        low, middle, high = (
            now + question.marks * more for now, more in zip((low, middle, high), one, strict=True)
        )
    return low, middle, high


@lru_cache(maxsize=1)
def _targets() -> dict[str, Chances]:
    return {
        name: (row[0], row[1], row[2])
        for name, row in json.loads(files("stavewright.papers").joinpath("targets.json").read_text("utf-8")).items()
    }


def target(kind: Kind, grade: int, edition: str) -> Chances:
    """What a question of that family is aimed at: its mean chance over many drafts (measured, kept as data).

    A family that is not in the data yet (a new kind) is aimed at difficulty 0.
    """
    return _targets().get(f"{kind.id}/{grade}/{edition}", chance(0.0))
