"""The published JSON Schemas, made from the document types."""

from __future__ import annotations

from typing import Any

import msgspec

from stavewright.marking.chair import Assessment, Chair, Findings
from stavewright.marking.diagnosis import Diagnosis
from stavewright.marking.documents import Decisions, Report
from stavewright.papers.documents import Paper, Script
from stavewright.questions.documents import FullQuestion, Question, Sheet
from stavewright.questions.values import FORMS, Value
from stavewright.syllabus.own_list import OwnList

VERSION = 1
DOCUMENTS: dict[str, Any] = {
    "question": FullQuestion,
    "stored-question": Question,
    "sheet": Sheet,
    "paper": Paper,
    "script": Script,
    "report": Report,
    "decisions": Decisions,
    "chair": Chair,
    "findings": Findings,
    "assessment": Assessment,
    "diagnosis": Diagnosis,
    "own-list": OwnList,
    "value": Value,
}


def schemas() -> dict[str, dict[str, Any]]:
    """The schema of every document by name, each complete in itself (JSON Schema 2020-12).

    >>> schemas()["paper"]["title"]
    'stavewright paper, version 1'
    """
    return {name: _schema(name, type_) for name, type_ in DOCUMENTS.items()}


def _schema(name: str, type_: Any) -> dict[str, Any]:
    made = msgspec.json.schema(type_)
    if "Value" in made.get("$defs", {}):
        made["$defs"]["Value"] |= _one_form()
    title = f"stavewright {name}, version {VERSION}"
    head = {"$schema": "https://json-schema.org/draft/2020-12/schema", "title": title}
    # Through JSON once, so that defaults are what a reader of the file sees (lists, not tuples).
    whole: dict[str, Any] = msgspec.json.decode(msgspec.json.encode({**head, **made}))
    return whole


def _one_form() -> dict[str, Any]:
    """An answer holds exactly one response form; bar lines may stand alone."""
    forms = [{"required": [form]} for form in FORMS]
    alone = {"required": ["bar_lines"], "not": {"anyOf": forms}}
    return {"oneOf": [*forms, alone]}
