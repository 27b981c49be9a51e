"""From a kind's draft to a question, and from a stored question to everything known about it."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random
from typing import Any

import msgspec

from stavewright.questions.catalogue import kind as kind_of
from stavewright.questions.choosing import choice, is_right
from stavewright.questions.comparing import compare_all, same
from stavewright.questions.criterion import Criterion
from stavewright.questions.documents import Answer, ChoiceForm, FullQuestion, Group, Question, Slip
from stavewright.questions.errors import BadAnswer, BadDocument, Disagreement
from stavewright.questions.kind import Draft, Kind
from stavewright.questions.reading import read_words
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording


@dataclass(slots=True)
class Worked:
    """What has been worked out about a question already: its answers and slips, as the kind gives them."""

    answers: tuple[Answer, ...]
    slips: tuple[Slip, ...] | None = None

    def all_slips(self, kind: Kind, facts: Any) -> tuple[Slip, ...]:
        """The slips, worked out when they are first asked for."""
        if self.slips is None:
            self.slips = kind.slips(facts)
        return self.slips


Workings = dict[tuple[str, bytes], Worked]
"""What is worked out, by kind and stored facts; whoever sets a paper keeps one for its length."""


def agree(kind: Kind, draft: Draft, answers: tuple[Answer, ...]) -> None:
    """Hold the setter's intention against the solver's model answer.

    Where any good answer is right, the two need not be the same: each must meet every criterion of the kind's report.

    Raises:
        Disagreement: they differ, so one of the two is wrong and the question must not be set.
    """
    if not answers:
        raise Disagreement(f"{kind.id}: the solver finds no answer to {draft.facts}")
    model = answers[0]
    meant = draft.expected
    if isinstance(meant, Value):
        meant = (meant,)
    if kind.report is not None and isinstance(meant, tuple):
        for who, value in (("setter meant", meant[0]), *(("solver wrote", one.value[0]) for one in answers)):
            missed = [one for one in kind.report(draft.facts, value) if one.lost]
            if missed:
                raise Disagreement(f"{kind.id}: what the {who} loses marks: {_whys(missed)}, for {draft.facts}")
        return
    if isinstance(meant, tuple):
        agreed = compare_all(model.value, meant, kind.marking).same
    else:
        agreed = read_words(meant) == read_words(model.text)
    if not agreed:
        raise Disagreement(f"{kind.id}: the setter meant {meant!r}, the solver finds {model.text!r} for {draft.facts}")


def _whys(criteria: list[Criterion]) -> str:
    return "; ".join(f"{one.name}, {one.why}" for one in criteria)


def ask(
    kind: Kind,
    draft: Draft,
    *,
    id: str,
    grade: int,
    edition: str,
    seed: int,
    words: str = "uk",
    marks: int | None = None,
    group: Group | None = None,
    follows: str | None = None,
    workings: Workings | None = None,
) -> Question | None:
    """Put a drafted question into words and pictures; None where it cannot be put fairly in the edition's form.

    What is worked out for it is kept in `workings`, so that `full` need not do it once more.

    Raises:
        Disagreement: setter and solver differ, or the facts would not come back from storage as they are.
    """
    worked = Worked(kind.solve(draft.facts))
    answers = worked.answers
    agree(kind, draft, answers)
    stored = _stored(kind, draft)
    wording = Wording(kind.forms[edition], words)
    posed = kind.pose(draft.facts, wording)
    form = posed.form
    if form is None:
        form = choice(
            kind,
            draft.facts,
            answers,
            worked.all_slips(kind, draft.facts),
            Random(f"{seed}/{id}/{kind.id}/options"),
            wording,
        )
        if form is None:
            return None
    if workings is not None:
        workings[kind.id, stored] = worked
    return Question(
        id=id,
        kind=kind.id,
        topic=kind.topic,
        grade=grade,
        edition=edition,
        seed=seed,
        marks=kind.marks if marks is None else marks,
        prompt=posed.blocks,
        response=form if isinstance(form, tuple) else (form,),
        facts=msgspec.Raw(stored),
        group=group,
        follows=follows if draft.follows else None,
        words=words,
    )


def _stored(kind: Kind, draft: Draft) -> bytes:
    """The facts as they are kept: what is read back must be what was drawn."""
    stored = msgspec.json.encode(draft.facts)
    try:
        back = msgspec.json.decode(stored, type=kind.facts)
    except msgspec.DecodeError as error:
        raise Disagreement(f"{kind.id}: the facts cannot be read back from storage: {error}") from error
    if back != draft.facts:
        raise Disagreement(f"{kind.id}: {draft.facts} comes back from storage as {back}")
    return stored


def facts_of(question: Question) -> Any:
    """The facts of a stored question, decoded by its own kind.

    Raises:
        UnknownKind: no such kind.
        BadDocument: the facts do not fit the kind.
    """
    kind = kind_of(question.kind)
    try:
        return msgspec.json.decode(question.facts, type=kind.facts)
    except msgspec.DecodeError as error:
        raise BadDocument(f"question {question.id}, facts of {question.kind}: {error}") from error


def built_choice(question: Question) -> ChoiceForm | None:
    """The choice form whose options carry native values, where the question has one."""
    form = question.response[0]
    if isinstance(form, ChoiceForm) and any(option.value is not None for option in form.options):
        return form
    return None


def native(question: Question, value: Value) -> Value:
    """What an answer says in the kind's own form: a picked letter becomes the value of that option.

    Raises:
        BadAnswer: the letter is not among the options.
    """
    form = built_choice(question)
    if form is None or value.choice is None:
        return value
    for option in form.options:
        if option.id == value.choice and option.value is not None:
            return option.value
    letters = ", ".join(option.id for option in form.options)
    raise BadAnswer(f"question {question.id}: there is no option {value.choice!r}; the options are {letters}")


def _in_letters(question: Question, kind: Kind, found: tuple[Answer, ...]) -> tuple[Answer, ...]:
    form = built_choice(question)
    if form is None:
        return found
    for option in form.options:
        if option.value is not None and is_right(option.value, found, kind):
            best = next(one for one in found if same(option.value, one.value[0], kind.marking))
            return (Answer((Value(choice=option.id),), best.text, best.reason),)
    raise BadDocument(f"question {question.id}: none of its options is right")


def answers_of(question: Question) -> tuple[Answer, ...]:
    """Every accepted answer, worked out afresh from the facts, in the form the question asks for."""
    kind = kind_of(question.kind)
    found = kind.solve(facts_of(question))
    if not found:
        raise BadDocument(f"question {question.id}: {question.kind} finds no answer to its facts")
    return _in_letters(question, kind, found)


def slips_of(question: Question) -> tuple[Slip, ...]:
    """The wrong answers that known slips give, in the form the question asks for (those that can be given in it).

    A slip that happens to give an accepted answer here is left out: it would show nothing.
    """
    kind = kind_of(question.kind)
    facts = facts_of(question)
    return _fitting_slips(question, kind, kind.slips(facts), kind.solve(facts))


def _fitting_slips(
    question: Question, kind: Kind, slips: tuple[Slip, ...], right: tuple[Answer, ...]
) -> tuple[Slip, ...]:
    form = built_choice(question)
    found: list[Slip] = []
    for one in slips:
        value = one.value[0]
        if is_right(one.value, right, kind):
            continue
        if form is None:
            found.append(one)
            continue
        for option in form.options:
            if option.value is not None and same(option.value, value, kind.marking):
                found.append(msgspec.structs.replace(one, value=(Value(choice=option.id),)))
                break
    return tuple(found)


def full(question: Question, method: str = "usual", workings: Workings | None = None) -> FullQuestion:
    """The teacher's view: stored question, accepted answers, worked steps, slips.

    `workings` hold what has been worked out already when the question was set.

    Raises:
        UnknownKind, BadDocument: as `facts_of`.
    """
    kind = kind_of(question.kind)
    facts = facts_of(question)
    known = None if workings is None else workings.get((kind.id, bytes(question.facts)))
    worked = known or Worked(kind.solve(facts))
    right = worked.answers
    fields = {name: getattr(question, name) for name in Question.__struct_fields__}
    return FullQuestion(
        **fields,
        answers=_in_letters(question, kind, right),
        working=kind.work(facts, method),
        slips=_fitting_slips(question, kind, worked.all_slips(kind, facts), right),
    )
