"""What was written into the gaps of a printed score, drawn where the gaps stood, right or wrong alike."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from stavewright.questions.values import WrittenNote
from stavewright.score.check import signature_alter
from stavewright.score.event import ACCIDENTALS, Chord, Event, Gap, Note
from stavewright.score.stave import Bar, Score, Stave
from stavewright.theory.accidental import sign_alter
from stavewright.theory.pitch import Pitch


def filled(score: Score, notes: Sequence[WrittenNote]) -> Score:
    """Put notes into the gaps in reading order (stave by stave, bar by bar, voice by voice), with their gap's value.

    Printed notes keep their signs and are read under what was written before them. Gaps that got nothing stay; notes
    that find no gap are left out, and so is a sign that is none.

    >>> from stavewright.score.stave import single
    >>> from stavewright.theory.duration import Duration
    >>> row = single("treble", (Gap(Duration("minim"), "g1"), Gap(Duration("minim"), "g2")), fifths=1)
    >>> [note.pitch.short for note in filled(row, [WrittenNote("F", octave=4)]).notes()]
    ['F#4']
    """
    given = iter(notes)
    return replace(score, staves=tuple(_stave(stave, given) for stave in score.staves))


def _stave(stave: Stave, given: Iterator[WrittenNote]) -> Stave:
    bars: list[Bar] = []
    for bar in stave.bars:
        force: dict[tuple[str, int], int] = {}
        voices = tuple(tuple(_event(event, given, force, stave.fifths or 0) for event in voice) for voice in bar.voices)
        bars.append(replace(bar, voices=voices))
    return replace(stave, bars=tuple(bars))


def _event(event: Event, given: Iterator[WrittenNote], force: dict[tuple[str, int], int], fifths: int) -> Event:
    if isinstance(event, Note | Chord):
        read = tuple(
            _read(pitch, sign, force, fifths) for pitch, sign in zip(event.pitches, event.accidentals, strict=True)
        )
        return replace(event, pitch=read[0]) if isinstance(event, Note) else replace(event, pitches=read)
    new = next(given, None) if isinstance(event, Gap) else None
    if new is None:
        return event
    sign = new.accidental if new.accidental in ACCIDENTALS else None
    pitch = _read(Pitch(new.step, 0, new.octave), sign, force, fifths)
    return Note(pitch, event.duration, event.id, sign, label=event.label)


def _read(pitch: Pitch, sign: str | None, force: dict[tuple[str, int], int], fifths: int) -> Pitch:
    place = (pitch.step, pitch.octave)
    if sign is not None:
        force[place] = sign_alter(sign)
    return Pitch(pitch.step, force.get(place, signature_alter(pitch.step, fifths)), pitch.octave)
