"""What the use cases need from the edges; `wiring` picks who fills it."""

from __future__ import annotations

from typing import Protocol

from stavewright.score.stave import Score


class WriteMusic(Protocol):
    """Writes a score as a whole MusicXML 4.0 document."""

    def __call__(self, score: Score, /) -> str:
        """The document."""
        ...


class Progress(Protocol):
    """Hears how much of a long piece of work is done."""

    def __call__(self, done: int, of: int, /) -> None:
        """So many of so many."""
        ...


def silent(done: int, of: int, /) -> None:
    """Tell nobody."""
