"""Hold every question to the same promises: setter and solver agree, the marker is fair, the sheet keeps the secret."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

import msgspec
from msgspec.structs import replace

from stavewright.marking.one_question import Scheme, form_of, mark_question, scheme_of
from stavewright.papers.errors import CannotSet
from stavewright.questions.asking import built_choice, facts_of
from stavewright.questions.catalogue import kinds
from stavewright.questions.choosing import is_right
from stavewright.questions.documents import NotesForm, Option, Question, RhythmForm, ScoreForm, StaveBlock
from stavewright.questions.errors import BadAnswer, BadDocument, Disagreement
from stavewright.questions.melodies import Melodies
from stavewright.questions.reading import read_words
from stavewright.questions.score_mirror import score_of
from stavewright.questions.values import Value
from stavewright.score.check import faults
from stavewright.services.leaks import leaks, things_shown, told
from stavewright.services.scope_check import outside, score_outside
from stavewright.services.set_questions import set_questions
from stavewright.services.spread import Known, known, over_many, tally
from stavewright.syllabus.edition import EDITIONS
from stavewright.syllabus.scope import GRADES
from stavewright.theory.errors import StavewrightError

_UNREADABLE = re.compile(r"\bNone\b|\w+\(\w*=|[{}]|  |flat-flat|double-sharp")
"""Traces of the program in a sentence meant for a person."""
_UK_ONLY = re.compile(r"\b(semibreve|minim|crotchet|(demi|semi)*quaver|semitone|stave|bar)s?\b(?! line)", re.IGNORECASE)
_LISTS = ("notes", "rhythm", "places", "choices", "order", "chords")


@dataclass(frozen=True, slots=True)
class Verified:
    """What was checked for one kind at one grade in one edition; `slips` as `spread.tally` counts them."""

    kind: str
    grade: int
    edition: str
    questions: int
    problems: tuple[str, ...]
    slips: Mapping[str, tuple[int, int]] = field(default_factory=dict)


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
    kind: str, grade: int, edition: str, *, seed: int, count: int, melodies: Melodies, words: str | None = None
) -> Verified:
    """Check `count` questions of one kind; a seed that cannot be set at all is a problem too.

    Without `words`, every fourth question is put in US words.
    """
    problems: list[str] = []
    asked: list[Known] = []
    for number in range(seed, seed + count):
        said = words or ("us" if number % 4 == 3 else "uk")
        try:
            (question,) = set_questions(
                kind=kind, grade=grade, edition=edition, count=1, seed=number, melodies=melodies, words=said
            )
            asked.append(known(question))
        except (CannotSet, Disagreement) as fault:
            problems.append(f"seed {number}: {fault}")
        except StavewrightError as fault:
            problems.append(f"seed {number}: {type(fault).__name__}: {fault}")
    constant = _constant_texts(asked)
    for one in asked:
        problems += [f"seed {one.question.seed}: {problem}" for problem in _problems(one, constant)]
    problems += over_many(asked)
    return Verified(kind, grade, edition, count, tuple(problems), tally(asked))


def problems_of(question: Question, constant: frozenset[str] = frozenset()) -> list[str]:
    """Every broken promise of one question, in words; none for a good one.

    `constant` sentences are known to say nothing about the answer.
    """
    try:
        return _problems(known(question), constant)
    except StavewrightError as fault:
        return [f"{type(fault).__name__}: {fault}"]


def _constant_texts(questions: Sequence[Known]) -> frozenset[str]:
    """Sentences that stand word for word over different answers: they can give none of them away."""
    over: dict[str, set[str]] = {}
    for one in questions:
        for text in told(one.question):
            over.setdefault(text, set()).add(one.answers[0].text)
    return frozenset(text for text, models in over.items() if len(models) > 1)


def _problems(one: Known, constant: frozenset[str]) -> list[str]:
    found: list[str] = []
    marked: list[Iterator[str]] = []
    try:
        scheme = scheme_of(one.question)
        marked = [_marking(one, scheme), _slips(one, scheme), _follow_through(one), _picks(one, scheme)]
    except (BadAnswer, BadDocument) as fault:
        found.append(f"{type(fault).__name__}: {fault}")
    for part in (
        *marked,
        _working(one),
        _options(one),
        _music(one),
        _sentences(one),
        leaks(one.question, one.facts, one.answers, constant),
        _document(one.question),
        outside(one.question),
    ):
        try:
            found += part
        except (BadAnswer, BadDocument) as fault:
            found.append(f"{type(fault).__name__}: {fault}")
    return found


def _marking(one: Known, scheme: Scheme) -> Iterator[str]:
    question = one.question
    for answer in scheme.answers:
        got = mark_question(question, answer.value, scheme=scheme)
        if got.marks != question.marks:
            yield f"accepted answer {answer.text!r} earns {got.marks} of {question.marks}"
        for value in _spoilt(answer.value[0]):
            got = mark_question(question, (value, *answer.value[1:]), scheme=scheme)
            if not 0 <= got.marks < question.marks:
                yield f"an answer with an item missing or too many earns {got.marks} of {question.marks}"
    if one.kind.report is not None:
        most = sum(line.of for line in one.kind.report(one.facts, one.answers[0].value[0]))
        if most != one.kind.marks:
            yield f"the criteria add up to {most} marks, the kind has {one.kind.marks}"
    if mark_question(question, (), scheme=scheme).marks:
        yield "a blank answer earns marks"
    wanted = form_of(question) if built_choice(question) is None else None
    for answer in one.answers:
        if wanted is not None and answer.value[0].form != wanted:
            yield f"the answer {answer.text!r} is {answer.value[0].form}, where {wanted} is asked for"


def _spoilt(value: Value) -> Iterator[Value]:
    """The same answer with its last item (of a score, the last bar) left out, and with it given twice over."""
    if value.score is not None and len(value.score.staves[0].bars) > 1:
        staves = tuple(replace(stave, bars=stave.bars[:-1]) for stave in value.score.staves)
        yield replace(value, score=replace(value.score, staves=staves))
    if value.form in _LISTS and value.content and len(value.content) > 1:
        yield replace(value, **{value.form: value.content[:-1]})
        if value.form in ("notes", "rhythm", "chords"):
            yield replace(value, **{value.form: (*value.content, value.content[-1])})


def _slips(one: Known, scheme: Scheme) -> Iterator[str]:
    question = one.question
    for slip in scheme.slips:
        got = mark_question(question, slip.value, scheme=scheme)
        if got.marks >= question.marks:
            yield f"slip {slip.name!r} ({slip.text!r}) earns full marks"
        elif got.slip is None:
            yield f"slip {slip.name!r} ({slip.text!r}) is not recognised"
    for slip in one.slips:
        if not slip.remedy.strip():
            yield f"slip {slip.name!r} says nothing to the pupil"
        if one.kind.marking.meaning:
            continue
        if is_right(slip.value, one.answers, one.kind) and slip.text.casefold() not in one.texts:
            yield f"slip {slip.name!r} ({slip.text!r}) is taken for one of {', '.join(sorted(one.texts))}"


def _follow_through(one: Known) -> Iterator[str]:
    """From an earlier answer of the pupil's own, the answer that is right from there earns full marks."""
    if one.kind.given is None or built_choice(one.question) is not None:
        return
    if one.kind.given(one.facts, Value(words="a zebra")) != one.facts:
        yield "an earlier answer that says nothing changes the facts"
    for earlier in (Value(words="E flat major"), Value(words="F sharp minor")):
        answer = one.kind.solve(one.kind.given(one.facts, earlier))[0]
        got = mark_question(one.question, answer.value, earlier)
        if got.marks != one.question.marks:
            yield f"from the earlier answer {earlier.words}, {answer.text!r} earns {got.marks} of {one.question.marks}"


