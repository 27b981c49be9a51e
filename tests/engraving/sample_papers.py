"""Papers with every kind of question there is, for printing."""

from __future__ import annotations

from functools import lru_cache
from random import Random
from string import ascii_lowercase

from stavewright.papers.documents import Paper, Section
from stavewright.questions.asking import ask, full
from stavewright.questions.catalogue import kind as kind_of
from stavewright.questions.catalogue import kinds
from stavewright.questions.documents import FullQuestion, Group
from stavewright.questions.kind import Draft, Kind
from stavewright.questions.melodies import Stimulus
from stavewright.questions.score_mirror import document_of
from stavewright.syllabus.scope import scope_for
from stavewright.tunes.composed import ComposedMelodies

MELODIES = ComposedMelodies()


def _draft(kind: Kind, grade: int, salt: str, stimulus: Stimulus | None) -> Draft | None:
    for attempt in range(30):
        rng = Random(f"{salt}/{kind.id}/{attempt}")
        draft = kind.set(scope_for(grade), rng, stimulus, MELODIES)
        if draft is not None:
            return draft
    return None


def _full(kind: Kind, draft: Draft, id: str, grade: int, edition: str, words: str, group: Group) -> FullQuestion | None:
    question = ask(kind, draft, id=id, grade=grade, edition=edition, seed=1, words=words, group=group)
    return None if question is None else full(question)


@lru_cache(maxsize=8)
def every_kind(grade: int, edition: str = "written", words: str = "uk", parts: int = 3) -> Paper:
    """A paper with a few parts of every kind that the grade may ask, and one extract with all reading parts."""
    sections: list[Section] = []
    extract = MELODIES.melody(scope_for(grade), Random("extract"), bars=8)
    assert extract is not None
    stimulus = Stimulus(extract, document_of(extract.score), key_part="a")
    reading: list[FullQuestion] = []
    number = 0
    for name in kinds():
        kind = kind_of(name)
        if kind.since > grade or edition not in kind.forms:
            continue
        if kind.extract:
            letter = ascii_lowercase[len(reading)]
            draft = _draft(kind, grade, "x", stimulus)
            made = draft and _full(kind, draft, f"x{letter}", grade, edition, words, Group("x", letter))
            reading += [made] if made else []
            continue
        number += 1
        found: list[FullQuestion] = []
        for letter in ascii_lowercase[:parts]:
            draft = _draft(kind, grade, letter, None)
            made = draft and _full(
                kind, draft, f"q{number}{letter}", grade, edition, words, Group(f"q{number}", letter)
            )
            found += [made] if made else []
        if found:
            sections.append(Section(kind.topic, kind.title, tuple(found)))
    if reading:
        sections.append(Section(None, "Reading music", tuple(reading)))
    total = sum(question.marks for section in sections for question in section.questions)
    return Paper(
        id=f"all-{grade}-{edition}",
        grade=grade,
        edition=edition,
        seed=1,
        words=words,
        total=total,
        time_minutes=90,
        sections=tuple(sections),
        credits=(extract.credit or "Composed by rule.",),
    )
