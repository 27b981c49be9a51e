"""A marked script for people to look at: in the paper's own note names, with how words were read."""

from __future__ import annotations

from msgspec.structs import replace

from stavewright.marking.documents import Marked, Report
from stavewright.papers.documents import Paper
from stavewright.questions.documents import FullQuestion
from stavewright.questions.naming import shown_words


def shown_report(paper: Paper, report: Report) -> Report:
    """A copy of a report to be shown: in the paper's note names; where marks were lost, how words were read."""
    by_id = {question.id: question for question in paper.questions()}
    marked = (shown_marked(by_id[one.id], one) if one.id in by_id else one for one in report.questions)
    return replace(report, questions=tuple(marked))


def shown_marked(question: FullQuestion, marked: Marked) -> Marked:
    """One marked answer to be shown."""
    note = shown_words(question, marked.note)
    if marked.marks < marked.of:
        note = f"{note} {reading(marked)}".strip()
    return replace(
        marked,
        note=note,
        remedy=shown_words(question, marked.remedy),
        right=shown_words(question, marked.right),
        criteria=tuple(
            replace(one, earns=shown_words(question, one.earns), why=shown_words(question, one.why))
            for one in marked.criteria
        ),
    )


def reading(marked: Marked) -> str:
    """How words were read, in a sentence; nothing where they were written just so.

    >>> from stavewright.marking.documents import Marked
    >>> reading(Marked(id="q1", kind="relative-key", topic="keys", marks=0, of=1, read="read as B minor"))
    'It was read as B minor.'
    """
    if not marked.read:
        return ""
    return f"{marked.read}." if marked.read.startswith("“") else f"It was {marked.read}."
