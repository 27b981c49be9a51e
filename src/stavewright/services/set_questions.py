"""Set single questions of one kind: one drafted question a seed."""

from __future__ import annotations

from collections.abc import Iterator
from random import Random

from stavewright.papers.credit import credited
from stavewright.papers.errors import CannotSet
from stavewright.questions.asking import ask
from stavewright.questions.catalogue import kind as kind_of
from stavewright.questions.documents import Question
from stavewright.questions.kind import Kind
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_mirror import document_of
from stavewright.syllabus.edition import edition as edition_of
from stavewright.syllabus.scope import scope_for

TRIES = 200


def set_questions(
    *, kind: str, grade: int, edition: str, count: int, seed: int, melodies: Melodies, words: str = "uk"
) -> Iterator[Question]:
    """`count` questions of one kind, from seeds seed, seed + 1, ...

    Raises:
        UnknownKind, UnknownGrade, UnknownEdition: no such thing.
        CannotSet: the grade or the edition does not ask that kind.
    """
    chosen = kind_of(kind)
    scope_for(grade)
    edition_of(edition, grade)
    if grade < chosen.since:
        raise CannotSet(f"{kind} is asked from grade {chosen.since}, not at grade {grade}")
    if edition not in chosen.forms:
        raise CannotSet(f"{kind} has no {edition} form; it has {', '.join(chosen.forms)}")
    return (_one(chosen, grade, edition, number, melodies, words) for number in range(seed, seed + count))


def _one(kind: Kind, grade: int, edition: str, seed: int, melodies: Melodies, words: str) -> Question:
    scope = scope_for(grade)
    for attempt in range(TRIES):
        rng = Random(f"{seed}/{kind.id}/{grade}/{attempt}")
        stimulus = None
        if kind.extract:
            extract = melodies.melody(scope, rng, bars=8)
            if extract is None:
                continue
            stimulus = Stimulus(extract, document_of(extract.score))
        draft = kind.set(scope, rng, stimulus, melodies)
        if draft is None:
            continue
        question = ask(kind, draft, id=f"{kind.id}-{seed}", grade=grade, edition=edition, seed=seed, words=words)
        if question is not None:
            return question if stimulus is None else credited(question, stimulus)
    raise CannotSet(f"{kind.id}, grade {grade}, {edition}: nothing fair to ask in {TRIES} tries from seed {seed}")
