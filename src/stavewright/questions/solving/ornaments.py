"""Ornaments read from written notes and written out, rightly and wrongly."""

from __future__ import annotations

from collections.abc import Sequence

from stavewright.questions.values import WrittenNote
from stavewright.score.check import signature_alter
from stavewright.score.writing import SIGN
from stavewright.theory.accidental import sign_alter
from stavewright.theory.duration import Duration, of_ticks
from stavewright.theory.errors import OrnamentError
from stavewright.theory.ornament import Played, realise, recognise
from stavewright.theory.pitch import Pitch

# What each written-out ornament is taken for, and how to tell the two apart.
_MIXED_UP = {
    "trill": (
        ("took many notes for one quick pair", "upper mordent", "A mordent has three notes, a trill goes on."),
        ("took the close of the trill for a turn", "turn", "A turn has four notes, a trill goes on."),
        ("forgot the fast change of two notes", "mordent", "A trill changes with the note above again and again."),
    ),
    "mordent": (
        ("upper and lower mordent swapped", "upper mordent", "See whether the middle note is above or below."),
        ("took a mordent for a turn", "turn", "A turn uses the notes above and below."),
        ("took a mordent for a trill", "trill", "A trill goes on for the whole note."),
    ),
    "upper mordent": (
        ("upper and lower mordent swapped", "mordent", "See whether the middle note is above or below."),
        ("took a mordent for a turn", "turn", "A turn uses the notes above and below."),
        ("took a mordent for a trill", "trill", "A trill goes on for the whole note."),
    ),
    "turn": (
        ("started on the wrong note", "inverted turn", "See which note comes first: the one above or the one below."),
        ("took a turn for a mordent", "mordent", "A mordent has one other note, a turn has two."),
        ("took a turn for a trill", "trill", "A trill changes between two notes only."),
    ),
    "inverted turn": (
        ("started on the wrong note", "turn", "See which note comes first: the one above or the one below."),
        ("took a turn for a mordent", "mordent", "A mordent has one other note, a turn has two."),
        ("took a turn for a trill", "trill", "A trill changes between two notes only."),
    ),
    "acciaccatura": (
        ("took crushed for leaning", "appoggiatura", "A leaning note takes a half or more of the time."),
        ("took a small note for a mordent", "upper mordent", "A mordent begins with the written note."),
    ),
    "appoggiatura": (
        ("took leaning for crushed", "acciaccatura", "A crushed note is as short as it can be."),
        ("took a small note for a mordent", "upper mordent", "A mordent begins with the written note."),
        ("took a small note for a turn", "turn", "A turn has four notes."),
    ),
}


def mixed_up(ornament: str) -> tuple[tuple[str, str, str], ...]:
    """The ornaments one is taken for when it is written out: the slip, the other, what to look at.

    >>> mixed_up("turn")[0][:2]
    ('started on the wrong note', 'inverted turn')
    """
    return _MIXED_UP[ornament]


def names_in_notes(notes: Sequence[WrittenNote], main: Pitch, value: Duration, fifths: int) -> tuple[str, ...]:
    """The ornaments on a note that would be written out as these notes, small notes included.

    >>> two = [WrittenNote("D", octave=5, type="quaver"), WrittenNote("C", octave=5, type="quaver")]
    >>> names_in_notes(two, Pitch("C", 0, 5), Duration("crotchet"), 0)
    ('appoggiatura',)
    """
    played = tuple(_played(note, fifths) for note in notes)
    found = list(recognise(played, main, value, fifths))
    if len(played) == 2 and abs(played[0].pitch.diatonic - main.diatonic) == 1:
        for small in ("acciaccatura", "appoggiatura"):
            try:
                ways = realise(small, main, value, fifths, grace=played[0].pitch)
            except OrnamentError:
                continue  # the note is too long to be written out so
            if any(way.notes == played for way in ways):
                found.append(small)
    return tuple(found)


def _played(note: WrittenNote, fifths: int) -> Played:
    alter = signature_alter(note.step, fifths) if note.accidental is None else sign_alter(note.accidental)
    return Played(Pitch(note.step, alter, note.octave), Duration(note.type or "crotchet", note.dots))


def written_out(
    ornament: str, main: Pitch, value: Duration, fifths: int, grace: Pitch | None
) -> tuple[tuple[tuple[WrittenNote, ...], str], ...]:
    """Every accepted way to write an ornament out without irregular groups, and what makes it right.

    >>> way = written_out("mordent", Pitch("C", 0, 5), Duration("crotchet"), 0, None)[0]
    >>> said(way[0], 0)
    'C, B, C (demisemiquaver, demisemiquaver, dotted quaver)'
    """
    found = []
    for way in realise(ornament, main, value, fifths, grace=grace):
        if all(one.value.tuplet is None for one in way.notes):
            found.append((tuple(_note(one, fifths) for one in way.notes), way.reason))
    return tuple(found)


