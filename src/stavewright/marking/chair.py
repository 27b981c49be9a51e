"""The examiner's chair: a pupil marks an invented script full of named slips, and is marked on what was found.

Scoring (common practice): one mark for each wrong answer found, one more for naming its slip; a right answer called
wrong takes one mark back, never below 0.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from random import Random
from typing import Annotated

from msgspec import Meta, Struct

from stavewright.marking.documents import Marked
from stavewright.marking.errors import BadScript, WrongPaper
from stavewright.marking.one_question import mark_question
from stavewright.marking.whole_script import mark_script
from stavewright.papers.documents import Paper, Script
from stavewright.questions.asking import answers_of, facts_of, native, slips_of
from stavewright.questions.catalogue import kind as kind_of
from stavewright.questions.choosing import is_right
from stavewright.questions.comparing import compare_all
from stavewright.questions.documents import FullQuestion, Id, Short, Text_
from stavewright.questions.values import Value
from stavewright.theory.errors import together

NAMES = 4
"""Names of slips offered for every answer, right or wrong, so that the list gives nothing away."""
SHARE = 0.4
LETTERS = "abcdef"


class Offered(Struct, frozen=True, forbid_unknown_fields=True):
    """One answer to be judged: its question, and the names of slips to pick from, by letter."""

    id: Id
    names: Annotated[dict[str, Short], Meta(max_length=6)]


class Chair(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A script to be marked by a pupil. What is wrong in it is not stored: it is worked out when judged."""

    id: Id
    script: Script
    seed: Annotated[int, Meta(ge=0, le=2**53)]
    questions: Annotated[tuple[Offered, ...], Meta(min_length=1, max_length=400)]


class Judged(Struct, frozen=True, forbid_unknown_fields=True):
    """What the pupil says of one answer: right or wrong, and the letter of the slip behind a wrong one."""

    right: bool
    slip: Annotated[str, Meta(max_length=1)] | None = None


class Findings(Struct, frozen=True, forbid_unknown_fields=True):
    """A pupil's marking of a script, by question id; an answer that is not named was passed as right."""

    chair: Id
    judged: dict[Id, Judged]


