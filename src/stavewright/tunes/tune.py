"""A melody as a collection gives it: bars one after another, with what is in force in each."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from typing import Protocol

from stavewright.score.stave import Bar
from stavewright.theory.metre import TimeSignature

__all__ = ["LineBar", "LineDocument", "LineStave", "ReadMusic", "Tune", "TuneBar"]


class LineBar(Protocol):
    """One bar of a line of music, whoever read it; ``bar`` is None when it was not understood."""

    @property
    def bar(self) -> Bar | None:
        """The bar as written."""

    @property
    def clef(self) -> str | None:
        """The clef in force."""

    @property
    def fifths(self) -> int | None:
        """The key signature in force, sharps counted up."""

    @property
    def time(self) -> TimeSignature | None:
        """The time signature in force."""

    @property
    def reason(self) -> str:
        """Why the bar was not understood."""


class LineStave(Protocol):
    """One stave of a document, bar by bar."""

    @property
    def name(self) -> str:
        """The name of the part."""

    @property
    def bars(self) -> Sequence[LineBar]:
        """The bars."""


class LineDocument(Protocol):
    """A document of music, whoever read it."""

    @property
    def title(self) -> str:
        """The title it gives itself."""

    @property
    def composer(self) -> str:
        """The composer it names."""

    @property
    def rights(self) -> str:
        """What it says of its rights."""

    @property
    def staves(self) -> Sequence[LineStave]:
        """The staves."""


class ReadMusic(Protocol):
    """Reads a MusicXML document, only some of its parts and only some of their bars if so asked."""

    def __call__(
        self, data: bytes, *, parts: Collection[int] | None = None, since: int = 0, until: int | None = None
    ) -> LineDocument:
        """The document."""


@dataclass(frozen=True, slots=True)
class TuneBar:
    """One bar of a folk tune. ``strain`` says that a strain of the tune begins here."""

    bar: Bar | None
    fifths: int
    time: TimeSignature
    strain: bool = False
    reason: str = ""
    clef: str = "treble"


@dataclass(frozen=True, slots=True)
class Tune:
    """One tune of a collection, with the words for its credit."""

    number: str
    title: str
    transcriber: str
    composer: str
    bars: tuple[TuneBar, ...]
    left_out: frozenset[str] = frozenset()
