"""Checks on written music: bars add up, signs say what the pitches mean, ids are unique."""

from __future__ import annotations

from stavewright.score.errors import BadScore
from stavewright.score.event import Chord, Note, Rest
from stavewright.score.stave import Score, Stave
from stavewright.theory import key
from stavewright.theory.accidental import SIGNS
from stavewright.theory.metre import TimeSignature
from stavewright.theory.pitch import Pitch


def signature_alter(step: str, fifths: int) -> int:
    """What a key signature of `fifths` (sharps +, flats -) does to a letter, in semitones.

    >>> signature_alter("F", 1), signature_alter("B", -1), signature_alter("C", 1)
    (1, -1, 0)
    """
    return key.signature_alter(fifths, step)


def faults(score: Score) -> list[str]:
    """Every fault of notation in a score, in words; an empty list when the music is well written.

    Source of the rules: an accidental lasts to the bar line at its own line or space and a tie carries it over
    (Gehrkens, Music Notation and Terminology, 1914, §24-25); a bar holds what its time signature says (§96).
    """
    found: list[str] = []
    ids = [event.id for event in score.events() if event.id]
    for repeated in sorted({one for one in ids if ids.count(one) > 1}):
        found.append(f"the id {repeated!r} stands twice")
    for bracket in score.brackets:
        for end in (bracket.first, bracket.last):
            if end not in ids:
                found.append(f"a bracket names {end!r}, which no event has")
    for number, stave in enumerate(score.staves, 1):
        found += [f"stave {number}, {fault}" for fault in _lengths(stave)]
        found += [f"stave {number}, {fault}" for fault in _signs(stave)]
    return found


def check(score: Score) -> Score:
    """Return the score when it is well written.

    Raises:
        BadScore: with all faults at once.
    """
    found = faults(score)
    if found:
        raise BadScore("; ".join(found))
    return score


def _lengths(stave: Stave) -> list[str]:
    found: list[str] = []
    time: TimeSignature | None = stave.time
    for index, bar in enumerate(stave.bars, 1):
        time = bar.time or time
        if bar.free or time is None:
            continue
        for voice in bar.voices:
            whole = len(voice) == 1 and isinstance(voice[0], Rest) and voice[0].whole_bar
            total = sum(event.ticks for event in voice)
            if total != time.ticks and not whole:
                found.append(f"bar {index} holds {total} ticks, {time.text} asks for {time.ticks}")
    return found


def _signs(stave: Stave) -> list[str]:
    found: list[str] = []
    fifths = stave.fifths or 0
    ties: dict[int, dict[tuple[str, int], int]] = {}
    for index, bar in enumerate(stave.bars, 1):
        fifths = fifths if bar.fifths is None else bar.fifths
        force: dict[tuple[str, int], int] = {}
        for number, voice in enumerate(bar.voices):
            for event in voice:
                if not isinstance(event, Note | Chord):
                    ties.pop(number, None)
                    continue
                tied = ties.get(number, {})
                for pitch, sign in zip(event.pitches, event.accidentals, strict=True):
                    place = (pitch.step, pitch.octave)
                    if sign is not None:
                        force[place] = read = SIGNS[sign]
                    elif place in tied:
                        read = tied[place]
                    else:
                        read = force.get(place, signature_alter(pitch.step, fifths))
                    if read != pitch.alter:
                        reads = Pitch(pitch.step, read, pitch.octave).short
                        found.append(f"bar {index}: {pitch.short} is written so that it reads {reads}")
                if not (isinstance(event, Note) and event.grace):
                    ties[number] = {(p.step, p.octave): p.alter for p in event.pitches} if event.tie else {}
    return found
