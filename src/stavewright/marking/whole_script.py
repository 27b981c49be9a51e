"""Marking a whole script: follow-through between parts, one cause costing once, totals by topic, the band."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence

from msgspec.structs import replace

from stavewright.marking.documents import Marked, Report, TopicMarks
from stavewright.marking.errors import BadScript, WrongPaper
from stavewright.marking.one_question import Scheme, check_answer, mark_question, scheme_of
from stavewright.papers.documents import Paper, Script
from stavewright.questions.asking import native
from stavewright.questions.documents import Question
from stavewright.questions.errors import BadAnswer
from stavewright.questions.values import Value
from stavewright.syllabus.edition import bands
from stavewright.theory.errors import together


def mark_script(paper: Paper, script: Script, progress: Callable[[int, int], None] = lambda done, of: None) -> Report:
    """Mark every question of a paper.

    Raises:
        WrongPaper: the script belongs to another paper.
        BadScript: unknown question ids or answers of the wrong form; every fault is listed.
    """
    return _marked(paper, list(paper.questions()), script, {}, progress)


def mark_scripts(paper: Paper, scripts: Iterable[Script]) -> Iterator[Report]:
    """Mark the scripts of a whole class, one report each: every question is worked out once for all of them.

    Raises:
        WrongPaper, BadScript: as `mark_script`, when the turn of such a script comes.
    """
    questions = list(paper.questions())
    schemes: dict[str, Scheme] = {}
    for script in scripts:
        yield _marked(paper, questions, script, schemes)


def _marked(
    paper: Paper,
    questions: Sequence[Question],
    script: Script,
    schemes: dict[str, Scheme],
    progress: Callable[[int, int], None] = lambda done, of: None,
) -> Report:
    """Mark one script by the schemes there are; those that are missing are worked out and kept."""
    _check(paper, questions, script)
    marked: list[Marked] = []
    by_id = {question.id: question for question in questions}
    for done, question in enumerate(questions, 1):
        if question.id not in schemes:
            schemes[question.id] = scheme_of(question)
        earlier = _earlier(question, by_id, script, marked)
        given = script.answers.get(question.id, ())
        marked.append(mark_question(question, given, earlier, schemes[question.id]))
        progress(done, len(questions))
    return report_of(paper.id, _one_cause(questions, marked, schemes))


def report_of(paper: str, marked: Sequence[Marked]) -> Report:
    """The report on marked questions: totals, topics, the band, and what the teacher has yet to confirm."""
    total = sum(one.marks for one in marked)
    topics: dict[str, TopicMarks] = {}
    for one in marked:
        now = topics.get(one.topic, TopicMarks(0, 0))
        topics[one.topic] = TopicMarks(now.marks + one.marks, now.of + one.of)
    of = sum(one.of for one in marked)
    return Report(
        paper=paper,
        total=total,
        of=of,
        band=bands().band(total, of),
        by_topic=topics,
        questions=tuple(marked),
        to_confirm=tuple(one.id for one in marked if one.provisional),
    )


def _check(paper: Paper, questions: Sequence[Question], script: Script) -> None:
    if script.paper != paper.id:
        raise WrongPaper(f"this script answers paper {script.paper!r}, but the paper given is {paper.id!r}")
    known = {question.id: question for question in questions}
    faults = [
        f"question {id_!r} is not in the paper (its ids run from {questions[0].id} to {questions[-1].id})"
        for id_ in script.answers
        if id_ not in known
    ]
    for id_, given in script.answers.items():
        if id_ in known:
            try:
                check_answer(known[id_], given)
            except BadAnswer as fault:
                faults.append(str(fault))
    if faults:
        raise BadScript(together(faults))


def _earlier(
    question: Question, by_id: Mapping[str, Question], script: Script, marked: Sequence[Marked]
) -> Value | None:
    """The pupil's own answer that a question rests on, when it was wrong (a right one changes nothing)."""
    if question.follows is None:
        return None
    before = next((one for one in marked if one.id == question.follows), None)
    given = script.answers.get(question.follows, ())
    if before is None or not given or before.marks == before.of:
        return None
    return native(by_id[question.follows], given[0])


def _one_cause(
    questions: Sequence[Question], marked: Sequence[Marked], schemes: Mapping[str, Scheme]
) -> list[Marked]:
    """Give back marks where one steady slip ran through a whole battery: one cause costs at most half of it."""
    result = list(marked)
    batteries: dict[tuple[str, str], list[int]] = {}
    for index, question in enumerate(questions):
        if question.group is not None:
            batteries.setdefault((question.group.id, question.kind), []).append(index)
    for places in batteries.values():
        steady: dict[str, list[int]] = {}
        for index in places:
            name = result[index].slip
            if name and any(slip.name == name and slip.steady for slip in schemes[questions[index].id].slips):
                steady.setdefault(name, []).append(index)
        whole = sum(result[index].of for index in places)
        for name, hit in steady.items():
            if len(hit) < 2:
                continue
            back = sum(result[index].of - result[index].marks for index in hit) - whole // 2
            for index in reversed(hit):
                lost = result[index].of - result[index].marks
                given = min(lost, max(back, 0))
                if given:
                    note = f"{name}: one cause, so it costs at most half of the question. {given} given back."
                    result[index] = replace(result[index], marks=result[index].marks + given, note=note)
                    back -= given
    return result
