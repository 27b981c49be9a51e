"""The teacher's decisions on composed answers: marks confirmed or changed criterion by criterion, totals following."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from msgspec.structs import replace

from stavewright.marking.documents import Decision, Decisions, JudgedCriterion, Marked, Report
from stavewright.marking.errors import BadDecisions
from stavewright.marking.whole_script import report_of
from stavewright.questions.criterion import Criterion, marks_by
from stavewright.theory.errors import together


def decide(report: Report, decisions: Decisions) -> Report:
    """Put a teacher's decisions into a report: a question named is confirmed, a criterion named gets the marks given.

    Criteria that are not named stand as the program judged them. What the program gave is kept beside a changed mark.

    Raises:
        BadDecisions: an unknown question or criterion, a question that is not judged by criteria, or marks out of
            bounds; every fault is listed.
    """
    faults = list(_faults(report, decisions))
    if faults:
        raise BadDecisions(together(faults))
    marked = [_decided(one, decisions[one.id]) if one.id in decisions else one for one in report.questions]
    return report_of(report.paper, marked)


def proposed(report: Report) -> Decisions:
    """The program's own marks of every composed answer that waits, in the shape of decisions, to be changed.

    Taken as they are they change nothing and confirm everything.
    """
    waiting = [one for one in report.questions if one.provisional]
    return {one.id: {line.name: Decision(line.marks) for line in one.criteria} for one in waiting}


def _faults(report: Report, decisions: Decisions) -> Iterator[str]:
    known = {one.id: one for one in report.questions}
    judged = [one.id for one in report.questions if one.criteria]
    for id_, wanted in decisions.items():
        if id_ not in judged:
            why = "is not judged by criteria" if id_ in known else "is not in the script"
            yield f"question {id_!r} {why}; judged by criteria are {', '.join(judged) or 'none'}"
            continue
        most = {one.name: one.of for one in known[id_].criteria}
        for name, decision in wanted.items():
            if name not in most:
                yield f"question {id_!r} has no criterion {name!r}; its criteria are {', '.join(most)}"
            elif decision.marks > most[name]:
                yield f"question {id_!r}, {name}: {decision.marks} marks, where there are {most[name]} at most"


def _decided(marked: Marked, wanted: Mapping[str, Decision]) -> Marked:
    criteria = tuple(_one(one, wanted.get(one.name)) for one in marked.criteria)
    plain = [Criterion(one.name, one.marks, one.of, one.earns, one.why) for one in criteria]
    return replace(marked, marks=marks_by(plain, marked.of), criteria=criteria, provisional=False)


def _one(judged: JudgedCriterion, decision: Decision | None) -> JudgedCriterion:
    if decision is None:
        return judged
    program = judged.marks if judged.program is None else judged.program
    changed = None if decision.marks == program else program
    return replace(judged, marks=decision.marks, program=changed, note=decision.note)