def _note(one: Played, fifths: int) -> WrittenNote:
    pitch = one.pitch
    sign = None if pitch.alter == signature_alter(pitch.step, fifths) else SIGN[pitch.alter]
    return WrittenNote(pitch.step, octave=pitch.octave, type=one.value.type, dots=one.value.dots, accidental=sign)


def said(notes: Sequence[WrittenNote], fifths: int) -> str:
    """Written notes in words: their names as they sound under the signature, then the values.

    >>> said([WrittenNote("F", octave=4, type="crotchet"), WrittenNote("E", octave=4, type="quaver")], 1)
    'F sharp, E (crotchet, quaver)'
    """
    played = [_played(note, fifths) for note in notes]
    names = ", ".join(one.pitch.name.text for one in played)
    values = [one.value.text for one in played]
    if len(set(values)) == 1 and len(values) > 1:
        return f"{names} ({values[0]}s)"
    return f"{names} ({', '.join(values)})"


def wrong_ways(
    ornament: str, main: Pitch, value: Duration, grace: Pitch | None
) -> tuple[tuple[str, tuple[WrittenNote, ...], str], ...]:
    """How a pupil writes an ornament out wrongly: the slip, the notes, what to look at.

    >>> wrong_ways("turn", Pitch("F", 0, 4), Duration("crotchet"), None)[0][0]
    'started on the wrong note'
    """
    whole = value.ticks
    quick = Duration("demisemiquaver").ticks * (1 if whole <= Duration("crotchet", 1).ticks else 2)
    three = (quick, quick, whole - 2 * quick)
    four = (whole // 4,) * 4
    side = 1 if grace is None or grace.diatonic > main.diatonic else -1
    rows: dict[str, tuple[tuple[str, tuple[int, ...], tuple[int, ...], str], ...]] = {
        "mordent": (
            ("upper and lower mordent swapped", (0, 1, 0), three, "The stroke points to the note below."),
            ("started on the wrong note", (-1, 0, -1), three, "A mordent begins and ends with the written note."),
            ("took a mordent for a turn", (1, 0, -1, 0), four, "A mordent has three notes."),
        ),
        "upper mordent": (
            ("upper and lower mordent swapped", (0, -1, 0), three, "With no stroke it goes to the note above."),
            ("started on the wrong note", (1, 0, 1), three, "A mordent begins and ends with the written note."),
            ("took a mordent for a turn", (1, 0, -1, 0), four, "A mordent has three notes."),
        ),
        "turn": (
            ("started on the wrong note", (-1, 0, 1, 0), four, "A plain turn begins with the note above."),
            ("began with the written note", (0, 1, 0, -1), four, "The note above comes first, then the written one."),
            ("took a turn for a mordent", (0, 1, 0), three, "A turn goes above and below."),
        ),
        "inverted turn": (
            ("started on the wrong note", (1, 0, -1, 0), four, "Turned over, it begins with the note below."),
            ("began with the written note", (0, -1, 0, 1), four, "The note below comes first, then the written one."),
            ("took a turn for a mordent", (0, -1, 0), three, "A turn goes above and below."),
        ),
        "trill": (
            ("trilled with the note below", (-1, 0) * 4, (whole // 8,) * 8, "A trill goes to the note above."),
            ("took a trill for a mordent", (0, 1, 0), three, "A trill goes on for the whole note."),
            ("took a trill for a turn", (1, 0, -1, 0), four, "A trill goes on for the whole note."),
        ),
        "appoggiatura": (
            ("crushed the small note", (side, 0), (quick, whole - quick), "With no stroke it takes half or more."),
            ("put the small note last", (0, side), _halves(value), "The small note comes on the beat, first."),
            ("left the small note out", (0, 0), _halves(value), "The small note is played, in time of the main note."),
        ),
        "acciaccatura": (
            ("let the small note lean", (side, 0), _halves(value), "The stroke makes it as quick as can be."),
            ("put the small note last", (0, side), (whole - quick, quick), "The small note comes first."),
        ),
    }  # fmt: skip
    found = []
    for name, steps, ticks, remedy in rows[ornament]:
        notes = _row(main, steps, ticks)
        if notes is not None:
            found.append((name, notes, remedy))
    return tuple(found)


def _halves(value: Duration) -> tuple[int, int]:
    """Half and half, or two thirds and one of a dotted note."""
    last = value.ticks // (3 if value.dots else 2)
    return value.ticks - last, last


def _row(main: Pitch, steps: Sequence[int], ticks: Sequence[int]) -> tuple[WrittenNote, ...] | None:
    notes = []
    for step, length in zip(steps, ticks, strict=True):
        value = of_ticks(length)
        if value is None or value.tuplet is not None:
            return None
        pitch = Pitch.from_diatonic(main.diatonic + step)
        notes.append(WrittenNote(pitch.step, octave=pitch.octave, type=value.type, dots=value.dots))
    return tuple(notes)
