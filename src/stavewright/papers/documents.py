"""Papers and scripts as documents."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated

from msgspec import Meta, Struct

from stavewright.questions.documents import FullQuestion, Id, Short, Text_
from stavewright.questions.values import Value


class Section(Struct, frozen=True, forbid_unknown_fields=True):
    """A run of questions under one heading; `topic` is null when its group crosses topics."""

    topic: Short | None
    title: Text_
    questions: tuple[FullQuestion, ...]


class Paper(Struct, frozen=True, forbid_unknown_fields=True, kw_only=True):
    """A whole paper: 100 marks in sections, in print order, with the credits of the music it shows."""

    id: Id
    grade: Annotated[int, Meta(ge=1, le=5)]
    edition: Short
    seed: Annotated[int, Meta(ge=0, le=2**53)]
    words: Annotated[str, Meta(pattern="^(uk|us)$", max_length=2)]
    total: Annotated[int, Meta(ge=1, le=1000)]
    time_minutes: Annotated[int, Meta(ge=1, le=600)]
    sections: Annotated[tuple[Section, ...], Meta(min_length=1, max_length=100)]
    credits: Annotated[tuple[Text_, ...], Meta(max_length=100)] = ()
    note_names: Annotated[str, Meta(pattern="^(english|german|fixed-do)$", max_length=8)] = "english"

    def questions(self) -> Iterator[FullQuestion]:
        """Every question in print order."""
        for section in self.sections:
            yield from section.questions


class Script(Struct, frozen=True, forbid_unknown_fields=True):
    """A pupil's answered paper: the paper's id, and the values given, one a response form, by question id.

    A question that is missing, or has an empty list, was left blank.
    """

    paper: Id
    answers: dict[Id, Annotated[tuple[Value, ...], Meta(max_length=3)]]
