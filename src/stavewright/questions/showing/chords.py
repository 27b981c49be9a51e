"""Chords on one stave or on a great stave, and how they are described to a listener."""

from __future__ import annotations

from collections.abc import Sequence

from stavewright.questions.documents import StaveBlock
from stavewright.questions.score_mirror import document_of
from stavewright.questions.showing.two_notes import spoken_notes, spoken_signature
from stavewright.questions.values import Value
from stavewright.score.check import signature_alter
from stavewright.score.event import ACCIDENTALS, Chord, Gap
from stavewright.score.stave import Bar, Score, Stave, single
from stavewright.score.writing import with_accidentals
from stavewright.theory.accidental import sign_alter
from stavewright.theory.clef import CLEFS
from stavewright.theory.duration import Duration
from stavewright.theory.pitch import STEPS, Pitch

_LONG = Duration("semibreve")


def chord_stave(clef: str, pitches: Sequence[Pitch], fifths: int | None = None) -> Score:
    """One chord of semibreves, event n1, with the signs it needs.

    >>> [event.accidentals for event in chord_stave("bass", [Pitch("D", 0, 3), Pitch("F", 1, 3)]).sounding()]
    [(None, 'sharp')]
    """
    return with_accidentals(single(clef, (Chord(tuple(pitches), _LONG, id="n1"),), fifths))


def great_stave(upper: Sequence[Pitch], lower: Sequence[Pitch], fifths: int | None = None) -> Score:
    """One chord over two braced staves, treble (event n1) and bass (event n2)."""
    staves = tuple(
        Stave(clef, (Bar(((Chord(tuple(notes), _LONG, id=name),),), line="none", free=True),), fifths=fifths)
        for clef, notes, name in (("treble", upper, "n1"), ("bass", lower, "n2"))
    )
    return with_accidentals(Score(staves, join="brace"))


def written_chord(value: Value, clef: str, fifths: int | None = None) -> Score:
    """Draw the notes of an answer as one chord, lowest first, right or wrong alike; a sign that is none is left out.

    >>> from stavewright.questions.values import WrittenNote
    >>> drawn = written_chord(Value(notes=(WrittenNote("A", octave=4), WrittenNote("F", octave=4))), "treble")
    >>> [pitch.short for event in drawn.sounding() for pitch in event.pitches]
    ['F4', 'A4']
    """
    signature = fifths if value.signature is None else value.signature
    force: dict[tuple[str, int], int] = {}
    pitches: list[Pitch] = []
    signs: list[str | None] = []
    for note in sorted(value.notes or (), key=lambda one: (one.octave, STEPS.index(one.step)))[:12]:
        place = (note.step, note.octave)
        sign = note.accidental if note.accidental in ACCIDENTALS else None
        if sign is not None:
            force[place] = sign_alter(sign)
        pitches.append(Pitch(note.step, force.get(place, signature_alter(note.step, signature or 0)), note.octave))
        signs.append(sign)
    shown = value.clef if value.clef in CLEFS else clef
    if not pitches:
        return single(shown, (Gap(_LONG, "n1"),), signature)
    return single(shown, (Chord(tuple(pitches), _LONG, id="n1", accidentals=tuple(signs)),), signature)


def chord_block(score: Score) -> StaveBlock:
    """The picture of a chord; the text alternative says just what is printed, stave by stave."""
    said: list[str] = []
    for stave in score.staves:
        signature = spoken_signature(stave.fifths)
        notes = spoken_notes(Score((stave,)))
        said.append(f"{stave.clef.capitalize()} clef{f' with {signature}' if signature else ''}: {notes}.")
    return StaveBlock(document_of(score), " ".join(said))
