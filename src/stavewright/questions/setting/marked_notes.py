"""Picking the note that a question points out, with the degree the setter means."""

from __future__ import annotations

from collections.abc import Iterator
from random import Random

from stavewright.questions.marked import MarkedNote
from stavewright.questions.melodies import Stimulus
from stavewright.questions.score_document import PitchDocument
from stavewright.questions.setting.picking import pick
from stavewright.questions.setting.scales import spelled_notes
from stavewright.score.event import Note, Rest
from stavewright.score.stave import Bar
from stavewright.syllabus.scope import Scope
from stavewright.theory.key import Key
from stavewright.theory.pitch import STEPS, NoteName

_FORMS = {"major": ("major",), "minor": ("natural minor", "harmonic minor", "melodic minor")}
_ROW = 5


def degrees_of(key: Key) -> dict[str, int]:
    """The notes a key owns, in words, with their degrees: in minor the 6th and 7th in both heights.

    >>> degrees_of(Key.parse("A minor"))["G sharp"]
    7
    """
    found: dict[str, int] = {}
    for form in _FORMS[key.mode]:
        for number, name in enumerate(spelled_notes(key.tonic, form, "up")[:7], 1):
            found.setdefault(name, number)
    return found


def marked_in_a_row(scope: Scope, rng: Random, key: Key, clef: str) -> tuple[MarkedNote, int, str]:
    """A row of notes of one form of the key's scale, one of them marked; the marked note's degree and name."""
    form = rng.choice(scope.minor_forms or ("natural minor",)) if key.is_minor else "major"
    names = [NoteName.parse(name) for name in spelled_notes(key.tonic, form, "up")[:7]]
    by_letter = {name.step: name for name in names}
    low, high = scope.range_of(clef)
    place = rng.randint(low.diatonic + 2, high.diatonic - 2)
    row: list[PitchDocument] = []
    degrees: list[int] = []
    for _ in range(_ROW):
        octave, index = divmod(place, 7)
        name = by_letter[STEPS[index]]
        row.append(PitchDocument(name.step, name.alter, octave))
        degrees.append(names.index(name) + 1)
        moves = [m for m in (-4, -3, -2, -1, 1, 2, 3, 4) if low.diatonic <= place + m <= high.diatonic]
        place += rng.choice(moves)
    marked = rng.randrange(_ROW)
    said = by_letter[row[marked].step].text
    return MarkedNote(clef, key.fifths, tuple(row), marked), degrees[marked], said


def marked_in_the_extract(stimulus: Stimulus, rng: Random, key: Key) -> tuple[MarkedNote, int, str] | None:
    """A note of the extract that the key owns, not held over by a tie; its degree and name."""
    score = stimulus.extract.score
    if len(score.staves) != 1:
        return None
    owned = degrees_of(key)
    found = [
        (score.bar_number(index), number, owned[note.pitch.name.text], note.pitch.name.text)
        for index, bar in enumerate(score.staves[0].bars)
        if _plain(bar) and score.bar_number(index)
        for number, note in _struck(bar)
        if note.pitch.name.text in owned
    ]
    if not found:
        return None
    bar, number, degree, name = pick(rng, found, [one for one in found if one[2] != 1])
    place = MarkedNote(extract=stimulus.document, block=stimulus.block, bar=bar, note=number)
    return place, degree, name


def _plain(bar: Bar) -> bool:
    return len(bar.voices) == 1 and all(
        isinstance(event, Rest) or (isinstance(event, Note) and not event.grace) for event in bar.events
    )


def _struck(bar: Bar) -> Iterator[tuple[int, Note]]:
    """The notes of a bar with their numbers, those held over from the note before left out."""
    held = False
    notes = [event for event in bar.events if isinstance(event, Note)]
    for number, note in enumerate(notes, 1):
        if not held:
            yield number, note
        held = note.tie
