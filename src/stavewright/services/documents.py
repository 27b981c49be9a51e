"""Reading documents that came from outside: strict, bounded, with a named error that says where."""

from __future__ import annotations

from codecs import BOM_UTF8
from typing import Any, TypeVar

import msgspec
from msgspec import structs

from stavewright.marking.chair import Chair, Findings
from stavewright.marking.documents import Decisions
from stavewright.papers.documents import Paper, Script
from stavewright.questions.asking import facts_of
from stavewright.questions.documents import Question
from stavewright.questions.errors import BadDocument
from stavewright.questions.score_document import ScoreDocument
from stavewright.questions.score_mirror import score_of
from stavewright.questions.values import Value
from stavewright.theory.errors import StavewrightError, together

LARGEST = 32 * 1024 * 1024
_T = TypeVar("_T")


def read_document(data: bytes, type_: type[_T], what: str) -> _T:
    """Decode one JSON document strictly: unknown fields, wrong types and numbers out of bounds are refused.

    Raises:
        BadDocument: what is wrong and where; nothing is half read.
    """
    if len(data) > LARGEST:
        raise BadDocument(f"{what}: {len(data)} bytes, more than the {LARGEST} that are read")
    try:
        return msgspec.json.decode(data.removeprefix(BOM_UTF8), type=type_)
    except RecursionError as error:
        raise BadDocument(f"{what}: brackets are nested too deeply to be a {what}") from error
    except (msgspec.DecodeError, UnicodeDecodeError) as error:
        raise BadDocument(f"{what}: {error}") from error
    except StavewrightError as error:
        raise BadDocument(f"{what}: {error}") from error


def read_paper(data: bytes) -> Paper:
    """A paper document, with the facts of every question checked against its kind.

    Raises:
        BadDocument: not a paper, or a question whose facts do not fit; every such question is named.
    """
    paper = read_document(data, Paper, "paper")
    found: list[str] = []
    seen: set[str] = set()
    for question in paper.questions():
        if question.id in seen:
            found.append(f"question {question.id!r} stands twice")
        if question.follows is not None and question.follows not in seen:
            found.append(f"question {question.id!r} follows {question.follows!r}, which does not come before it")
        seen.add(question.id)
        found += _facts_faults(question)
    marks = sum(question.marks for question in paper.questions())
    if marks != paper.total:
        found.append(f"the total is {paper.total}, but the marks of the questions add up to {marks}")
    if found:
        raise BadDocument(f"paper: {together(found)}")
    return paper


def _facts_faults(question: Question) -> list[str]:
    try:
        for value in structs.asdict(facts_of(question)).values():
            if isinstance(value, ScoreDocument):
                score_of(value)
    except StavewrightError as error:
        said = str(error)
        return [said if question.id in said else f"question {question.id}: {said}"]
    return []


def read_script(data: bytes) -> Script:
    """A pupil's script.

    Raises:
        BadDocument: not a script.
    """
    return read_document(data, Script, "script")


def read_chair(data: bytes) -> Chair:
    """An invented script that a pupil is to mark.

    Raises:
        BadDocument: not one.
    """
    return read_document(data, Chair, "chair")


def read_findings(data: bytes) -> Findings:
    """A pupil's marking of an invented script.

    Raises:
        BadDocument: not findings.
    """
    return read_document(data, Findings, "findings")


def read_decisions(data: bytes) -> Decisions:
    """A teacher's decisions on composed answers.

    Raises:
        BadDocument: not decisions.
    """
    return read_document(data, Decisions, "decisions")


def read_value(data: bytes) -> Value:
    """One answer value.

    Raises:
        BadDocument: not a value of exactly one response form.
    """
    return read_document(data, Value, "answer")


def as_json(document: Any) -> bytes:
    """A document as indented JSON, ending with a new line: the same document gives the same bytes."""
    return msgspec.json.format(msgspec.json.encode(document), indent=1) + b"\n"
