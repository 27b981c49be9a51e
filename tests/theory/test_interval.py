"""Intervals against published tables and against music21."""

from __future__ import annotations

import pytest
from hypothesis import given
from music21 import interval as music21_interval
from music21 import pitch as music21_pitch

from stavewright.theory.errors import UnknownIntervalError
from stavewright.theory.interval import Interval, between, of_size, ordinal
from stavewright.theory.pitch import STEPS, Pitch
from theory.any_pitch import EVERY_PITCH, every_interval, intervals, pitches, simple_intervals

# Gehrkens, Music Notation and Terminology (1914) §§184-197, except those named after them.
GEHRKENS = """
C4-C#4 A1   B3-C4 m2    F4-Gb4 m2   B3-C#4 M2   C4-D4 M2    Bb3-C4 M2
E4-F#4 M2   F#4-G#4 M2  Gb4-Ab4 M2  F4-G#4 A2   C4-Eb4 m3   C4-Ebb4 d3
E4-G4 m3    C4-E4 M3    Eb4-G4 M3   E4-G#4 M3   C#4-F4 d4   C4-F4 P4
C4-F#4 A4   C4-Gb4 d5   C4-G4 P5    C4-G#4 A5   C4-Ab4 m6   E4-C5 m6
C4-A4 M6    C4-A#4 A6   C4-Bbb4 d7  C4-Bb4 m7   C4-B4 M7    C4-Cb5 d8
C4-C5 P8    C4-C#5 A8   Eb4-Gb4 m3
"""
# Schmidt-Jones, Understanding Basic Music Theory, m10867.
SCHMIDT_JONES = """
C4-D#4 A2  C4-Db4 m2  C4-Dbb4 d2  C4-E#4 A3  C4-Fb4 d4  Eb4-Bb4 P5  C4-Abb4 d6  C4-B#4 A7
"""
# LilyPond Music Glossary; Open Music Theory, version 1, intervals.
OTHERS = "A3-C4 m3  C4-E5 M10"
# No book: computed by two programs, which agreed.
COMPUTED = """
D4-F#4 M3   D4-C5 m7    F4-B4 A4    B3-F4 d5    G3-Eb4 m6   Ab3-C4 M3   F#4-D5 m6
Bb3-A4 M7   G#3-F4 d7   F#4-Eb5 d7  Db4-F4 M3   B3-E4 P4    Eb4-F#4 A2  C#4-Bb4 d7
F4-E5 M7    G4-F#5 M7   A3-G#4 M7   D4-Bb4 m6   E4-G#4 M3   F#3-C4 d5   Bb3-E4 A4
Ab3-B4 A9   D4-B5 M13   F3-Db5 m13  G3-A4 M9    A3-D5 P11   C4-G5 P12   Eb4-C6 M13
F#4-F5 d8   Bb3-B4 A8   G4-Ab4 m2   D#4-G4 d4   Fb4-A4 A3   C#4-Eb4 d3  B3-Ab4 d7
Gb3-Db4 P5  A#3-C#4 m3  E#4-G#4 m3  Cb4-Eb4 M3  D4-Fb4 d3   Ab3-F#4 A6  E3-B#3 A5
"""


def table(*texts: str) -> list[tuple[str, str, str]]:
    """Read rows such as ``C4-E4 M3``."""
    words = " ".join(texts).split()
    return [(*pair.split("-"), name) for pair, name in zip(words[::2], words[1::2], strict=True)]  # type: ignore[misc]


@pytest.mark.parametrize(("low", "high", "name"), table(GEHRKENS, SCHMIDT_JONES, OTHERS, COMPUTED))
def test_published_intervals(low: str, high: str, name: str) -> None:
    first, second = Pitch.parse(low), Pitch.parse(high)
    assert between(first, second).short == between(second, first).short == name
    assert Interval.parse(name) == between(first, second)


def test_the_tables_are_whole() -> None:
    assert len(table(GEHRKENS, SCHMIDT_JONES, OTHERS)) == 43
    assert len(table(COMPUTED)) == 42


def every_pair() -> list[tuple[Pitch, Pitch]]:
    """Pair thirty-five pitches of octave 4 with those of octaves 3 to 6: 4,900 pairs."""
    others = [pitch.shifted(octaves) for octaves in (-1, 0, 1, 2) for pitch in EVERY_PITCH]
    return [(first, second) for first in EVERY_PITCH for second in others]


def music21_name(first: Pitch, second: Pitch) -> str:
    low, high = (music21_pitch.Pitch(pitch.short.replace("b", "-")) for pitch in (first, second))
    return str(music21_interval.Interval(low, high).name)


def test_music21_agrees_on_every_pair_that_it_can_name() -> None:
    """Every pair agrees, apart from the flaws of music21 listed by name below."""
    agreed, unisons, beyond = 0, [], []
    for first, second in every_pair():
        own = between(first, second)
        if first.diatonic == second.diatonic and second.midi < first.midi:
            unisons.append((first, second))
        elif len(own.quality) > 4:
            beyond.append((first, second))
        else:
            low, high = (first, second) if first.diatonic <= second.diatonic else (second, first)
            assert music21_name(low, high) == own.short, (first.short, second.short)
            agreed += 1
    assert (agreed, len(unisons), len(beyond)) == (4822, 70, 8)


def test_music21_flaw_diminished_unison() -> None:
    """music21 calls C4 to C flat 4 a diminished unison; books call it an augmented unison coming down."""
    assert music21_name(Pitch("C", 0, 4), Pitch("C", -1, 4)) == "d1"
    assert between(Pitch("C", 0, 4), Pitch("C", -1, 4)).short == "A1"