def _working(one: Known) -> Iterator[str]:
    known_ids = _event_ids(one)
    for method in one.kind.methods:
        steps = one.kind.work(one.facts, method)
        if not steps:
            yield f"there is no worked answer ({method})"
        for step in steps:
            lost = [id_ for id_ in step.points_at if id_ not in known_ids]
            if lost:
                yield f"a step ({method}) points at {', '.join(lost)}, which no stave of the question has"


def _event_ids(one: Known) -> set[str]:
    """The ids a step may point at: in the prompt, on the stave to write on, and in the model answer as drawn."""
    scores = [block.score for block in one.question.prompt if isinstance(block, StaveBlock)]
    form = one.question.response[0]
    if isinstance(form, NotesForm | RhythmForm | ScoreForm) and form.given is not None:
        scores.append(form.given)
    found = {event.id for document in scores for event in score_of(document).events()}
    if one.kind.draw is not None:
        found |= {event.id for event in one.kind.draw(one.facts, one.answers[0].value[0]).events()}
    return found - {""}


def _options(one: Known) -> Iterator[str]:
    form = built_choice(one.question)
    if form is None:
        return
    right = {
        option.id
        for option in form.options
        if option.value is not None and is_right(option.value, one.answers, one.kind)
    }
    if len(right) != 1:
        yield f"{len(right)} options are right: {', '.join(sorted(right)) or 'none'}"
    looks = [_shown(option) for option in form.options]
    if len(set(looks)) != len(looks):
        yield "two options look the same"


