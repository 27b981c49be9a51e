"""An extract laid out flat for the setter: one row of notes on one line of time, with what stands around them."""

from __future__ import annotations

from dataclasses import dataclass, field

from stavewright.score.event import Chord, Note
from stavewright.score.stave import Direction, Score
from stavewright.theory.metre import TimeSignature


@dataclass(slots=True)
class Flat:
    """One written note: bar and number in it, when it begins from the start of the extract, and how it is written.

    `joined` says that it goes on from a tied note before; `follows` that the note before it in the bar touches it.
    """

    bar: int
    number: int
    at: int
    length: int
    midi: int
    steps: int
    value: str
    group: int
    sign: bool
    marks: tuple[str, ...]
    joined: bool
    tied: bool
    follows: bool
    name: str = ""


@dataclass(slots=True)
class FlatBar:
    """One bar on the line of time: where it begins, its metre, its rests, its directions."""

    number: int
    at: int
    time: TimeSignature
    pattern: tuple[str, ...]
    rests: int
    directions: tuple[Direction, ...]
    notes: list[Flat] = field(default_factory=list)


def flatten(score: Score) -> list[FlatBar] | None:
    """The single stave of a score laid out flat; None where it has more staves, voices, chords or grace notes."""
    if len(score.staves) != 1 or score.staves[0].time is None:
        return None
    stave = score.staves[0]
    clock, found, tied = 0, [], False
    time = stave.time
    if time is None:
        return None
    for index, bar in enumerate(stave.bars):
        time = bar.time or time
        number = score.bar_number(index)
        length = sum(event.ticks for event in bar.events)
        start = clock - (time.ticks - length) if number == 0 else clock
        written = FlatBar(number, start, time, (), 0, bar.directions)
        pattern: list[str] = []
        touching = False
        for event in bar.events:
            if isinstance(event, Chord) or len(bar.voices) > 1 or getattr(event, "grace", None):
                return None
            group = event.duration.tuplet.actual if event.duration.tuplet else 0
            if isinstance(event, Note):
                written.notes.append(
                    Flat(
                        number,
                        len(written.notes) + 1,
                        clock,
                        event.ticks,
                        event.pitch.midi,
                        event.pitch.diatonic,
                        event.duration.text,
                        group,
                        event.accidental is not None,
                        event.marks,
                        tied,
                        event.tie,
                        touching,
                        event.pitch.name.text,
                    )
                )
                tied, touching = event.tie, True
                pattern.append(f"{event.duration.text}/{group}")
            else:
                tied, touching = False, False
                written.rests += 1
                pattern.append(f"rest {event.duration.text}/{group}")
            clock += event.ticks
        written.pattern = tuple(pattern)
        found.append(written)
    return found


def sung(bars: list[FlatBar]) -> list[Flat]:
    """The notes as they are heard: each run of tied notes once, with its whole length."""
    heard: list[Flat] = []
    for bar in bars:
        for note in bar.notes:
            if note.joined and heard:
                heard[-1].length += note.length
            else:
                heard.append(
                    Flat(
                        note.bar, note.number, note.at, note.length, note.midi, note.steps, note.value, note.group,
                        note.sign, note.marks, False, note.tied, note.follows, note.name,
                    )
                )  # fmt: skip
    return heard
