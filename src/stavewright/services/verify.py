"""Hold every question to the same promises: setter and solver agree, the marker is fair, the sheet keeps the secret."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import msgspec

from stavewright.marking.one_question import mark_question
from stavewright.papers.errors import CannotSet
from stavewright.questions.asking import answers_of, built_choice, facts_of, slips_of
from stavewright.questions.catalogue import kind as kind_of
from stavewright.questions.catalogue import kinds
from stavewright.questions.choosing import is_right
from stavewright.questions.documents import ChoiceForm, NotesForm, Question, RhythmForm, StaveBlock, TextBlock
from stavewright.questions.errors import BadAnswer, BadDocument, Disagreement
from stavewright.questions.melodies import Melodies
from stavewright.questions.reading import read_words
from stavewright.questions.score_document import score_of
from stavewright.questions.sheet import sheet
from stavewright.questions.values import Value
from stavewright.score.check import faults
from stavewright.services.scope_check import outside
from stavewright.services.set_questions import set_questions
from stavewright.syllabus.edition import EDITIONS
from stavewright.syllabus.scope import GRADES
from stavewright.theory.errors import StavewrightError

SECRET_FIELDS = frozenset({"facts", "score", "musicxml", "value", "alter", "answers", "slips", "working", "seed"})


@dataclass(frozen=True, slots=True)
class Verified:
    """What was checked for one kind at one grade in one edition."""

    kind: str
    grade: int
    edition: str
    questions: int
    problems: tuple[str, ...]


def cases() -> tuple[tuple[str, int, str], ...]:
    """Every kind, grade and edition that can be asked."""
    return tuple(
        (kind.id, grade, edition)
        for kind in kinds().values()
        for grade in GRADES
        if grade >= kind.since
        for edition in EDITIONS
        if edition in kind.forms
    )


def verify_case(
    kind: str, grade: int, edition: str, *, seed: int, count: int, melodies: Melodies, words: str = "uk"
) -> Verified:
    """Check `count` questions of one kind; a seed that cannot be set at all is a problem too."""
    problems: list[str] = []
    asked: list[Question] = []
    for number in range(seed, seed + count):
        try:
            (question,) = set_questions(
                kind=kind, grade=grade, edition=edition, count=1, seed=number, melodies=melodies, words=words
            )
        except (CannotSet, Disagreement) as fault:
            problems.append(f"seed {number}: {fault}")
            continue
        except StavewrightError as fault:
            problems.append(f"seed {number}: {type(fault).__name__}: {fault}")
            continue
        asked.append(question)
    constant = _constant_texts(asked)
    for question in asked:
        problems += [f"seed {question.seed}: {problem}" for problem in problems_of(question, constant)]
    return Verified(kind, grade, edition, count, tuple(problems))


def _constant_texts(questions: Sequence[Question]) -> frozenset[str]:
    """Sentences that stand word for word over different answers: they can give none of them away."""
    over: dict[str, set[str]] = {}
    for question in questions:
        model = answers_of(question)[0].text
        for text in _told(question):
            over.setdefault(text, set()).add(model)
    return frozenset(text for text, models in over.items() if len(models) > 1)


def problems_of(question: Question, constant: frozenset[str] = frozenset()) -> list[str]:
    """Every broken promise of one question, in words; none for a good one.

    `constant` sentences are known to say nothing about the answer.
    """
    try:
        return [
            *_marking(question),
            *_options(question),
            *_music(question),
            *_leaks(question, constant),
            *_document(question),
            *outside(question),
        ]
    except (BadAnswer, BadDocument) as fault:
        return [f"{type(fault).__name__}: {fault}"]


def _marking(question: Question) -> Iterator[str]:
    answers = answers_of(question)
    for one in answers:
        got = mark_question(question, one.value)
        if got.marks != question.marks:
            yield f"accepted answer {one.text!r} earns {got.marks} of {question.marks}"
    for slip in slips_of(question):
        got = mark_question(question, slip.value)
        if got.marks >= question.marks:
            yield f"slip {slip.name!r} ({slip.text!r}) earns full marks"
        elif got.slip is None:
            yield f"slip {slip.name!r} ({slip.text!r}) is not recognised"
    if mark_question(question, ()).marks:
        yield "a blank answer earns marks"
    kind = kind_of(question.kind)
    if not kind.work(facts_of(question), "usual"):
        yield "there is no worked answer"
    known = _event_ids(question)
    for method in kind.methods:
        for step in kind.work(facts_of(question), method):
            lost = [id_ for id_ in step.points_at if id_ not in known]
            if lost:
                yield f"a step ({method}) points at {', '.join(lost)}, which no stave of the question has"


def _event_ids(question: Question) -> set[str]:
    """The ids a step may point at: in the prompt, on the stave to write on, and in the model answer as drawn."""
    scores = [block.score for block in question.prompt if isinstance(block, StaveBlock)]
    form = question.response[0]
    if isinstance(form, NotesForm | RhythmForm) and form.given is not None:
        scores.append(form.given)
    found = {event.id for document in scores for event in score_of(document).events()}
    kind = kind_of(question.kind)
    facts = facts_of(question)
    if kind.draw is not None:
        found |= {event.id for event in kind.draw(facts, kind.solve(facts)[0].value[0]).events()}
    return found


def _options(question: Question) -> Iterator[str]:
    form = built_choice(question)
    if form is None:
        return
    kind = kind_of(question.kind)
    answers = kind.solve(facts_of(question))
    right = [one.id for one in form.options if one.value is not None and is_right(one.value, answers, kind)]
    if len(right) != 1:
        yield f"{len(right)} options are right: {', '.join(right) or 'none'}"
    looks = [(read_words(one.text), msgspec.json.encode(one.score) if one.score else b"") for one in form.options]
    if len(set(looks)) != len(looks):
        yield "two options look the same"
    if question.seed % 8 == 0 and _marks_of(question, Value(choice=form.options[0].id)) > question.marks:
        yield "an option earns more than full marks"


def _marks_of(question: Question, value: Value) -> int:
    return mark_question(question, (value,)).marks


def _music(question: Question) -> Iterator[str]:
    scores = [block.score for block in question.prompt if isinstance(block, StaveBlock)]
    form = question.response[0]
    if isinstance(form, ChoiceForm):
        scores += [option.score for option in form.options if option.score is not None]
    if isinstance(form, NotesForm | RhythmForm) and form.given is not None:
        scores.append(form.given)
    for document in scores:
        yield from faults(score_of(document))
    kind = kind_of(question.kind)
    if kind.draw is not None:
        for one in kind.solve(facts_of(question)):
            yield from (
                f"answer {one.text!r}: {fault}" for fault in faults(kind.draw(facts_of(question), one.value[0]))
            )


def _told(question: Question) -> list[str]:
    """Every sentence a pupil's sheet holds, options apart."""
    form = question.response[0]
    told = [block.text if isinstance(block, TextBlock) else block.alt for block in question.prompt]
    told.append(getattr(form, "alt", ""))
    if isinstance(form, ChoiceForm):
        told += [option.alt for option in form.options]
    return [text for text in told if text]


