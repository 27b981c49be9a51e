"""Marking: answers a second on one core, over the scripts of a class and in batches of one question."""

from __future__ import annotations

from statistics import median
from time import process_time
from typing import NamedTuple

from benchmarks.timing import best_cpu
from stavewright.marking.one_question import mark_question, scheme_of
from stavewright.marking.plausible import fill
from stavewright.marking.whole_script import mark_scripts
from stavewright.questions.catalogue import kinds
from stavewright.questions.documents import Question
from stavewright.services.set_paper import set_paper
from stavewright.services.set_questions import set_questions
from stavewright.wiring import composed_melodies, music_writer

CLASS = 30
BATCH = 200


class ClassRate(NamedTuple):
    """A class of thirty on one paper: answers marked a second, working the questions out included."""

    grade: int
    edition: str
    rate: float


class BatchRate(NamedTuple):
    """Batches of two hundred answers to one question: the median kind, and the slowest one."""

    edition: str
    median: float
    slowest: float
    kind: str


def class_rate(grade: int, edition: str) -> ClassRate:
    """Mark the scripts of thirty invented pupils of many abilities."""
    paper = set_paper(grade=grade, edition=edition, seed=1, melodies=composed_melodies(), write_music=music_writer())
    scripts = [fill(paper, ability=-1 + seed / 10, seed=seed) for seed in range(CLASS)]
    answers = sum(len(script.answers) for script in scripts)
    start = process_time()
    for _ in mark_scripts(paper, scripts):
        pass
    return ClassRate(grade, edition, answers / (process_time() - start))


def _mark_batch(question: Question) -> None:
    scheme = scheme_of(question)
    given = [one.value for one in (*scheme.answers, *scheme.slips)]
    for index in range(BATCH):
        mark_question(question, given[index % len(given)], None, scheme)


def batch_rate(edition: str) -> BatchRate:
    """Mark two hundred answers, right ones and slips by turns, to a grade 5 question of each kind; best of three."""
    rates: dict[str, float] = {}
    for kind in kinds().values():
        if edition not in kind.forms:
            continue
        question = next(
            set_questions(kind=kind.id, grade=5, edition=edition, count=1, seed=1, melodies=composed_melodies())
        )
        rates[kind.id] = BATCH / best_cpu(lambda question=question: _mark_batch(question))
    slowest = min(rates, key=lambda name: rates[name])
    return BatchRate(edition, median(rates.values()), rates[slowest], slowest)
