"""Checks of four-part writing against music21 and by rule."""

from __future__ import annotations

from random import Random

import pytest
from hypothesis import given
from music21 import note as music21_note
from music21 import voiceLeading

from stavewright.theory.errors import UnknownChordError
from stavewright.theory.interval import between
from stavewright.theory.key import Key
from stavewright.theory.part_writing import PartFault, check_chord, check_move, check_parts, consecutives
from stavewright.theory.pitch import Pitch
from theory.any_pitch import pitches


def chord(text: str) -> list[Pitch]:
    return [Pitch.parse(note) for note in text.split()]


def kinds(faults: tuple[PartFault, ...]) -> list[str]:
    return [fault.kind for fault in faults]


def quartet(notes: tuple[Pitch, ...]) -> voiceLeading.VoiceLeadingQuartet:
    upper, lower, next_upper, next_lower = (music21_note.Note(p.short.replace("b", "-")) for p in notes)
    return voiceLeading.VoiceLeadingQuartet(upper, next_upper, lower, next_lower)


def random_moves(count: int) -> list[tuple[Pitch, ...]]:
    """Draw two voices' moves, half of them made to be parallel."""
    rng = Random(1914)
    moves = []
    for _ in range(count):
        upper, lower, third, fourth = (
            Pitch(rng.choice("CDEFGAB"), rng.randint(-1, 1), rng.randint(3, 5)) for _ in range(4)
        )
        if rng.random() < 0.6:
            size = rng.choice((0, 4, 7, 11, 14))
            upper = Pitch.from_diatonic(lower.diatonic + size, lower.alter)
            third = Pitch.from_diatonic(fourth.diatonic + rng.choice((size, size % 7, size % 7 + 7)), fourth.alter)
        moves.append((upper, lower, third, fourth))
    return moves


def test_music21_agrees_on_consecutive_fifths() -> None:
    """music21 finds the same consecutive fifths in 3,000 moves of two voices, twelfths and contrary motion included."""
    found = 0
    for notes in random_moves(3000):
        own = consecutives(*notes) == "fifths"
        assert own == quartet(notes).parallelFifth(), [pitch.short for pitch in notes]
        found += own
    assert found > 250


def test_music21_flaw_octave_to_unison() -> None:
    """music21 misses an octave that closes to a unison; whatever it does find, we find."""
    missed = found = 0
    for notes in random_moves(3000):
        own = consecutives(*notes) == "octaves"
        theirs = quartet(notes).parallelUnisonOrOctave()
        assert own or not theirs
        found += own
        missed += own and not theirs
    assert found > 250
    assert missed > 50
    assert consecutives(*chord("Bb5 Bb4 G4 G4")) == "octaves"
    assert not quartet(tuple(chord("Bb5 Bb4 G4 G4"))).parallelUnisonOrOctave()


@given(pitches, pitches, pitches, pitches)
def test_a_voice_that_stays_makes_no_consecutives(upper: Pitch, lower: Pitch, third: Pitch, fourth: Pitch) -> None:
    """Consecutives need two voices that move."""
    assert consecutives(upper, lower, upper, fourth) is None
    assert consecutives(upper, lower, third, lower) is None


@given(pitches, pitches, pitches, pitches)
def test_consecutives_are_perfect_intervals(upper: Pitch, lower: Pitch, third: Pitch, fourth: Pitch) -> None:
    """Consecutive fifths and octaves are perfect intervals both times."""
    kind = consecutives(upper, lower, third, fourth)
    if kind is not None:
        for interval in (between(lower, upper), between(fourth, third)):
            assert interval.quality == "P"
            assert (interval.number % 7) == (5 if kind == "fifths" else 1)


# Common practice.
@pytest.mark.parametrize(
    ("notes", "kind"),
    [
        ("G4 C4 A4 D4", "fifths"),
        ("G5 C4 D4 G3", "fifths"),
        ("G4 C4 G5 C4", None),
        ("F4 B3 G4 C4", None),
        ("G4 C4 F4 B3", None),
        ("C5 C4 D5 D4", "octaves"),
        ("C4 C4 D4 D4", "octaves"),
        ("C5 C4 D4 D4", "octaves"),
        ("C5 C3 D5 D3", "octaves"),
        ("E4 C4 F4 D4", None),
        ("G4 C4 Ab4 D4", None),
        ("G4 C4 F#4 Cb4", None),
    ],
)
def test_consecutives(notes: str, kind: str | None) -> None:
    assert consecutives(*chord(notes)) == kind


@pytest.mark.parametrize(
    ("notes", "faults"),
    [
        ("C5 G4 E4 C3", []),
        ("G4 E4 C4 C3", []),
        ("E5 C4 G3 C3", ["spacing"]),
        ("C5 G4 C3 C3", ["spacing"]),
        ("C5 G4 E4 C2", ["range"]),
        ("D6 G5 D5 G3", ["range", "range", "range"]),
        ("E4 G4 C4 C3", ["crossing"]),
        ("C5 G4 E3 G3", ["spacing", "crossing"]),
    ],
)
def test_single_chords(notes: str, faults: list[str]) -> None:
    assert kinds(check_chord(chord(notes))) == faults


def test_a_doubled_leading_note() -> None:
    (fault,) = check_chord(chord("B4 G4 D4 B2"), 3, Key.parse("C"))
    assert (fault.kind, fault.chord, fault.voices) == ("doubled leading note", 3, ("soprano", "bass"))
    assert check_chord(chord("B4 G4 D4 B2"), 3, Key.parse("G")) == ()


@pytest.mark.parametrize(
    ("before", "after", "faults"),
    [
        ("B4 G4 D4 G3", "C5 G4 E4 C3", []),
        ("B4 G4 D4 G3", "G4 G4 E4 C3", ["leading note"]),
        ("B4 G4 D4 G3", "B4 F4 D4 G3", []),
        ("C5 G4 E4 C3", "D5 A4 F4 D3", ["consecutive octaves", "consecutive fifths"]),
        ("G4 E4 C4 C3", "E5 C5 G4 C3", ["overlap", "overlap"]),
        ("G4 E4 C4 C3", "A4 F4 C4 F3", []),
    ],
)
def test_moves(before: str, after: str, faults: list[str]) -> None:
    assert kinds(check_move(chord(before), chord(after), key=Key.parse("C"))) == faults


def test_a_passage() -> None:
    # Common practice: a clean cadence in four parts, then one with a fault in its last chord.
    clean = [chord(text) for text in ("E4 C4 G3 C3", "D4 C4 A3 F3", "D4 B3 G3 G2", "C4 C4 G3 C3")]
    assert check_parts(clean[2:], Key.parse("C")) == ()
    faults = check_parts([*clean[2:3], chord("E4 B3 G3 E2")], Key.parse("C"))
    assert all(fault.chord in (0, 1) for fault in faults)
    assert check_parts([chord("C5 G4 E4 C2"), chord("C5 G4 E4 C2")])[1].chord == 1


def test_a_chord_of_three_notes_is_refused() -> None:
    with pytest.raises(UnknownChordError, match="a chord of 3 notes"):
        check_chord(chord("C5 G4 E4"))
    with pytest.raises(UnknownChordError, match="give four"):
        check_move(chord("C5 G4 E4 C3"), chord("C5 G4 E4"))
