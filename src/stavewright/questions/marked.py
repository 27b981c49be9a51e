"""One note pointed out to the pupil: marked in a row of notes, or named by its bar in an extract."""

from __future__ import annotations

from typing import Annotated

from msgspec import Meta, Struct

from stavewright.questions.score_document import Fifths, PitchDocument, ScoreDocument
from stavewright.questions.written import ClefName

Count = Annotated[int, Meta(ge=0, le=2000)]


class MarkedNote(Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True):
    """Where the note stands.

    Either in `row`, written under `clef` with the signature `fifths`, at the index `marked`; or in `extract`, printed
    under `block`: the note with number `note` (from 1) of the bar with the printed number `bar`.
    """

    clef: ClefName = "treble"
    fifths: Fifths = 0
    row: Annotated[tuple[PitchDocument, ...], Meta(max_length=12)] = ()
    marked: Count = 0
    extract: ScoreDocument | None = None
    block: Annotated[str, Meta(max_length=80)] = "extract"
    bar: Count = 0
    note: Count = 1
