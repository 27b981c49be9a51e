"""A stave that shows a key signature, the customary one or one drawn sign by sign."""

from __future__ import annotations

from stavewright.questions.values import Value
from stavewright.score.event import Gap
from stavewright.score.stave import Bar, Score, Stave
from stavewright.theory.accidental import SIGNS
from stavewright.theory.duration import Duration
from stavewright.theory.pitch import Pitch


def signature_stave(clef: str, fifths: int | None = None, signs: tuple[Pitch, ...] = (), gap: str = "") -> Score:
    """A stave with its clef and a signature, and room behind it; `gap` names the room where the pupil writes.

    >>> signature_stave("bass", 2).staves[0].fifths
    2
    """
    room = Bar(((Gap(Duration("semibreve"), id=gap),),), line="none", free=True)
    return Score((Stave(clef, (room,), fifths=fifths, signs=signs),))


def drawn_signature(clef: str, value: Value) -> Score:
    """The signature that an answer wrote, each sign on its own line or space; a note without a sign shows a natural.

    >>> from stavewright.questions.values import WrittenNote
    >>> score = drawn_signature("treble", Value(notes=(WrittenNote("F", octave=4, accidental="sharp"),)))
    >>> [sign.short for sign in score.staves[0].signs]
    ['F#4']
    """
    signs = tuple(Pitch(n.step, SIGNS.get(n.accidental or "natural", 0), n.octave) for n in value.notes or ())
    return signature_stave(clef, signs=signs)
