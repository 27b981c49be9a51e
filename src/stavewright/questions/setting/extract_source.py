"""The extract a question is asked about: the one that a group shares, or a melody of its own."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

from stavewright.questions.melodies import Extract, Melodies, Stimulus
from stavewright.questions.score_document import ScoreDocument
from stavewright.questions.score_mirror import document_of
from stavewright.syllabus.scope import Scope


@dataclass(frozen=True, slots=True)
class Source:
    """An extract, what is printed of it, the block it is printed under, and the line that names where it comes from."""

    extract: Extract
    document: ScoreDocument
    block: str = "extract"
    credit: str = ""


def source_of(
    scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None, *, bars: int = 8
) -> Source | None:
    """The shared extract where there is one, else a melody of so many bars; None where there is neither.

    >>> from stavewright.syllabus.scope import scope_for
    >>> source_of(scope_for(1), Random(1), None, None) is None
    True
    """
    if stimulus is not None:
        return Source(stimulus.extract, stimulus.document, stimulus.block)
    composed = None if melodies is None else melodies.melody(scope, rng, bars=bars)
    if composed is None:
        return None
    return Source(composed, document_of(composed.score), credit=composed.credit)
