"""A melody to be written anew: its empty stave, and the stave with what an answer wrote on it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from stavewright.questions.showing.rows import note_row
from stavewright.questions.values import Value, WrittenNote
from stavewright.score.check import signature_alter
from stavewright.score.event import ACCIDENTALS, Event, Gap, Note
from stavewright.score.stave import Bar, Score
from stavewright.theory.accidental import sign_alter
from stavewright.theory.clef import CLEFS
from stavewright.theory.duration import TICKS, Duration
from stavewright.theory.pitch import Pitch


def empty_melody(score: Score, fifths: int | None = None) -> Score:
    """The same bars and rests with a gap g1, g2, ... for every note, under the signature given.

    >>> from stavewright.score.stave import Bar, Stave
    >>> row = (Note(Pitch("D", 0, 5), Duration("minim")), Note(Pitch("E", 0, 5), Duration("minim")))
    >>> [event.id for event in empty_melody(Score((Stave("treble", (Bar((row,)),)),))).events()]
    ['g1', 'g2']
    """
    count = 0
    bars: list[Bar] = []
    for bar in score.staves[0].bars:
        row: list[Event] = []
        for event in bar.events:
            if isinstance(event, Note):
                count += 1
                row.append(Gap(event.duration, f"g{count}"))
            else:
                row.append(replace(event, id=""))
        bars.append(replace(bar, voices=(tuple(row),), directions=()))
    return replace(score, staves=(replace(score.staves[0], bars=tuple(bars), fifths=fifths),), brackets=())


def written_melody(score: Score, value: Value, fifths: int | None = None) -> Score:
    """Draw an answer in the bars of the melody it rewrites, right or wrong alike.

    An answer with more or fewer notes than the melody is drawn as a bare row.
    """
    stave = score.staves[0]
    notes = value.notes or ()
    if len(notes) != sum(isinstance(event, Note) for event in score.events()):
        return note_row(value, stave.clef, fifths)
    signature = fifths if value.signature is None else value.signature
    given = iter(notes)
    bars: list[Bar] = []
    held: Note | None = None
    for bar in stave.bars:
        force: dict[tuple[str, int], int] = {}
        row: list[Event] = []
        for event in bar.events:
            if isinstance(event, Note):
                held = _drawn(event, next(given), held, force, signature or 0)
                row.append(held)
            else:
                row.append(replace(event, id=""))
                held = None
        kept = sum(event.ticks for event in row) == sum(event.ticks for event in bar.events)
        bars.append(replace(bar, voices=(tuple(row),), free=bar.free or not kept, directions=()))
    clef = value.clef if value.clef in CLEFS else stave.clef
    drawn = replace(stave, clef=clef, bars=tuple(_tied(bars)), fifths=signature)
    return replace(score, staves=(drawn,), brackets=())


def _drawn(old: Note, new: WrittenNote, held: Note | None, force: dict[tuple[str, int], int], fifths: int) -> Note:
    place = (new.step, new.octave)
    sign = new.accidental if new.accidental in ACCIDENTALS else None
    tied = held is not None and held.tie and (held.pitch.step, held.pitch.octave) == place
    if sign is not None:
        alter = force[place] = sign_alter(sign)
    elif tied and held is not None:
        alter = held.pitch.alter
    else:
        alter = force.get(place, signature_alter(new.step, fifths))
    same = (new.type, new.dots) == (old.duration.type, old.duration.dots) or new.type not in TICKS
    duration = old.duration if same else Duration(new.type or "crotchet", new.dots)
    beam = old.beam if same else None
    return Note(Pitch(new.step, alter, new.octave), duration, old.id, sign, old.tie, beam)


def _tied(bars: list[Bar]) -> Iterator[Bar]:
    """Leave out every tie that does not lead to the same line or space, or leads to a new sign."""
    row = [event for bar in bars for event in bar.events]
    loose = {
        event.id
        for event, after in zip(row, [*row[1:], None], strict=True)
        if isinstance(event, Note)
        and event.tie
        and not (
            isinstance(after, Note)
            and after.accidental is None
            and (after.pitch.step, after.pitch.octave) == (event.pitch.step, event.pitch.octave)
        )
    }
    for bar in bars:
        row = [replace(one, tie=False) if isinstance(one, Note) and one.id in loose else one for one in bar.events]
        yield replace(bar, voices=(tuple(row),))
