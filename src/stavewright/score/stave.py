"""Bars, staves and whole scores."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from stavewright.score.errors import BadScore
from stavewright.score.event import Chord, Event, Note
from stavewright.theory.clef import CLEFS
from stavewright.theory.metre import TimeSignature
from stavewright.theory.pitch import Pitch

BAR_LINES = ("single", "double", "final", "repeat-end", "none")
DIRECTIONS = (
    "tempo",
    "dynamic",
    "text",
    "crescendo",
    "diminuendo",
    "segno",
    "coda",
    "fine",
    "da-capo",
    "dal-segno",
    "octave-up",
)


@dataclass(frozen=True, slots=True)
class Direction:
    """A word or sign for the player, placed at the event with index `at` of the first voice.

    `tempo` and `text` print `text`; `dynamic` prints letters such as "mf"; the two hairpins run from `at` to
    `until` (an event index of the same bar, or of the bar `until_bar` bars on).
    """

    kind: str
    at: int = 0
    text: str = ""
    until: int | None = None
    until_bar: int = 0
    above: bool = False

    def __post_init__(self) -> None:
        if self.kind not in DIRECTIONS:
            raise BadScore(f"direction {self.kind!r} is not one of {', '.join(DIRECTIONS)}")


@dataclass(frozen=True, slots=True)
class Bar:
    """One bar: one or two voices of events, its right bar line, and what changes at its start.

    `free` bars need not add up: rows of bare notes, an anacrusis, a last bar that is short by it, a faulty bar.
    """

    voices: tuple[tuple[Event, ...], ...]
    line: str = "single"
    repeat_start: bool = False
    time: TimeSignature | None = None
    fifths: int | None = None
    clef: str | None = None
    directions: tuple[Direction, ...] = ()
    free: bool = False
    ending: int | None = None

    def __post_init__(self) -> None:
        if not self.voices:
            raise BadScore("a bar needs at least one voice")
        if self.line not in BAR_LINES:
            raise BadScore(f"bar line {self.line!r} is not one of {', '.join(BAR_LINES)}")

    @property
    def events(self) -> tuple[Event, ...]:
        """The first voice."""
        return self.voices[0]


@dataclass(frozen=True, slots=True)
class Bracket:
    """A bracket over the notes from one id to another, with the letter or number printed on it."""

    first: str
    last: str
    label: str = ""


@dataclass(frozen=True, slots=True)
class Stave:
    """Five lines with a clef, a signature (fifths; None prints none), a time signature and its bars.

    `numbered` prints bar numbers. `show_clef` False leaves the clef to the pupil. `signs` is a signature drawn sign by
    sign in the place of the customary one: a pupil's own, or one with a fault; it says nothing about the notes.
    """

    clef: str
    bars: tuple[Bar, ...]
    fifths: int | None = None
    time: TimeSignature | None = None
    name: str = ""
    show_clef: bool = True
    signs: tuple[Pitch, ...] = ()

    def __post_init__(self) -> None:
        if self.clef not in CLEFS:
            raise BadScore(f"clef {self.clef!r} is not one of {', '.join(CLEFS)}")
        if not self.bars:
            raise BadScore("a stave needs at least one bar")


@dataclass(frozen=True, slots=True)
class Score:
    """One stave or several read together, with brackets drawn over notes.

    `join` is "none", "brace" (keyboard) or "bracket" (voices, players). `numbered` prints bar numbers from the first
    whole bar; `anacrusis` says that the first bar is a pick-up and is not counted.

    >>> from stavewright.theory.duration import Duration
    >>> from stavewright.theory.pitch import Pitch
    >>> score = single("treble", (Note(Pitch("G", 0, 4), Duration("semibreve")),))
    >>> [note.pitch.short for note in score.notes()]
    ['G4']
    """

    staves: tuple[Stave, ...]
    join: str = "none"
    brackets: tuple[Bracket, ...] = ()
    numbered: bool = False
    anacrusis: bool = False

    def __post_init__(self) -> None:
        if not self.staves:
            raise BadScore("a score needs at least one stave")
        if len({len(stave.bars) for stave in self.staves}) != 1:
            raise BadScore("all staves of a score need the same number of bars")

    def events(self) -> Iterator[Event]:
        """Every event, stave by stave, bar by bar, voice by voice."""
        for stave in self.staves:
            for bar in stave.bars:
                for voice in bar.voices:
                    yield from voice

    def notes(self) -> Iterator[Note]:
        """Every single note (chords and rests left out), in the order of `events`."""
        return (event for event in self.events() if isinstance(event, Note))

    def sounding(self) -> Iterator[Note | Chord]:
        """Every note and chord, in the order of `events`."""
        return (event for event in self.events() if isinstance(event, Note | Chord))

    def bar_number(self, index: int) -> int:
        """The printed number of the bar at `index`: a pick-up is not counted, so the first whole bar is 1."""
        return index if self.anacrusis else index + 1


def single(clef: str, events: tuple[Event, ...], fifths: int | None = None, line: str = "none") -> Score:
    """A single free bar on one stave: a row of notes with no metre.

    Raises:
        BadScore: an unknown clef or bar line.
    """
    return Score((Stave(clef, (Bar((events,), line=line, free=True),), fifths=fifths),))