def _picks(one: Known, scheme: Scheme) -> Iterator[str]:
    """Picking the right option earns full marks, picking any other does not."""
    form = built_choice(one.question)
    for option in form.options if form is not None else ():
        marks = mark_question(one.question, (Value(choice=option.id),), scheme=scheme).marks
        right = option.value is not None and is_right(option.value, one.answers, one.kind)
        if not 0 <= marks <= one.question.marks or (marks == one.question.marks) != right:
            yield f"option {option.id!r} earns {marks} of {one.question.marks}"


def _shown(option: Option) -> tuple[str, bytes]:
    score = msgspec.json.encode(option.score) if option.score else b""
    return read_words(option.text), re.sub(rb'"id":"[^"]*",?', b"", score)


def _music(one: Known) -> Iterator[str]:
    scores = [block.score for block in one.question.prompt if isinstance(block, StaveBlock)]
    form = one.question.response[0]
    scores += [option.score for option in things_shown(form) if option.score is not None]
    if isinstance(form, NotesForm | RhythmForm | ScoreForm) and form.given is not None:
        scores.append(form.given)
    for document in scores:
        yield from faults(score_of(document))
    if one.kind.draw is None:
        return
    for answer in one.answers:
        drawn = one.kind.draw(one.facts, answer.value[0])
        yield from (f"answer {answer.text!r}: {fault}" for fault in faults(drawn))
        said = Counter((note.step, note.octave) for note in answer.value[0].notes or () if note.type is not None)
        there = Counter((pitch.step, pitch.octave) for event in drawn.sounding() for pitch in event.pitches)
        if said - there:
            yield f"answer {answer.text!r} is drawn without {', '.join(f'{s}{o}' for s, o in said - there)}"
        if answer is one.answers[0]:
            yield from (f"answer {answer.text!r}: {fault}" for fault in score_outside(drawn, one.question.grade))


def _sentences(one: Known) -> Iterator[str]:
    """Sentences are for people: no trace of the program, and the words that the reader asked for."""
    said = told(one.question)
    texts = [*said, *(answer.reason for answer in one.answers), *(answer.text for answer in one.answers)]
    texts += [text for slip in one.slips for text in (slip.name, slip.text, slip.remedy)]
    for text in texts:
        if _UNREADABLE.search(text):
            yield f"a sentence shows the program: {text!r}"
    form = one.question.response[0]
    said += [option.text for option in things_shown(form)]
    if one.question.words == "us":
        yield from (f"UK words in a US question: {text!r}" for text in said if _UK_ONLY.search(text))


def _document(question: Question) -> Iterator[str]:
    stored = msgspec.json.encode(question)
    if msgspec.json.decode(stored, type=Question) != question:
        yield "the document does not survive being stored"
    if msgspec.json.encode(facts_of(question)) != bytes(question.facts):
        yield "the facts do not survive being stored"
