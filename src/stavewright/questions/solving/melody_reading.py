"""Reading an extract note by note from what is printed: place, signature, signs in force, ties."""

from __future__ import annotations

from stavewright.questions.errors import BadDocument
from stavewright.questions.score_document import NoteDocument, ScoreDocument
from stavewright.theory.accidental import WrittenNote, sounding
from stavewright.theory.clef import CLEFS
from stavewright.theory.pitch import STEPS, Pitch


def bar_notes(extract: ScoreDocument, bar: int) -> tuple[NoteDocument, ...]:
    """The notes of the bar with that printed number, first stave and voice; grace notes are not counted.

    Raises:
        BadDocument: there is no bar of that number.
    """
    index = bar if extract.anacrusis else bar - 1
    if not 0 <= index < len(extract.staves[0].bars):
        raise BadDocument(f"the extract has no bar {bar}: it has {len(extract.staves[0].bars)} bars")
    return tuple(
        event
        for event in extract.staves[0].bars[index].voices[0]
        if isinstance(event, NoteDocument) and event.grace is None
    )


def read_note(
    extract: ScoreDocument,
    bar: int,
    note: int,
    *,
    fifths: int | None = None,
    clef: str | None = None,
    alone: bool = False,
    carried: bool = False,
) -> Pitch:
    """The sounding pitch of the nth note of a bar, read from place, signature and printed signs.

    The other arguments misread it: another signature, another clef, no heed to earlier signs of the bar (`alone`),
    or signs that never end (`carried`).

    Raises:
        BadDocument: the bar or note is not there.
    """
    stave = extract.staves[0]
    last = bar if extract.anacrusis else bar - 1
    notes = bar_notes(extract, bar)
    if not 1 <= note <= len(notes):
        raise BadDocument(f"bar {bar} has no note {note}: it has {len(notes)}")
    shift = 0
    if clef is not None:
        shift = CLEFS[clef].bottom_line.diatonic - CLEFS[stave.clef].bottom_line.diatonic
    printed = stave.fifths or 0
    rows: list[list[WrittenNote]] = []
    tied = False
    for index in range(last + 1):
        if stave.bars[index].fifths is not None:
            printed = stave.bars[index].fifths or 0
        row: list[WrittenNote] = []
        for one in bar_notes(extract, index + (0 if extract.anacrusis else 1)):
            place = 7 * one.octave + STEPS.index(one.step) + shift
            row.append(WrittenNote(place, one.accidental, tied))
            tied = one.tie
        rows.append(row)
    if carried:
        rows = [[one for row in rows for one in row]]
    if alone:
        rows = [[rows[-1][note - 1]]]
    heard = sounding(rows, printed if fifths is None else fifths)
    return heard[-1][note - 1 - len(notes) if not alone else -1]
