"""Ornaments against published figures and music21."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from music21 import expressions
from music21 import key as music21_key
from music21 import note as music21_note

from stavewright.theory.duration import Duration, Tuplet
from stavewright.theory.errors import OrnamentError
from stavewright.theory.ornament import (
    ORNAMENT_NAMES,
    ORNAMENTS,
    Realisation,
    neighbours,
    parse_ornament,
    realise,
    recognise,
)
from stavewright.theory.pitch import STEPS, Pitch

CROTCHET, MINIM, QUAVER = Duration("crotchet"), Duration("minim"), Duration("quaver")
VALUES = [
    Duration("semibreve"), MINIM, Duration("minim", 1), CROTCHET, Duration("crotchet", 1), QUAVER,
]  # fmt: skip
SIGNED = ORNAMENTS[:5]

mains = st.builds(Pitch, st.sampled_from(STEPS), st.integers(-1, 1), st.sampled_from((4, 5)))
signatures = st.integers(-6, 6)


def letters(way: Realisation) -> str:
    return " ".join(note.pitch.name.short for note in way.notes)


def values(way: Realisation) -> str:
    short = {
        "dotted crotchet": "4.", "crotchet": "4", "dotted quaver": "8.", "quaver": "8", "semiquaver": "16",
        "demisemiquaver": "32", "hemidemisemiquaver": "64", "minim": "2", "triplet demisemiquaver": "3:32",
        "quintuplet demisemiquaver": "5:32", "triplet semiquaver": "3:16", "dotted minim": "2.",
        "double-dotted quaver": "8..",
    }  # fmt: skip
    return " ".join(short.get(note.value.text, note.value.text) for note in way.notes)


# Gehrkens, Music Notation and Terminology (1914), figures 40-52 (pictures).
@pytest.mark.parametrize(
    ("ornament", "main", "value", "fifths", "options", "notes", "lengths"),
    [
        ("mordent", "C5", CROTCHET, 0, {}, "C B C", "32 32 8."),
        ("upper mordent", "C5", QUAVER, 0, {}, "C D C", "32 32 16"),
        ("turn", "F4", CROTCHET, 0, {}, "G F E F", "16 16 16 16"),
        ("turn", "F4", CROTCHET, 0, {}, "G F E F", "3:32 3:32 3:32 8."),
        ("turn", "F4", MINIM, 0, {"after_note": True}, "F G F E F", "4. 32 32 32 32"),
        ("turn", "E5", CROTCHET, 1, {"after_note": True, "above": 0, "below": 1}, "E F E D# E", "8. 64 64 64 64"),
        ("inverted turn", "F4", CROTCHET, 0, {}, "E F G F", "16 16 16 16"),
        ("appoggiatura", "E4", CROTCHET, 0, {"grace": "F4"}, "F E", "8 8"),
        ("appoggiatura", "G4", Duration("crotchet", 1), 0, {"grace": "A4"}, "A G", "4 8"),
        ("appoggiatura", "G4", Duration("crotchet", 1), 0, {"grace": "A4", "tied": True}, "A", "4."),
    ],
)
def test_published_realisations(
    ornament: str, main: str, value: Duration, fifths: int, options: dict[str, object], notes: str, lengths: str
) -> None:
    if "grace" in options:
        options = {**options, "grace": Pitch.parse(str(options["grace"]))}
    ways = realise(ornament, Pitch.parse(main), value, fifths, **options)  # type: ignore[arg-type]
    assert (notes, lengths) in [(letters(way), values(way)) for way in ways]


def test_published_trill() -> None:
    # Gehrkens, figure 40: a trill on a minim D before C begins on D and its last five notes are D E D C D.
    way = realise("trill", Pitch("D", 0, 5), MINIM, 0)[0]
    assert letters(way) == "D E D E D E D E D E D E D E D C D"
    assert values(way) == " ".join(["32"] * 12 + ["5:32"] * 5)


# Clementi, Introduction to the Art of Playing on the Piano Forte (1801).
@pytest.mark.parametrize(
    ("ornament", "main", "notes", "lengths"),
    [
        ("trill", "D5", "E D E D E D E D", "32 32 32 32 32 32 32 32"),
        ("trill", "D5", "E D E D E D C D", "32 32 32 32 32 32 32 32"),
        ("turn", "C5", "D C B C", "3:32 3:32 3:32 8."),
        ("inverted turn", "C5", "B C D C", "3:32 3:32 3:32 8."),
    ],
)
def test_published_realisations_of_1801(ornament: str, main: str, notes: str, lengths: str) -> None:
    ways = realise(ornament, Pitch.parse(main), CROTCHET, 0)
    assert (notes, lengths) in [(letters(way), values(way)) for way in ways]


@given(st.sampled_from(SIGNED), mains, st.sampled_from(VALUES), signatures, st.booleans())
def test_an_ornament_lasts_as_long_as_its_note(
    ornament: str, main: Pitch, value: Duration, fifths: int, after: bool
) -> None:
    """Written out, an ornament takes exactly the time of the note it stands on."""
    for way in realise(ornament, main, value, fifths, after_note=after):
        assert sum(note.value.ticks for note in way.notes) == value.ticks


@given(st.sampled_from(SIGNED), mains, st.sampled_from(VALUES), signatures)
def test_an_ornament_ends_on_its_note(ornament: str, main: Pitch, value: Duration, fifths: int) -> None:
    """Every ornament of a sign ends on the main note and strays a step from it at most."""
    ways = realise(ornament, main, value, fifths)
    assert len({way.notes for way in ways}) == len(ways)
    for way in ways:
        assert way.notes[-1].pitch == main
        assert all(abs(note.pitch.diatonic - main.diatonic) <= 1 for note in way.notes)
        assert all(a.pitch != b.pitch for a, b in zip(way.notes, way.notes[1:], strict=False))


@given(st.sampled_from(SIGNED), mains, st.sampled_from(VALUES), signatures)
def test_the_sign_is_known_from_the_notes(ornament: str, main: Pitch, value: Duration, fifths: int) -> None:
    """From the notes written out the sign is known again, and no other sign would give them."""
    for way in realise(ornament, main, value, fifths):
        assert recognise(way.notes, main, value, fifths) == (ornament,)


@given(mains, signatures)
def test_the_usual_way_keeps_to_the_key(main: Pitch, fifths: int) -> None:
    """The notes of an ornament are those of the key, unless a sign says otherwise."""
    upper, lower = neighbours(main, fifths)
    way = realise("turn", main, CROTCHET, fifths)[0]
    assert [note.pitch for note in way.notes] == [upper, main, lower, main]
    assert neighbours(main, fifths, above=1, below=-1) == (
        Pitch.from_diatonic(main.diatonic + 1, 1),
        Pitch.from_diatonic(main.diatonic - 1, -1),
    )


# music21's words: its Mordent is the lower one, its InvertedMordent the upper; its appoggiatura is not used.
@pytest.mark.parametrize(
    ("ornament", "other"),
    [
        ("mordent", "Mordent"),
        ("upper mordent", "InvertedMordent"),
        ("turn", "Turn"),
        ("inverted turn", "InvertedTurn"),
    ],
)
@pytest.mark.parametrize(("main", "fifths"), [("F#4", 1), ("C5", 0), ("E5", 1), ("B4", -3), ("D4", 3)])
def test_music21_agrees_on_the_notes(ornament: str, other: str, main: str, fifths: int) -> None:
    written = music21_note.Note(main.replace("b", "-"), quarterLength=1)
    expression = getattr(expressions, other)()
    before, here, after = expression.realize(written, keySig=music21_key.KeySignature(fifths))
    theirs = [*before, *([here] if here is not None else []), *after]
    own = realise(ornament, Pitch.parse(main), CROTCHET, fifths)[0]
    assert letters(own) == " ".join(note.pitch.name.replace("-", "b") for note in theirs)


def test_the_lower_note_may_be_a_semitone_below() -> None:
    # Clementi (1801): the lowest note of a turn is mostly a semitone below.
    ways = realise("mordent", Pitch("A", 0, 4), CROTCHET, 0)
    assert {letters(way) for way in ways} == {"A G A", "A G# A"}
    assert letters(ways[0]) == "A G A"
    signed = realise("mordent", Pitch("A", 0, 4), CROTCHET, 0, below=-1)
    assert {letters(way) for way in signed} == {"A Gb A"}


def test_an_acciaccatura_is_crushed_in() -> None:
    way = realise("acciaccatura", Pitch("E", 0, 4), CROTCHET, 0, grace=Pitch("F", 0, 4))[0]
    assert (letters(way), values(way)) == ("F E", "32 8..")


# Gehrkens, Music Notation and Terminology (1914) §§65-75; pralltriller: the same, §68.
@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("shake", "trill"),
        ("Pralltriller", "upper mordent"),
        ("inverted mordent", "upper mordent"),
        ("lower mordent", "mordent"),
        ("crushed note", "acciaccatura"),
        ("leaning-note", "appoggiatura"),
    ],
)
def test_names_of_ornaments(text: str, kind: str) -> None:
    assert parse_ornament(text) == kind


def test_every_name_reads_back() -> None:
    assert {kind: {parse_ornament(name) for name in names} for kind, names in ORNAMENT_NAMES.items()} == {
        kind: {kind} for kind in ORNAMENTS
    }


@pytest.mark.parametrize(
    "call",
    [
        lambda: parse_ornament("twiddle"),
        lambda: realise("appoggiatura", Pitch("E", 0, 4), CROTCHET, 0),
        lambda: realise("turn", Pitch("E", 0, 4), Duration("quaver", tuplet=Tuplet(3, 2)), 0),
        lambda: realise("trill", Pitch("E", 0, 4), Duration("hemidemisemiquaver"), 0),
        lambda: realise("trill", Pitch("E", 0, 4), Duration("semiquaver"), 0),
    ],
)
def test_what_cannot_be_written_out_is_refused(call: object) -> None:
    with pytest.raises(OrnamentError):
        call()  # type: ignore[operator]
