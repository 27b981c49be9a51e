"""What a reader found in a document: bars that were understood, and for each other bar the reason why not."""

from __future__ import annotations

from dataclasses import dataclass

from stavewright.score.stave import Bar
from stavewright.theory.metre import TimeSignature

__all__ = ["ReadBar", "ReadStave", "Reading"]


@dataclass(frozen=True, slots=True)
class ReadBar:
    """One bar as read, with the clef, signature (fifths) and time in force in it.

    ``bar`` is None when something in it was not understood; ``reason`` then says what. ``clef`` may be one with an
    octave sign ("treble an octave lower"), which a `Score` has no place for.
    """

    number: str
    bar: Bar | None
    clef: str | None
    fifths: int | None
    time: TimeSignature | None
    reason: str = ""


@dataclass(frozen=True, slots=True)
class ReadStave:
    """One stave as read, bar by bar, and whether its first clef is printed."""

    name: str
    bars: tuple[ReadBar, ...]
    show_clef: bool = True


@dataclass(frozen=True, slots=True)
class Reading:
    """A whole document as read; ``left_out`` names what was seen and not kept (fingering, chord symbols...)."""

    title: str
    composer: str
    rights: str
    staves: tuple[ReadStave, ...]
    join: str = "none"
    numbered: bool = False
    brackets: tuple[tuple[str, str, str], ...] = ()
    left_out: tuple[str, ...] = ()
    exact_signs: bool = False
