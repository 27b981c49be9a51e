"""A marked script as a document."""

from __future__ import annotations

from msgspec import Struct

from stavewright.questions.documents import Id, Short, Step, Text_
from stavewright.questions.values import Value


class Marked(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """The marks of one question, the slip recognised, and what to say about it.

    `given` and `right` are the pupil's answer and the model answer in words; `working` is there when a mark was lost.
    `follow_through` says that the answer is right from the pupil's own earlier answer.
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
    working: tuple[Step, ...] = ()


class TopicMarks(Struct, frozen=True, forbid_unknown_fields=True):
    """Marks got and marks there were, in one topic."""

    marks: int
    of: int


class Report(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A whole marked script: total, band (common practice, to be confirmed by the teacher), topics, questions."""

    paper: Id
    total: int
    of: int
    band: Short
    by_topic: dict[str, TopicMarks]
    questions: tuple[Marked, ...]