class Checked(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """One answer of the script as it is, beside what the pupil said of it.

    `outcome`: "agreed" (right, and passed), "named", "found" (but not rightly named), "missed", "false alarm".
    """

    id: Id
    outcome: Short
    marks: int
    slip: Short | None
    note: Text_


class Assessment(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """How well a pupil marked: marks and what was to be found, and every answer with what should have been seen."""

    chair: Id
    total: int
    of: int
    wrong: int
    found: int
    named: int
    false_alarms: int
    questions: tuple[Checked, ...]


def plant(paper: Paper, *, share: float = SHARE, seed: int = 1) -> Script:
    """An invented script in which about that share of the answers comes from a named slip and all others are right.

    At least one answer is wrong. A question that others rest on is answered rightly, so that nothing follows from it.
    """
    questions = list(paper.questions())
    leant_on = {question.follows for question in questions} - {None}
    answers: dict[str, tuple[Value, ...]] = {}
    spoilable: dict[str, tuple[Value, ...]] = {}
    for question in questions:
        rng = Random(f"{seed}/{question.id}/chair")
        answers[question.id] = answers_of(question)[0].value
        slips = [] if question.id in leant_on else [one for one in slips_of(question) if _shows(question, one.value)]
        if slips:
            spoilable[question.id] = rng.choice(slips).value
    rng = Random(f"{seed}/{paper.id}/chair")
    chosen = [id_ for id_ in spoilable if rng.random() < share] or list(spoilable)[:1]
    return Script(paper.id, answers | {id_: spoilable[id_] for id_ in chosen})


def _shows(question: FullQuestion, value: tuple[Value, ...]) -> bool:
    marked = mark_question(question, value)
    return marked.marks < marked.of and marked.slip is not None


def set_chair(paper: Paper, script: Script, *, seed: int = 1) -> Chair:
    """Offer every answer of a script to be judged, with names of slips to pick from.

    Raises:
        WrongPaper, BadScript: the script does not answer this paper.
        BadScript: nothing is answered.
    """
    mark_script(paper, script)
    by_topic: dict[str, list[str]] = {}
    for question in paper.questions():
        known = by_topic.setdefault(question.topic, [])
        known.extend(name for name in _slip_names(question) if name not in known)
    offered = tuple(
        Offered(question.id, _names(question, script.answers[question.id], by_topic[question.topic], seed))
        for question in paper.questions()
        if script.answers.get(question.id)
    )
    if not offered:
        raise BadScript("the script is empty: there is nothing to mark")
    return Chair(id=f"{paper.id}-chair-{seed}"[:80], script=script, seed=seed, questions=offered)


def _slip_names(question: FullQuestion) -> list[str]:
    return [one.name for one in kind_of(question.kind).slips(facts_of(question))]


def _behind(question: FullQuestion, given: Sequence[Value]) -> list[str]:
    """Every slip of the kind that gives this very answer (two slips may agree here)."""
    kind = kind_of(question.kind)
    facts = facts_of(question)
    said = tuple(native(question, value) for value in given)
    if is_right(said, kind.solve(facts), kind):
        return []
    return [one.name for one in kind.slips(facts) if compare_all(said, one.value, kind.marking).same]


def _names(question: FullQuestion, given: Sequence[Value], of_topic: Sequence[str], seed: int) -> dict[str, str]:
    rng = Random(f"{seed}/{question.id}/names")
    all_behind = _behind(question, given)
    behind = all_behind[:1]
    own = [name for name in dict.fromkeys(_slip_names(question)) if name not in all_behind]
    rng.shuffle(own)
    others = [name for name in of_topic if name not in own and name not in behind]
    rng.shuffle(others)
    names = [*behind, *own, *others][:NAMES]
    rng.shuffle(names)
    return dict(zip(LETTERS, names, strict=False))


@dataclass(frozen=True, slots=True)
class _Truth:
    marked: Marked
    behind: tuple[str, ...]

    @property
    def wrong(self) -> bool:
        return self.marked.marks < self.marked.of


def assess(paper: Paper, chair: Chair, findings: Findings) -> Assessment:
    """Judge a pupil's marking of a script.

    Raises:
        WrongPaper: the findings belong to another script, or the script to another paper.
        BadScript: a question or a letter that was not offered; every fault is listed.
    """
    if findings.chair != chair.id:
        raise WrongPaper(f"these findings mark {findings.chair!r}, but the script given is {chair.id!r}")
    offered = {one.id: one.names for one in chair.questions}
    faults = [f"question {id_!r} was not to be marked" for id_ in findings.judged if id_ not in offered]
    for id_, judged in findings.judged.items():
        if id_ in offered and judged.slip is not None and judged.slip not in offered[id_]:
            letters = ", ".join(offered[id_])
            faults.append(f"question {id_}: there is no slip {judged.slip!r}; the letters are {letters}")
    if faults:
        raise BadScript(together(faults))
    report = {one.id: one for one in mark_script(paper, chair.script).questions}
    questions = {question.id: question for question in paper.questions()}
    checked: list[Checked] = []
    for one in chair.questions:
        truth = _Truth(report[one.id], tuple(_behind(questions[one.id], chair.script.answers[one.id])))
        checked.append(_check(one, truth, findings.judged.get(one.id, Judged(right=True))))
    return _sum(chair, checked)


def _check(one: Offered, truth: _Truth, judged: Judged) -> Checked:
    marked = truth.marked
    if not truth.wrong:
        if judged.right:
            return Checked(id=one.id, outcome="agreed", marks=0, slip=None, note="")
        note = f"This answer is right. {marked.note}".strip()
        return Checked(id=one.id, outcome="false alarm", marks=-1, slip=None, note=note)
    slip = marked.slip or (truth.behind[0] if truth.behind else None)
    why = f"The answer is {marked.right}." + (f" It went wrong by this slip: {slip}. {marked.remedy}" if slip else "")
    if judged.right:
        return Checked(id=one.id, outcome="missed", marks=0, slip=slip, note=why)
    named = one.names.get(judged.slip or "")
    if named is not None and named in (*truth.behind, slip):
        return Checked(id=one.id, outcome="named", marks=2, slip=slip, note="")
    return Checked(id=one.id, outcome="found", marks=1, slip=slip, note=why)


def _sum(chair: Chair, checked: Sequence[Checked]) -> Assessment:
    counts: Mapping[str, int] = {
        outcome: sum(one.outcome == outcome for one in checked) for outcome in {one.outcome for one in checked}
    }
    named, found = counts.get("named", 0), counts.get("found", 0)
    wrong = named + found + counts.get("missed", 0)
    return Assessment(
        chair=chair.id,
        total=max(0, sum(one.marks for one in checked)),
        of=2 * wrong,
        wrong=wrong,
        found=found + named,
        named=named,
        false_alarms=counts.get("false alarm", 0),
        questions=tuple(checked),
    )
