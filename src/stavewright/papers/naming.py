"""A paper in the reader's note names: as it is stored, and as it is shown."""

from __future__ import annotations

from collections.abc import Callable

from msgspec.structs import replace

from stavewright.papers.documents import Paper
from stavewright.questions.documents import FullQuestion
from stavewright.questions.naming import renamed, shown


def renamed_paper(paper: Paper, names: str) -> Paper:
    """The paper with its questions put in another vocabulary of note names; answers stay in English.

    Raises:
        UnknownNoteNames: no such vocabulary.
        BadDocument: the paper is in another vocabulary already.
    """
    return _each(replace(paper, note_names=names), lambda question: renamed(question, names))


def shown_paper(paper: Paper) -> Paper:
    """A copy of the paper for people to look at: answers, working and slips in its own note names."""
    return paper if paper.note_names == "english" else _each(paper, shown)


def _each(paper: Paper, change: Callable[[FullQuestion], FullQuestion]) -> Paper:
    sections = (
        replace(section, questions=tuple(change(question) for question in section.questions))
        for section in paper.sections
    )
    return replace(paper, sections=tuple(sections))
