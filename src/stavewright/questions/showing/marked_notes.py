"""Printing the note that a question points out, and naming it in a sentence."""

from __future__ import annotations

from dataclasses import replace

from stavewright.questions.documents import Block, StaveBlock
from stavewright.questions.marked import MarkedNote
from stavewright.questions.score_mirror import document_of, pitches_of
from stavewright.questions.showing.extract import extract_blocks, spoken_extract
from stavewright.questions.wording import Wording
from stavewright.score.check import signature_alter
from stavewright.score.event import Note
from stavewright.score.stave import single
from stavewright.score.writing import row_of
from stavewright.theory.accidental import sign_name
from stavewright.theory.interval import ordinal

MARK = "X"


def marked_blocks(place: MarkedNote, wording: Wording) -> tuple[Block, ...]:
    """The row with its mark, or the extract."""
    if place.extract is not None:
        return extract_blocks(place.extract, wording, block=place.block)
    labels = [MARK if index == place.marked else None for index in range(len(place.row))]
    row = tuple(_signed(note, place.fifths) for note in row_of(pitches_of(place.row), "semibreve", labels))
    score = single(place.clef, row, place.fifths)
    number = ordinal(place.marked + 1)
    alt = f"{spoken_extract(score)} The {number} note is marked."
    return (StaveBlock(document_of(score), wording.say(alt)),)


def _signed(note: Note, fifths: int) -> Note:
    """A note with its sign wherever the signature does not give it: a row of bare notes leaves nothing to remember."""
    given = signature_alter(note.pitch.step, fifths)
    return note if note.pitch.alter == given else replace(note, accidental=sign_name(note.pitch.alter))


def marked_words(place: MarkedNote) -> str:
    """How the sentence names the note: "the marked note", "the 2nd note of bar 3"."""
    if place.extract is None:
        return f"the note marked {MARK}"
    return f"the {ordinal(place.note)} note of bar {place.bar}"
