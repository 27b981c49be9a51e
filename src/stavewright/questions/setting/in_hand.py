"""The extract a question is about: the one that is shared, or a melody of its own."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

from stavewright.questions.melodies import Extract, Melodies, Stimulus
from stavewright.questions.score_document import ScoreDocument
from stavewright.questions.score_mirror import document_of
from stavewright.syllabus.scope import Scope


@dataclass(frozen=True, slots=True)
class InHand:
    """An extract, its document, the block it is printed under, and the credit where it is the question's own."""

    extract: Extract
    document: ScoreDocument
    block: str
    credit: str


def in_hand(
    scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None, bars: int
) -> InHand | None:
    """The shared extract if there is one, else a melody of so many bars; None where there is no source of them.

    >>> from stavewright.syllabus.scope import scope_for
    >>> in_hand(scope_for(1), Random(1), None, None, 8) is None
    True
    """
    if stimulus is not None:
        return InHand(stimulus.extract, stimulus.document, stimulus.block, "")
    composed = None if melodies is None else melodies.melody(scope, rng, bars=bars)
    return None if composed is None else InHand(composed, document_of(composed.score), "extract", composed.credit)
