"""A melody as a collection gives it: bars one after another, with what is in force in each."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

from stavewright.score.stave import Bar
from stavewright.theory.metre import TimeSignature

__all__ = ["LineBar", "Tune", "TuneBar"]


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