def _leaks(question: Question, constant: frozenset[str]) -> Iterator[str]:
    view = json.loads(msgspec.json.encode(sheet(question)))
    secret = SECRET_FIELDS & set(_keys(view))
    if secret:
        yield f"the sheet has {', '.join(sorted(secret))}"
    told = [text for text in _told(question) if text not in constant]
    answers = kind_of(question.kind).solve(facts_of(question))
    value = answers[0].value[0]
    for one in answers if value.form in ("words", "chords") else ():
        for text in told:
            if _says(text, one.text) and not _named_set(read_words(one.text), text, question):
                yield f"the sheet says the answer ({one.text!r}): {text!r}"
    for note in value.notes or ():
        name = f"{note.step.casefold()}{note.octave}"
        if any(name in text.casefold().split() for text in told):
            yield f"a sentence of the sheet names the note {name} that is to be written"


def _says(text: str, answer: str) -> bool:
    """Whether a sentence says an answer as whole words; the article in "a sharp" is not the note A sharp."""
    said = read_words(answer)
    if len(said) < 2 or f" {said} " not in f" {read_words(text)} ":
        return False
    if answer[1:2] not in ("", " "):
        return True
    return re.search(rf"\b{re.escape(answer)}\b", text) is not None


def _named_set(said: str, text: str, question: Question) -> bool:
    """Whether the text names a whole closed set of choices (major or minor?): that gives nothing away."""
    options = kind_of(question.kind).options
    if options is None:
        return False
    values = [read_words(value.words or "") for value in options(facts_of(question))]
    folded = f" {read_words(text)} "
    return said in values and all(f" {value} " in folded for value in values)


def _keys(view: object) -> Iterator[str]:
    if isinstance(view, dict):
        for key, value in view.items():
            yield key
            yield from _keys(value)
    elif isinstance(view, Sequence) and not isinstance(view, str):
        for value in view:
            yield from _keys(value)


def _document(question: Question) -> Iterator[str]:
    stored = msgspec.json.encode(question)
    if msgspec.json.decode(stored, type=Question) != question:
        yield "the document does not survive being stored"