def test_music21_flaw_inversion_of_the_augmented_octave() -> None:
    """music21 gives the complement of an augmented octave as a diminished unison, which does not exist."""
    assert music21_interval.Interval("A8").complement.name == "d1"
    assert Interval("A", 8).inversion.short == "d8"


def test_music21_flaw_beyond_fourfold() -> None:
    """music21 cannot name an interval augmented or diminished more than four times: it raises, or names it wrongly."""
    wrong = 0
    for first, second in every_pair():
        own = between(first, second)
        if len(own.quality) > 4:
            try:
                wrong += music21_name(first, second) != own.short
            except music21_interval.IntervalException:
                wrong += 1
            assert between(first, second) == Interval(own.quality, own.number)
    assert wrong == 8


@given(simple_intervals)
def test_an_interval_and_its_inversion_add_to_nine(interval: Interval) -> None:
    """An interval and its inversion add to nine; perfect stays perfect, major and minor change, so do A and d."""
    turned = interval.inversion
    if (interval.number, interval.quality[0]) != (8, "A"):
        assert interval.number + turned.number == 9
        assert interval.semitones + turned.semitones == 12
        assert turned.inversion == interval
    assert {interval.quality[0], turned.quality[0]} in ({"P"}, {"M", "m"}, {"A", "d"})


# Gehrkens, Music Notation and Terminology (1914) §195; Schmidt-Jones, Understanding Basic Music Theory, m10867.
@pytest.mark.parametrize(("name", "turned"), [("A3", "d6"), ("P5", "P4"), ("d5", "A4"), ("M7", "m2"), ("m6", "M3")])
def test_published_inversions(name: str, turned: str) -> None:
    assert Interval.parse(name).inversion.short == turned


# Gehrkens, Music Notation and Terminology (1914) §§185-192; Schmidt-Jones m10867.
@pytest.mark.parametrize(
    ("name", "semitones"),
    list(
        zip("m2 M2 m3 M3 P4 A4 d5 P5 m6 M6 m7 M7 P8".split(), (1, 2, 3, 4, 5, 6, 6, 7, 8, 9, 10, 11, 12), strict=True)
    ),
)
def test_sizes_in_semitones(name: str, semitones: int) -> None:
    assert Interval.parse(name).semitones == semitones


@given(pitches, pitches)
def test_an_interval_has_no_direction(first: Pitch, second: Pitch) -> None:
    """The interval between two notes is the same whichever is named first."""
    assert between(first, second) is between(second, first)


@given(intervals)
def test_size_fixes_the_name(interval: Interval) -> None:
    """Letters and semitones between the ends decide number and quality."""
    assert of_size(interval.steps, interval.semitones) == interval
    assert Interval.from_size(interval.steps, interval.semitones) == interval


@given(intervals)
def test_every_name_reads_back(interval: Interval) -> None:
    """Each name that a marker takes reads back as the interval, unless it names a semitone or a double octave."""
    for name in interval.names:
        if "semitone" not in name and "double octave" not in name:
            assert Interval.parse(name) == interval


@given(intervals)
def test_a_compound_is_its_simple_interval_and_octaves(interval: Interval) -> None:
    """A compound interval is a simple one widened by whole octaves."""
    assert interval.simple.number <= 8
    assert (interval.semitones - interval.simple.semitones) % 12 == 0
    assert interval.is_compound == (interval.number > 8)


@pytest.mark.parametrize(
    ("text", "short"),
    [
        ("minor 6th", "m6"),
        ("Minor Sixth", "m6"),
        ("perfect octave", "P8"),
        ("perfect 8th", "P8"),
        ("augmented unison", "A1"),
        ("augmented prime", "A1"),
        ("compound major 3rd", "M10"),
        ("compound perfect octave", "P15"),
        ("perfect double octave", "P15"),
        ("doubly augmented 4th", "AA4"),
        ("doubly-diminished fifth", "dd5"),
        ("major 22nd", None),
        ("perfect 22nd", "P22"),
    ],
)
def test_reading_intervals(text: str, short: str | None) -> None:
    if short is None:
        with pytest.raises(UnknownIntervalError):
            Interval.parse(text)
    else:
        assert Interval.parse(text).short == short


# Gehrkens, Music Notation and Terminology (1914) §§184-194: which kinds each number has.
@pytest.mark.parametrize("text", ["P3", "M5", "m4", "m8", "P2", "M1", "d1", "dd1", "X4", "m", "6", "", "M0", "minor"])
def test_intervals_that_do_not_exist(text: str) -> None:
    with pytest.raises(UnknownIntervalError) as caught:
        Interval.parse(text)
    assert caught.value.right


@pytest.mark.parametrize("number", [0, -1, 201, 2.5, True])
def test_numbers_that_are_none(number: int) -> None:
    with pytest.raises(UnknownIntervalError):
        Interval("A", number)


def test_ordinals() -> None:
    assert [ordinal(n) for n in (1, 2, 3, 4, 11, 12, 13, 15, 21, 22, 23)] == (
        "1st 2nd 3rd 4th 11th 12th 13th 15th 21st 22nd 23rd".split()
    )


def test_every_interval_is_counted() -> None:
    assert len(every_interval(15)) == 81
    assert len({between(Pitch("C", 0, 4), Pitch(step, 0, 4)) for step in STEPS}) == 7


def test_music21_agrees_on_all_ascending_pairs_of_two_octaves() -> None:
    """Going up, to four times augmented or diminished, music21 gives the same name to all 1,852 pairs."""
    agreed = 0
    for first in EVERY_PITCH:
        for second in [pitch.shifted(octaves) for octaves in (0, 1) for pitch in EVERY_PITCH]:
            if (second.diatonic, second.midi) >= (first.diatonic, first.midi):
                own = between(first, second)
                if len(own.quality) <= 4:
                    assert music21_name(first, second) == own.short
                    agreed += 1
    assert agreed == 1852
