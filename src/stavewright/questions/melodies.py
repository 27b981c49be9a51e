"""What a question needs from a source of melodies, and the extract such a source gives."""

from __future__ import annotations

from dataclasses import dataclass, field
from random import Random
from typing import Any, Protocol, runtime_checkable

from stavewright.questions.score_document import ScoreDocument
from stavewright.score.stave import Score
from stavewright.syllabus.scope import Scope
from stavewright.theory.key import Key


@dataclass(frozen=True, slots=True)
class Extract:
    """A passage of real or composed music with what is provable about it.

    `key` is given only when the notes prove it (signature, last note, leading note). `credit` names composer or
    collection and transcriber, and is printed with the music.
    """

    score: Score
    key: Key | None
    credit: str
    title: str = ""


class Melodies(Protocol):
    """A source of melodies within a grade's scope."""

    def melody(
        self,
        scope: Scope,
        rng: Random,
        *,
        bars: int = 4,
        clef: str | None = None,
        key: Key | None = None,
        provable: bool = True,
    ) -> Extract | None:
        """One melody of so many bars in the scope (in that clef and key if given), or None if there is none."""
        ...


@runtime_checkable
class Choirs(Protocol):
    """A source of real music in four parts; not every source of melodies is one."""

    def choir(self, scope: Scope, rng: Random, *, cadence: str | None = None) -> Extract | None:
        """The close of a phrase for soprano, alto, tenor and bass in short score, its key proved by its notes.

        It keeps within the scope; with `cadence` it makes that one. None if there is none.
        """
        ...


@dataclass(frozen=True, slots=True)
class Stimulus:
    """An extract that several questions share: printed once under `block`.

    `key_part` is the letter of the part that asks the key, when a later part may lean on it (follow-through). `memo`
    is where setters keep what they have worked out about the extract, so that each part need not start anew.
    """

    extract: Extract
    document: ScoreDocument
    block: str = "extract"
    key_part: str | None = None
    memo: dict[str, Any] = field(default_factory=dict, compare=False, repr=False)
