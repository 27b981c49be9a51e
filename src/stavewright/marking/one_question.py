"""Marks for one question: right, part right by the kind's rule, or a slip with a name."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from msgspec.structs import replace

from stavewright.marking.documents import JudgedCriterion, Marked
from stavewright.marking.meanings import judge_meaning
from stavewright.questions.asking import answers_of, built_choice, facts_of, native, slips_of
from stavewright.questions.catalogue import kind as kind_of
from stavewright.questions.comparing import compare, compare_all
from stavewright.questions.criterion import marks_by, said, shared
from stavewright.questions.documents import Answer, ChoiceForm, Question, Slip, Step
from stavewright.questions.errors import BadAnswer
from stavewright.questions.kind import Kind
from stavewright.questions.naming import in_english
from stavewright.questions.read_back import lone_key, skill_of, words_back
from stavewright.questions.reading import read_words
from stavewright.questions.values import Value

FORMS_OF = {"ChoiceForm": "choice", "ChoicesForm": "choices", "WordsForm": "words", "NumberForm": "number"} | {
    "NotesForm": "notes",
    "RhythmForm": "rhythm",
    "PlacesForm": "places",
    "PairsForm": "pairs",
    "OrderForm": "order",
    "ChordsForm": "chords",
    "ScoreForm": "score",
}


def form_of(question: Question, index: int = 0) -> str:
    """The response form a question asks for (the first, or the one at `index` where it asks for two)."""
    return FORMS_OF[type(question.response[index]).__name__]


def check_answer(question: Question, given: Sequence[Value]) -> None:
    """Refuse an answer that is not of the form the question asks for (a blank one is fine).

    Raises:
        BadAnswer: a wrong form, too many answers, or an option that is not there.
    """
    if len(given) > len(question.response):
        raise BadAnswer(f"question {question.id}: {len(given)} answers given, {len(question.response)} asked for")
    for index, value in enumerate(given):
        wanted = form_of(question, index)
        picked = value.choices if value.choices is not None else (value.choice,) if value.choice is not None else ()
        if wanted in ("choice", "choices") and value.form in ("choice", "choices"):
            known = [option.id for option in getattr(question.response[index], "options", ())]
            for letter in picked:
                if letter not in known:
                    raise BadAnswer(f"question {question.id}: no option {letter!r}; the options are {', '.join(known)}")
        elif value.form != wanted:
            raise BadAnswer(f"question {question.id}: the answer is {value.form}, the question asks for {wanted}")


@dataclass(frozen=True, slots=True)
class Scheme:
    """What one question is marked by: accepted answers, recognised slips, the working to show."""

    answers: tuple[Answer, ...]
    slips: tuple[Slip, ...]
    working: tuple[Step, ...]


def scheme_of(question: Question) -> Scheme:
    """Work out once what many answers to one question are marked by.

    Raises:
        UnknownKind, BadDocument: the stored question does not fit its kind.
    """
    working = kind_of(question.kind).work(facts_of(question), "usual")
    return Scheme(answers_of(question), slips_of(question), working)


def mark_question(
    question: Question, given: Sequence[Value], earlier: Value | None = None, scheme: Scheme | None = None
) -> Marked:
    """Mark one answer. `earlier` is the pupil's own (wrong) answer that this question rests on, in native form.

    `scheme` saves working the question out again where many answers to it are marked.

    Rules, from the closed set: per item, minus one per fault (never below 0), all or nothing, gated (the second half
    counts only when the first is right). A composed answer is judged by its kind's criteria. A steady slip is one
    cause: it costs at most half. Two picks where one was asked for are no answer. Common practice throughout.

    Raises:
        BadAnswer: the answer is not of the form asked for.
    """
    check_answer(question, given)
    scheme = scheme or scheme_of(question)
    answers = scheme.answers
    base = Marked(
        id=question.id,
        kind=question.kind,
        topic=question.topic,
        marks=0,
        of=question.marks,
        value=tuple(given),
        right=answers[0].text,
        read=_read(question, answers[0].text, given),
    )
    given = [in_english(question, one) for one in given]
    earlier = None if earlier is None else in_english(question, earlier)
    working = scheme.working
    if not given:
        return replace(base, note="Nothing written: always write something.", working=working)
    value = given[0]
    if isinstance(question.response[0], ChoiceForm) and value.choices is not None:
        if len(value.choices) != 1:
            return replace(base, note="Two answers given where one was asked for.", working=working)
        value = Value(choice=value.choices[0])
    if len(question.response) > 1:
        several = _judge_several(question, given, answers, scheme.slips, base)
        return several if several.marks == several.of else replace(several, working=working)
    straight = _judge(question, value, answers, scheme.slips, base)
    if straight.marks < straight.of and (whole := lone_key(answers[0].text, value)) is not None:
        straight = max(straight, _judge(question, whole, answers, scheme.slips, base), key=lambda one: one.marks)
    if straight.marks < straight.of and earlier is not None:
        follow = _follow(question, value, earlier, base)
        if follow is not None and follow.marks > straight.marks:
            return replace(follow, working=working if follow.marks < follow.of else ())
    return straight if straight.marks == straight.of else replace(straight, working=working)


def _read(question: Question, model: str, given: Sequence[Value]) -> str:
    """How words were read, where they were not written just as they were read."""
    if not given or given[0].words is None or skill_of(model, question.topic) is None:
        return ""
    said = words_back(model, given[0].words, question.note_names, question.topic)
    return "" if said.casefold() == f"read as {given[0].words.strip().casefold()}" else said


def _judge(question: Question, value: Value, answers: Sequence[Answer], slips: Sequence[Slip], base: Marked) -> Marked:
    kind = kind_of(question.kind)
    of = question.marks
    if kind.report is not None:
        return _by_criteria(question, value, slips, base)
    best = 0
    picked = built_choice(question) is not None
    counting = None if picked else kind.faults
    besides = counting is not None and kind.marking.besides
    own = counting(facts_of(question), value) if counting is not None and besides else None
    for one in answers:
        compared = compare(value, one.value[0], kind.marking)
        if compared.same and not own:
            return replace(base, marks=of, note=one.reason)
        if not picked:
            best = max(best, min(_part(kind, value, one.value[0], compared.items, compared.faults, of), of - 1))
    if counting is not None and not besides:
        own = counting(facts_of(question), value)
    if own is not None:
        if own == 0:
            return replace(base, marks=of, note=answers[0].reason)
        best = max(0, of - own)
    for slip in slips:
        if compare(value, slip.value[0], kind.marking).same:
            eased = max(best, of - of // 2 if of > 1 else 0) if slip.steady and not picked else best
            return replace(
                base, marks=eased, slip=slip.name, remedy=slip.remedy, note=f"This answer comes from: {slip.name}."
            )
    straight = replace(base, marks=best, note="Part of it is right." if best else "")
    return judge_meaning(question, value, answers, straight) if kind.marking.meaning and not picked else straight


def _by_criteria(question: Question, value: Value, slips: Sequence[Slip], base: Marked) -> Marked:
    """Judge a composed answer by the report of its kind: any answer that meets every criterion is right."""
    kind = kind_of(question.kind)
    report = shared(kind.report(facts_of(question), value) if kind.report is not None else (), question.marks)
    judged = tuple(
        JudgedCriterion(name=one.name, marks=one.marks, of=one.of, earns=one.earns, why=one.why) for one in report
    )
    got = marks_by(report, question.marks)
    found = replace(base, marks=got, criteria=judged, provisional=True)
    if got == question.marks:
        return replace(found, note=said(report))
    slip = next((one for one in slips if compare(value, one.value[0], kind.marking).same), None)
    found = replace(found, note=said(one for one in report if one.lost))
    return found if slip is None else replace(found, slip=slip.name, remedy=slip.remedy)


def _judge_several(
    question: Question, given: Sequence[Value], answers: Sequence[Answer], slips: Sequence[Slip], base: Marked
) -> Marked:
    """Mark an answer of several forms: the items of all of them together, by the kind's rule."""
    kind = kind_of(question.kind)
    best = 0
    for one in answers:
        compared = compare_all(given, one.value, kind.marking)
        if compared.same:
            return replace(base, marks=base.of, note=one.reason)
        if kind.marking.rule == "per-item":
            best = max(best, min(base.of * max(0, compared.items - compared.faults) // compared.items, base.of - 1))
        elif kind.marking.rule == "minus-one-per-fault":
            best = max(best, base.of - compared.faults)
    for slip in slips:
        if compare_all(given, slip.value, kind.marking).same:
            note = f"This answer comes from: {slip.name}."
            return replace(base, marks=best, slip=slip.name, remedy=slip.remedy, note=note)
    return replace(base, marks=best, note="Part of it is right." if best else "")


def _part(kind: Kind, value: Value, right: Value, items: int, faults: int, of: int) -> int:
    rule = kind.marking.rule
    if value.form != right.form or rule == "all-or-nothing":
        return 0
    if rule == "per-item":
        return max(0, of * (items - faults) // items)
    if rule == "minus-one-per-fault":
        return max(0, of - faults)
    if kind.marking.split is None:
        return 0
    gate_given, _ = kind.marking.split(value)
    gate_right, _ = kind.marking.split(right)
    return of // 2 if gate_given and read_words(gate_given) == read_words(gate_right) else 0


def _follow(question: Question, value: Value, earlier: Value, base: Marked) -> Marked | None:
    """Mark again from the pupil's own earlier answer."""
    kind = kind_of(question.kind)
    if kind.given is None:
        return None
    facts = kind.given(facts_of(question), earlier)
    answers = kind.solve(facts)
    said = native(question, value)
    for one in answers:
        if compare(said, one.value[0], kind.marking).same:
            note = f"Right from your earlier answer: {one.reason}"
            return replace(base, marks=question.marks, note=note, follow_through=True)
    return None
