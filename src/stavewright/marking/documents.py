"""A marked script as a document."""

from __future__ import annotations

from typing import Annotated

from msgspec import Meta, Struct

from stavewright.questions.documents import Id, Short, Step, Text_
from stavewright.questions.values import Value


class JudgedCriterion(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """One criterion of a composed answer: marks got of those there are, what earns them, and what was found.

    Where the teacher changed the marks, `program` keeps what the program had given, and `note` may say why.
    """

    name: Short
    marks: Annotated[int, Meta(ge=0, le=100)]
    of: Annotated[int, Meta(ge=1, le=100)]
    earns: Text_
    why: Text_
    program: Annotated[int, Meta(ge=0, le=100)] | None = None
    note: Text_ = ""


class Decision(Struct, frozen=True, forbid_unknown_fields=True):
    """What a teacher decides about one criterion: the marks, and a word on why."""

    marks: Annotated[int, Meta(ge=0, le=100)]
    note: Text_ = ""


Decisions = dict[Id, dict[Short, Decision]]
"""A teacher's decisions: question id, criterion, marks and note. A question that is named is thereby confirmed."""


class Marked(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """The marks of one question, the slip recognised, and what to say about it.

    `given` and `right` are the pupil's answer and the model answer in words; `read` says how words were read, where
    that is not just as they were written; `working` is there when a mark was lost.
    `follow_through` says that the answer is right from the pupil's own earlier answer. A composed answer is judged by
    `criteria`; its marks are `provisional` until the teacher has confirmed or changed them.
    """

    id: Id
    kind: Short
    topic: Short
    marks: int
    of: int
    slip: Short | None = None
    note: Text_ = ""
    remedy: Text_ = ""
    follow_through: bool = False
    value: tuple[Value, ...] = ()
    right: Text_ = ""
    read: Text_ = ""
    working: tuple[Step, ...] = ()
    criteria: tuple[JudgedCriterion, ...] = ()
    provisional: bool = False


class TopicMarks(Struct, frozen=True, forbid_unknown_fields=True):
    """Marks got and marks there were, in one topic."""

    marks: int
    of: int


class Report(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A whole marked script: total, band (common practice, to be confirmed by the teacher), topics, questions.

    `to_confirm` are the ids of composed answers whose marks the teacher has not yet confirmed or changed.
    """

    paper: Id
    total: int
    of: int
    band: Short
    by_topic: dict[str, TopicMarks]
    questions: tuple[Marked, ...]
    to_confirm: tuple[Id, ...] = ()
