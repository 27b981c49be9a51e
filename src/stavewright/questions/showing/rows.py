"""Rows of notes or values as scores: what an answer looks like, and empty rows to write on."""

from __future__ import annotations

from collections.abc import Iterable

from stavewright.questions.values import Value
from stavewright.score.check import signature_alter
from stavewright.score.event import ACCIDENTALS, Event, Gap, Note, Rest
from stavewright.score.stave import Score, single
from stavewright.theory.accidental import sign_alter
from stavewright.theory.clef import CLEFS
from stavewright.theory.duration import TICKS, Duration, Tuplet
from stavewright.theory.errors import StavewrightError
from stavewright.theory.pitch import Pitch

_MIDDLE = Pitch("B", 0, 4)


def note_row(value: Value, clef: str, fifths: int | None = None, usual: str = "semibreve") -> Score:
    """Draw written notes as a row on one stave, right or wrong alike.

    A clef, sign or note value that does not exist is left out or replaced by `clef` and `usual`: a pupil's answer is
    drawn as far as it can be read.

    >>> from stavewright.questions.values import WrittenNote
    >>> row = note_row(Value(notes=(WrittenNote("F", octave=4, accidental="sharp"),)), "treble")
    >>> [note.pitch.short for note in row.notes()]
    ['F#4']
    """
    force: dict[tuple[str, int], int] = {}
    signature = fifths if value.signature is None else value.signature
    events: list[Event] = []
    for number, note in enumerate(value.notes or (), 1):
        place = (note.step, note.octave)
        sign = note.accidental if note.accidental in ACCIDENTALS else None
        if sign is not None:
            force[place] = sign_alter(sign)
        alter = force.get(place, signature_alter(note.step, signature or 0))
        kind = note.type if note.type in TICKS else usual
        events.append(Note(Pitch(note.step, alter, note.octave), Duration(kind, note.dots), f"n{number}", sign))
    shown = value.clef if value.clef in CLEFS else clef
    return single(shown, tuple(events) or (Gap(Duration(usual), "n1"),), signature)


def empty_row(clef: str, count: int, fifths: int | None = None, value: str = "semibreve") -> Score:
    """An empty row to write on: so many gaps, with ids g1, g2, ...

    >>> [gap.id for gap in empty_row("bass", 2).events()]
    ['g1', 'g2']
    """
    return single(clef, tuple(Gap(Duration(value), f"g{i}") for i in range(1, count + 1)), fifths)


def with_gaps(row: Score, places: Iterable[int], value: str = "semibreve") -> Score:
    """A row with the notes at some places (from 0) left out: gaps g1, g2, ... stand there.

    >>> row = note_row(Value(notes=()), "bass")
    >>> [event.id for event in with_gaps(row, (0,)).events()]
    ['g1']
    """
    events: list[Event] = list(row.events())
    for number, place in enumerate(places, 1):
        events[place] = Gap(Duration(value), f"g{number}")
    stave = row.staves[0]
    return single(stave.clef, tuple(events), stave.fifths)


def value_row(value: Value) -> Score:
    """Draw written values as a row of notes and rests on the middle line, right or wrong alike.

    >>> from stavewright.questions.values import WrittenValue
    >>> [event.duration.text for event in value_row(Value(rhythm=(WrittenValue("minim", 1),))).events()]
    ['dotted minim']
    """
    events: list[Event] = []
    for number, one in enumerate(value.rhythm or (), 1):
        tuplet = None
        if one.tuplet is not None:
            try:
                tuplet = Tuplet(one.tuplet.actual, one.tuplet.normal)
            except StavewrightError:
                tuplet = None
        length = Duration(one.type if one.type in TICKS else "crotchet", one.dots, tuplet)
        if one.rest:
            events.append(Rest(length, f"n{number}"))
        else:
            events.append(Note(_MIDDLE, length, f"n{number}", tie=one.tie and number < len(value.rhythm or ())))
    return single("treble", tuple(events) or (Gap(Duration("crotchet"), "n1"),))
