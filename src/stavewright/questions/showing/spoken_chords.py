"""A passage in several parts for a listener: what sounds together, moment after moment."""

from __future__ import annotations

from stavewright.questions.showing.two_notes import spoken_signature
from stavewright.score.moments import Moment, moments
from stavewright.score.stave import Score
from stavewright.theory.accidental import sign_text

_STAVES = {1: "One stave", 2: "Two staves", 3: "Three staves", 4: "Four staves"}


def spoken_chords(score: Score) -> str:
    """Staves and signature, then every chord from its lowest note up with the printed signs, then the brackets.

    >>> from stavewright.score.event import Chord
    >>> from stavewright.score.stave import single
    >>> from stavewright.theory.duration import Duration
    >>> from stavewright.theory.pitch import Pitch
    >>> spoken_chords(single("bass", (Chord((Pitch("C", 0, 3), Pitch("E", 0, 3)), Duration("minim")),), 0))
    'One stave, bass, with a key signature of no sharps or flats. Chord 1: C 3, E 3.'
    """
    clefs = " and ".join(stave.clef for stave in score.staves)
    count = _STAVES.get(len(score.staves), "Staves")
    said = [f"{count}, {clefs}, with {spoken_signature(score.staves[0].fifths) or 'no key signature'}"]
    heard = moments(score)
    said += [f"Chord {number}: {_notes(moment)}" for number, moment in enumerate(heard, 1)]
    for bracket in score.brackets:
        if bracket.label:
            first, last = (_number(heard, end) for end in (bracket.first, bracket.last))
            said.append(f"Bracket {bracket.label}: chords {first} to {last}")
    return ". ".join(said) + "."


def _notes(moment: Moment) -> str:
    printed = [
        (pitch, sign) for event in moment.events for pitch, sign in zip(event.pitches, event.accidentals, strict=True)
    ]
    printed.sort(key=lambda one: (one[0].diatonic, one[0].midi))
    return ", ".join(f"{p.step}{f' {sign_text(sign)}' if sign else ''} {p.octave}" for p, sign in printed)


def _number(heard: tuple[Moment, ...], end: str) -> int:
    return next((n for n, moment in enumerate(heard, 1) if any(event.id == end for event in moment.events)), 1)
