"""Two notes on one stave, together or one after the other, and how they are described to a listener."""

from __future__ import annotations

from stavewright.questions.documents import StaveBlock
from stavewright.questions.score_mirror import document_of
from stavewright.score.event import Chord, Note
from stavewright.score.stave import Score, single
from stavewright.score.writing import with_accidentals
from stavewright.theory.accidental import sign_text
from stavewright.theory.duration import Duration
from stavewright.theory.key import signature_signs, signature_text
from stavewright.theory.pitch import Pitch


def two_notes(clef: str, first: Pitch, second: Pitch, *, together: bool, fifths: int | None = None) -> Score:
    """Two semibreves with the signs they need; one event n1 when they sound together, else n1 and n2.

    >>> [e.id for e in two_notes("alto", Pitch("C", 0, 4), Pitch("E", -1, 4), together=False).events()]
    ['n1', 'n2']
    """
    long = Duration("semibreve")
    if together:
        low, high = (first, second) if first.diatonic <= second.diatonic else (second, first)
        return with_accidentals(single(clef, (Chord((low, high), long, id="n1"),), fifths))
    return with_accidentals(single(clef, (Note(first, long, id="n1"), Note(second, long, id="n2")), fifths))


def spoken_signature(fifths: int | None) -> str:
    """A printed signature for a listener: ``"a key signature of 2 sharps, F and C"``; nothing where none is printed.

    >>> spoken_signature(-1)
    'a key signature of 1 flat, B'
    """
    if fifths is None:
        return ""
    letters = [sign.step for sign in signature_signs(fifths)]
    named = f", {' '.join(letters)}" if letters else ""
    return f"a key signature of {signature_text(fifths)}{named}"


def spoken_notes(score: Score) -> str:
    """The notes of a stave as they are written, letter, printed sign and octave: ``"B flat 4, D 5"``.

    >>> spoken_notes(two_notes("treble", Pitch("B", -1, 4), Pitch("D", 0, 5), together=True))
    'B flat 4 and D 5 together'
    """
    said: list[str] = []
    for event in score.sounding():
        notes = [
            f"{pitch.step}{f' {sign_text(sign)}' if sign else ''} {pitch.octave}"
            for pitch, sign in zip(event.pitches, event.accidentals, strict=True)
        ]
        together = f"{', '.join(notes[:-1])} and {notes[-1]} together" if len(notes) > 1 else notes[0]
        said.append(together)
    return ", then ".join(said)


def notes_block(score: Score, id: str = "") -> StaveBlock:
    """The picture of a short row of notes; the text alternative says just what is printed."""
    stave = score.staves[0]
    signature = spoken_signature(stave.fifths)
    alt = f"{stave.clef.capitalize()} clef{f' with {signature}' if signature else ''}: {spoken_notes(score)}."
    return StaveBlock(document_of(score), alt, id)
