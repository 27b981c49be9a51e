"""A diagnosis as a document: what seems to lie behind the wrong answers to one kind of question."""

from __future__ import annotations

from msgspec import Struct

from stavewright.questions.documents import Id, Question, Short, Text_


class Suspect(Struct, frozen=True, forbid_unknown_fields=True):
    """A slip that may be held, and how likely that is (0 to 1)."""

    slip: Short
    likely: float


class Diagnosis(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """What the answers to one kind of question show.

    `slip` is named only when it is at least 90 % likely; `suspects` are the likeliest slips; `other` is how likely some
    error of the pupil's own is. `seen` are the questions weighed. `ask_next` is one question that would tell most.
    """

    kind: Short
    title: Short
    topic: Short
    slip: Short | None
    remedy: Text_
    suspects: tuple[Suspect, ...]
    other: float
    seen: tuple[Id, ...]
    wrong: int
    ask_next: Question | None = None
