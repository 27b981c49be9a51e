"""Reading the note that a question points out, and what the pupil's own earlier key makes of it."""

from __future__ import annotations

from stavewright.questions.errors import BadDocument
from stavewright.questions.marked import MarkedNote
from stavewright.questions.reading import read_words
from stavewright.questions.score_mirror import pitch_of, score_of
from stavewright.questions.values import Value
from stavewright.score.event import Note
from stavewright.theory.errors import StavewrightError
from stavewright.theory.key import Key
from stavewright.theory.pitch import Pitch


def marked_pitch(place: MarkedNote) -> Pitch:
    """The pitch of the note that is pointed out.

    Raises:
        BadDocument: the bar or the note is not there.
    """
    if place.extract is None:
        if place.marked >= len(place.row):
            raise BadDocument(f"the row has {len(place.row)} notes, none at index {place.marked}")
        return pitch_of(place.row[place.marked])
    return _in_extract(place).pitch


def _in_extract(place: MarkedNote) -> Note:
    if place.extract is not None:
        score = score_of(place.extract)
        for index, bar in enumerate(score.staves[0].bars):
            if score.bar_number(index) == place.bar:
                notes = [event for event in bar.events if isinstance(event, Note)]
                if 1 <= place.note <= len(notes):
                    return notes[place.note - 1]
    raise BadDocument(f"the extract has no note {place.note} in bar {place.bar}")


def marked_id(place: MarkedNote) -> tuple[str, ...]:
    """The id of the note that is pointed out, where it has one."""
    if place.extract is None:
        return (f"n{place.marked + 1}",)
    found = _in_extract(place).id
    return (found,) if found else ()


def first_pitch(place: MarkedNote) -> Pitch:
    """The first note of the row or extract."""
    return _all_pitches(place)[0]


def lowest_pitch(place: MarkedNote) -> Pitch:
    """The lowest written note of the row or extract."""
    return min(_all_pitches(place), key=lambda pitch: (pitch.diatonic, pitch.midi))


def _all_pitches(place: MarkedNote) -> list[Pitch]:
    if place.extract is None:
        return [pitch_of(one) for one in place.row]
    return [pitch for event in score_of(place.extract).sounding() for pitch in event.pitches]


def earlier_key(value: Value) -> Key | None:
    """The key that a pupil gave in an earlier part, or None where it cannot be read.

    >>> earlier_key(Value(words="f# minor")).text, earlier_key(Value(words="no idea"))
    ('F sharp minor', None)
    """
    if value.words is None:
        return None
    for text in (value.words.strip(), read_words(value.words)):
        try:
            return Key.parse(text)
        except StavewrightError:
            continue
    return None
