"""Transposition against published tables, music21 and partitura."""

from __future__ import annotations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from music21 import interval as music21_interval
from music21 import pitch as music21_pitch
from partitura.score import Interval as PartituraInterval
from partitura.utils.music import transpose_note_attributes

from stavewright.theory.errors import UnknownNoteError
from stavewright.theory.interval import Interval, between
from stavewright.theory.key import Key
from stavewright.theory.pitch import NoteName, Pitch
from stavewright.theory.transposition import respell, transpose, transpose_key, transpose_melody, transpose_name
from theory.any_pitch import EVERY_PITCH, every_interval, intervals, keys, note_names, pitches

CASES = [
    (pitch, interval, up, transpose(pitch, interval, up=up))
    for pitch in EVERY_PITCH
    for interval in every_interval(15)
    for up in (True, False)
]


@given(pitches, intervals)
def test_up_and_down_again_is_the_same_note(pitch: Pitch, interval: Interval) -> None:
    """Moved up by an interval and down by it again, a note comes back to its own spelling."""
    assert transpose(transpose(pitch, interval), interval, up=False) == pitch


@given(pitches, intervals)
def test_the_interval_moved_by_is_the_interval_found(pitch: Pitch, interval: Interval) -> None:
    """A note and its transposition stand at the interval it was moved by."""
    moved = transpose(pitch, interval)
    assert moved.diatonic - pitch.diatonic == interval.steps
    assert moved.midi - pitch.midi == interval.semitones
    assert between(pitch, moved) == interval


@given(note_names, intervals, st.booleans())
def test_names_move_as_pitches_do(name: NoteName, interval: Interval, up: bool) -> None:
    """A note name moves as the pitch of that name does."""
    pitch = transpose(Pitch(name.step, name.alter, 4), interval, up=up)
    assert transpose_name(name, interval, up=up) == pitch.name


@given(st.lists(pitches, min_size=2, max_size=8), keys, intervals, st.booleans())
def test_a_transposed_melody_keeps_its_sounding_steps(
    melody: list[Pitch], key: Key, interval: Interval, up: bool
) -> None:
    """Transposition moves every note by the same number of semitones, and the key with them."""
    new, moved = transpose_melody(melody, key, interval, up=up)
    shift = interval.semitones if up else -interval.semitones
    assert [after.midi - before.midi for before, after in zip(melody, moved, strict=True)] == [shift] * len(melody)
    assert abs(new.fifths) <= 7
    assert new == transpose_key(key, interval, up=up)
    assert (new.tonic.pitch_class - key.tonic.pitch_class - shift) % 12 == 0
    degrees = [(pitch.name.index - key.tonic.index) % 7 for pitch in melody]
    assert degrees == [(pitch.name.index - new.tonic.index) % 7 for pitch in moved]


def test_music21_agrees_on_every_transposition_but_its_flaws() -> None:
    """Of 5,670 moves music21 agrees on 5,515; it cannot move by a unison downwards, nor spell beyond four signs."""
    agreed, unison_down, beyond = 0, 0, 0
    for pitch, interval, up, own in CASES:
        other = music21_pitch.Pitch(pitch.short.replace("b", "-"))
        if interval.short == "P1" and not up:
            unison_down += 1
        elif abs(own.alter) > 4:
            beyond += 1
        else:
            moved = other.transpose(music21_interval.Interval(("" if up else "-") + interval.short))
            assert moved.nameWithOctave.replace("-", "b") == own.short
            agreed += 1
    assert (agreed, unison_down, beyond) == (5515, 35, 120)


def test_the_elementary_transpositions_are_among_them() -> None:
    """One sign or none, plain intervals to a 15th, no sign past a double: 2,064 moves, 21 of them a unison down."""
    plain = [
        (interval.short, up)
        for pitch, interval, up, own in CASES
        if abs(pitch.alter) <= 1 and len(interval.quality) == 1 and abs(own.alter) <= 2
    ]
    assert (len(plain), plain.count(("P1", False))) == (2064, 21)


def test_music21_flaw_perfect_unison_down() -> None:
    """music21 refuses to move a note down a perfect unison."""
    with pytest.raises(music21_interval.IntervalException):
        music21_pitch.Pitch("C4").transpose(music21_interval.Interval("-P1"))
    assert transpose(Pitch("C", 0, 4), Interval("P", 1), up=False) == Pitch("C", 0, 4)


