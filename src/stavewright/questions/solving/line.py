"""An extract read note by note: the bar of each note, its number in the bar, when it begins, how long it sounds."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache

from stavewright.questions.score_document import ScoreDocument
from stavewright.questions.score_mirror import score_of
from stavewright.questions.values import Place
from stavewright.score.event import Chord, Gap, Note, Rest
from stavewright.score.stave import Bar
from stavewright.theory.metre import TimeSignature
from stavewright.theory.pitch import Pitch


@dataclass(frozen=True, slots=True)
class Sung:
    """One note of the top stave as it is heard.

    `begin` is in ticks from the start of its bar; `ticks` is what is written, `sounding` adds the notes tied on to it.
    `held` says that a tie leads into it; `after_rest` that silence or the start of the bar stands before it.
    """

    bar: int
    number: int
    begin: int
    ticks: int
    sounding: int
    pitch: Pitch
    note: Note | Chord
    held: bool
    after_rest: bool

    @property
    def place(self) -> Place:
        """Where it stands: bar and number of the note in it."""
        return Place(self.bar, self.number)


@dataclass(frozen=True, slots=True)
class SungBar:
    """One bar of the top stave: its printed number (0 an upbeat), its metre, its notes, and the bar as printed."""

    number: int
    time: TimeSignature | None
    notes: tuple[Sung, ...]
    bar: Bar

    @property
    def struck(self) -> tuple[Sung, ...]:
        """The notes that begin in the bar; one held over from before is left out."""
        return tuple(note for note in self.notes if not note.held)


@lru_cache(maxsize=64)
def line_of(extract: ScoreDocument) -> tuple[SungBar, ...]:
    """The top stave of an extract, bar by bar (of a chord the highest note, as a listener hears it)."""
    score = score_of(extract)
    stave = score.staves[0]
    time = stave.time
    bars: list[SungBar] = []
    tied = False
    for index, bar in enumerate(stave.bars):
        time = bar.time or time
        begin = _pickup(bar, time) if score.bar_number(index) == 0 else 0
        notes: list[Sung] = []
        silent = True
        for event in bar.events:
            if isinstance(event, Note | Chord) and event.ticks:
                number = len(notes) + 1
                ticks = event.ticks
                pitch = event.pitches[-1]
                notes.append(Sung(score.bar_number(index), number, begin, ticks, ticks, pitch, event, tied, silent))
                tied, silent = event.tie, False
            elif isinstance(event, Rest | Gap):
                tied, silent = False, True
            begin += event.ticks
        bars.append(SungBar(score.bar_number(index), time, tuple(notes), bar))
    return _with_ties(bars)


def _pickup(bar: Bar, time: TimeSignature | None) -> int:
    """Where an upbeat begins: it is the end of a whole bar."""
    length = sum(event.ticks for event in bar.events)
    return max(0, time.ticks - length) if time is not None else 0


def _with_ties(bars: list[SungBar]) -> tuple[SungBar, ...]:
    """Give each note the length of all that are tied on to it."""
    length = 0
    finished: list[SungBar] = []
    for bar in reversed(bars):
        notes: list[Sung] = []
        for note in reversed(bar.notes):
            sounding = note.ticks + (length if note.note.tie else 0)
            notes.append(replace(note, sounding=sounding))
            length = sounding if note.held else 0
        finished.append(replace(bar, notes=tuple(reversed(notes))))
    return tuple(reversed(finished))
