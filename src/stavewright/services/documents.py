"""Reading documents that came from outside: strict, bounded, with a named error that says where."""

from __future__ import annotations

import re
from codecs import BOM_UTF8
from typing import Any, TypeVar, cast

import msgspec
from msgspec import structs

from stavewright.marking.chair import Chair, Findings
from stavewright.marking.documents import Decisions, Report
from stavewright.papers.documents import Paper, Script
from stavewright.questions.asking import facts_of
from stavewright.questions.documents import Question
from stavewright.questions.errors import BadDocument
from stavewright.questions.score_document import ScoreDocument
from stavewright.questions.score_mirror import score_of
from stavewright.questions.values import Value
from stavewright.theory.errors import StavewrightError, together

LARGEST = 32 * 1024 * 1024
TELLING = {
    "paper": {"sections"},
    "script": {"paper", "answers"},
    "report": {"by_topic"},
    "chair": {"script", "questions"},
    "findings": {"chair", "judged"},
}
"""The fields by which each document is known, so that one given for another is called by its name."""
_BEHIND_DOTS = re.compile(r"\$(?:\.(\w+))?\[\.\.\.\]")
_T = TypeVar("_T")


def read_document(data: bytes, type_: type[_T], what: str) -> _T:
    """Decode one JSON document strictly: unknown fields, wrong types and numbers out of bounds are refused.

    Raises:
        BadDocument: what is wrong and where; nothing is half read.
    """
    if len(data) > LARGEST:
        raise BadDocument(f"{what}: {len(data)} bytes, more than the {LARGEST} that are read")
    data = data.removeprefix(BOM_UTF8)
    try:
        return msgspec.json.decode(data, type=type_)
    except RecursionError as error:
        raise BadDocument(f"{what}: brackets are nested too deeply to be a {what}") from error
    except (msgspec.DecodeError, UnicodeDecodeError) as error:
        raise BadDocument(f"{what}: {_in_its_place(data, what) or _said(data, type_, error)}") from error
    except StavewrightError as error:
        raise BadDocument(f"{what}: {error}") from error


def _in_its_place(data: bytes, what: str) -> str:
    """Say what stands here instead of the document that is wanted; nothing where that cannot be told."""
    if not data.strip():
        return "the file is empty"
    if data.startswith(b"%PDF"):
        return f"this is a PDF, for people to read: give the .json file of the {what}"
    if data.startswith(b"PK"):
        return f"this is a zip or an office file: give the .json file of the {what}"
    try:
        given = msgspec.json.decode(data)
    except (msgspec.DecodeError, UnicodeDecodeError, RecursionError):
        return ""
    fields = given.keys() if isinstance(given, dict) else set()
    for other, telling in TELLING.items():
        if telling <= fields and other != what:
            return f"this is a {other}: give the .json file of the {what}".replace("a findings", "a list of findings")
    return ""


def _said(data: bytes, type_: type[Any], error: Exception) -> str:
    """What the decoder says; where it hides which question it speaks of behind dots, with the question's id."""
    said = str(error)
    place = _BEHIND_DOTS.search(said)
    if place is None:
        return said
    try:
        whole = msgspec.json.decode(data)
        holder = whole[place[1]] if place[1] else whole
        for id_, one in cast("dict[str, Any]", holder).items():
            alone = {**whole, place[1]: {id_: one}} if place[1] else {id_: one}
            try:
                msgspec.json.decode(msgspec.json.encode(alone), type=type_)
            except (msgspec.DecodeError, StavewrightError):
                return said.replace(place[0], f"{place[0].removesuffix('[...]')}[{id_!r}]", 1)
    except (msgspec.DecodeError, UnicodeDecodeError, RecursionError, AttributeError):  # the dots stay
        pass
    return said


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


def read_report(data: bytes) -> Report:
    """A report on a marked script.

    Raises:
        BadDocument: not a report.
    """
    return read_document(data, Report, "report")


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