def test_music21_flaw_silent_respelling() -> None:
    """music21 changes the letter of C double flat moved down a doubly augmented 2nd; here it keeps five flats."""
    moved = music21_pitch.Pitch("C--4").transpose(music21_interval.Interval("-AA2"))
    assert moved.nameWithOctave == "F#3"
    assert transpose(Pitch("C", -2, 4), Interval("AA", 2), up=False).short == "Bbbbbb3"


def test_partitura_agrees_where_it_can_count() -> None:
    """partitura takes simple intervals to a 7th and double accidentals; there it agrees without exception."""
    agreed = 0
    for pitch, interval, up, own in CASES:
        if interval.number > 7 or abs(own.alter) > 2:
            continue
        other = PartituraInterval(interval.number, interval.quality, "up" if up else "down")
        moved = transpose_note_attributes(other, pitch.step, pitch.alter, pitch.octave)
        assert (moved[0], moved[1], moved[2]) == (own.step, own.alter, own.octave)
        agreed += 1
    assert agreed == 1872


# Schmidt-Jones, Understanding Basic Music Theory, m10668, and Gehrkens, Music Notation and Terminology (1914) §215.
PUBLISHED_KEYS = """
D up M2 E   Bb down M2 Ab   Eb down m3 C   Bb down m3 G   C up m3 Eb   G up M2 A   G up P4 C
G up P5 D   Ab down m2 G    Eb down m2 D   G down M2 F    G down m3 E  b down M3 g  c up M3 e
"""
# Computed by two programs, which agreed.
COMPUTED_KEYS = """
Eb up M2 F   Bb up M6 G   F up P5 C    A down m3 F#   E up M2 F#   Db up P5 Ab   C up M6 A   Ab up M2 Bb
F up m3 Ab   B up P5 F#   D up m3 F    A up M2 B      g up M2 a    d up P5 a     c# up m3 e  f up M6 d
"""


@pytest.mark.parametrize("row", [" ".join(w) for w in zip(*[iter((PUBLISHED_KEYS + COMPUTED_KEYS).split())] * 4)])  # noqa: B905
def test_published_key_transpositions(row: str) -> None:
    start, direction, interval, end = row.split()
    assert transpose_key(Key.parse(start), Interval.parse(interval), up=direction == "up") == Key.parse(end)


def test_thirty_key_transpositions() -> None:
    assert (len(PUBLISHED_KEYS.split()), len(COMPUTED_KEYS.split())) == (4 * 14, 4 * 16)


def test_a_raised_degree_stays_raised() -> None:
    # Schmidt-Jones, Understanding Basic Music Theory, m10668: B natural in E flat major becomes A sharp in D major.
    key, (note,) = transpose_melody([Pitch("B", 0, 4)], Key.parse("Eb"), Interval("m", 2), up=False)
    assert (key.text, note.short) == ("D major", "A#4")


# Common practice: past seven signs the enharmonic key is written, with every note respelt.
@pytest.mark.parametrize(
    ("key", "interval", "up", "new", "notes"),
    [
        ("F# major", "M2", True, "A flat major", "Ab4 C5 G4"),
        ("Gb major", "M2", False, "E major", "E4 G#4 D#4"),
        ("C# major", "P5", True, "A flat major", "Ab4 C5 G4"),
        ("Cb major", "P4", True, "E major", "E4 G#4 D#4"),
        ("A# minor", "P5", True, "F minor", "F5 Ab5 E5"),
    ],
)
def test_past_seven_signs(key: str, interval: str, up: bool, new: str, notes: str) -> None:
    old = Key.parse(key)
    tonic = Pitch(old.tonic.step, old.tonic.alter, 4)
    third = transpose(tonic, Interval("m" if old.is_minor else "M", 3))
    leading = transpose(tonic, Interval("m", 2), up=False)
    moved_key, moved = transpose_melody([tonic, third, leading], old, Interval.parse(interval), up=up)
    assert moved_key.text == new
    assert [pitch.name.short for pitch in moved] == [Pitch.parse(note).name.short for note in notes.split()]


def test_respelling_keeps_the_sound() -> None:
    assert respell(Pitch("B", 1, 3), 1).short == "C4"


def test_a_note_moved_past_the_numbered_octaves_is_refused() -> None:
    with pytest.raises(UnknownNoteError, match="octaves"):
        transpose(Pitch("C", 0, 19), Interval("P", 15))


@given(keys, intervals)
def test_a_key_keeps_its_mode(key: Key, interval: Interval) -> None:
    """A transposed key stays major or minor."""
    assume(interval.number > 1)
    assert transpose_key(key, interval).mode == key.mode
