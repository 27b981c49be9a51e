"""Instruments against published tables and music21."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from music21 import instrument as music21_instrument

from stavewright.theory.clef import CLEFS
from stavewright.theory.errors import UnknownInstrumentError
from stavewright.theory.instrument import (
    FAMILIES,
    FAMILY_ORDER,
    INSTRUMENTS,
    OPEN_STRINGS,
    TECHNIQUES,
    Instrument,
    instrument,
)
from stavewright.theory.interval import Interval
from stavewright.theory.key import Key
from stavewright.theory.pitch import Pitch
from theory.any_pitch import keys

every_instrument = st.sampled_from(list(INSTRUMENTS.values()))
middling = st.builds(Pitch, st.sampled_from("CDEFGAB"), st.integers(-1, 1), st.integers(3, 5))

# Schmidt-Jones, Understanding Your French Horn, m10672, all but those after the line of dots.
# After it: MuseScore 3.2.3 instruments table. Tenor horn and descant recorder: from memory.
TRANSPOSITIONS = """
piccolo up P8; flute = ; oboe = ; bassoon = ; violin = ; viola = ; cello = ; trombone = ; harp = ; piano = ;
alto flute down P4; cor anglais down P5; clarinet in B flat down M2; clarinet in A down m3; clarinet in E flat up m3;
bass clarinet down M9; contrabassoon down P8; soprano saxophone down M2; alto saxophone down M6;
tenor saxophone down M9; baritone saxophone down M13; horn in F down P5; trumpet in B flat down M2;
cornet in B flat down M2; flugelhorn down M2; euphonium in B flat down M9; euphonium = ; tuba = ;
double bass down P8; guitar down P8;
bass flute down P8; trumpet in C = ; trumpet in D up M2; trumpet in A down m3; cornet in E flat up m3;
E flat bass down M13; B flat bass down M16; glockenspiel up P15; xylophone up P8; celesta up P8;
tenor horn down M6; descant recorder up P8
"""


def transposition_rows() -> list[tuple[str, str]]:
    rows = []
    for row in " ".join(TRANSPOSITIONS.split()).split(";"):
        words = row.split()
        cut = -1 if words[-1] == "=" else -2
        rows.append((" ".join(words[:cut]), " ".join(words[cut:])))
    return rows


@pytest.mark.parametrize(("name", "sounds"), transposition_rows())
def test_published_transpositions(name: str, sounds: str) -> None:
    found = instrument(name)
    if sounds == "=":
        assert not found.is_transposing
        assert found.transposition_text == "sounds as written"
    else:
        direction, interval = sounds.split()
        assert found.transposes == Interval.parse(interval)
        assert found.sounds_higher == (direction == "up")
        assert found.transposition_text.endswith("higher than written" if direction == "up" else "lower than written")


def test_the_table_of_transpositions_is_whole() -> None:
    named = {name for name, _ in transposition_rows()}
    assert {row.name for row in INSTRUMENTS.values() if row.is_transposing} <= named
    assert len(named) == 42


# Computed from the intervals above by two programs, which agreed.
WRITTEN_TO_SOUNDING = {
    "clarinet in B flat": "E4 D4 G#4 F#4 Eb5 Db5",
    "trumpet in B flat": "E4 D4",
    "clarinet in A": "C5 A4 F#5 D#5",
    "clarinet in E flat": "G4 Bb4",
    "horn in F": "B4 E4 Bb3 Eb3",
    "cor anglais": "A4 D4",
    "alto saxophone": "F5 Ab4 C#5 E4",
    "tenor saxophone": "D4 C3",
    "bass clarinet": "A4 G3",
    "baritone saxophone": "C5 Eb3",
    "alto flute": "D5 A4",
}
SOUNDING_TO_WRITTEN = {
    "clarinet in B flat": "F4 G4 Eb4 F4 F#4 G#4",
    "clarinet in A": "D4 F4",
    "clarinet in E flat": "C5 A4",
    "horn in F": "C4 G4 A4 E5",
    "cor anglais": "F#4 C#5",
    "alto saxophone": "Bb4 G5",
    "tenor saxophone": "Bb3 C5",
    "alto flute": "G4 C5",
    "double bass": "E1 E2",
}


def pairs(table: dict[str, str]) -> list[tuple[str, str, str]]:
    return [
        (name, first, second)
        for name, notes in table.items()
        for first, second in zip(notes.split()[::2], notes.split()[1::2], strict=True)
    ]


@pytest.mark.parametrize(("name", "written", "sounding"), pairs(WRITTEN_TO_SOUNDING))
def test_written_to_sounding(name: str, written: str, sounding: str) -> None:
    assert instrument(name).sounding(Pitch.parse(written)).short == sounding


@pytest.mark.parametrize(("name", "sounding", "written"), pairs(SOUNDING_TO_WRITTEN))
def test_sounding_to_written(name: str, sounding: str, written: str) -> None:
    assert instrument(name).written(Pitch.parse(sounding)).short == written


@given(every_instrument, middling)
def test_written_and_sounding_are_inverse(player: Instrument, pitch: Pitch) -> None:
    """What is written for a sounding note sounds as that note."""
    assert player.sounding(player.written(pitch)) == pitch


@given(every_instrument, keys, middling)
def test_the_part_is_in_the_key_of_its_notes(player: Instrument, concert: Key, pitch: Pitch) -> None:
    """A part's key is the concert key moved as its notes are."""
    part = player.key_of_part(concert)
    tonic = player.written(Pitch(concert.tonic.step, concert.tonic.alter, 4))
    assert part.tonic.pitch_class == tonic.name.pitch_class
    assert part.mode == concert.mode
    assert part in player.keys_of_part(concert)
    assert all(abs(key.fifths) <= 7 for key in player.keys_of_part(concert))


# Butterfield and others, Integrated Musicianship, 12a: C to B flat instrument, horn, alto saxophone.
@pytest.mark.parametrize(
    ("name", "concert", "part"),
    [
        ("clarinet in B flat", "C", "D"),
        ("horn in F", "C", "G"),
        ("alto saxophone", "C", "A"),
        ("violin", "Eb", "Eb"),
        ("clarinet in A", "E", "G"),
    ],
)
def test_keys_of_parts(name: str, concert: str, part: str) -> None:
    assert instrument(name).key_of_part(Key.parse(concert)) == Key.parse(part)


def test_a_part_past_five_signs_may_take_either_name() -> None:
    keys_taken = instrument("clarinet in B flat").keys_of_part(Key.parse("E"))
    assert [key.text for key in keys_taken] == ["F sharp major", "G flat major"]
    assert [key.text for key in instrument("clarinet in B flat").keys_of_part(Key.parse("F#"))] == ["A flat major"]


@pytest.mark.parametrize(
    ("name", "other"),
    [
        ("clarinet in B flat", "Clarinet"),
        ("horn in F", "Horn"),
        ("cor anglais", "EnglishHorn"),
        ("soprano saxophone", "SopranoSaxophone"),
        ("alto saxophone", "AltoSaxophone"),
        ("tenor saxophone", "TenorSaxophone"),
        ("baritone saxophone", "BaritoneSaxophone"),
        ("bass clarinet", "BassClarinet"),
        ("piccolo", "Piccolo"),
        ("double bass", "Contrabass"),
        ("trumpet in B flat", "Trumpet"),
        ("violin", "Violin"),
        ("bassoon", "Bassoon"),
        ("trombone", "Trombone"),
        ("tuba", "Tuba"),
    ],
)
def test_music21_agrees_on_transpositions(name: str, other: str) -> None:
    theirs = getattr(music21_instrument, other)().transposition
    ours = instrument(name)
    if theirs is None:
        assert not ours.is_transposing
    else:
        assert ours.transposes is not None
        assert theirs.directedName == ours.transposes.short.replace(
            ours.transposes.quality,
            f"{ours.transposes.quality}-" if not ours.sounds_higher else ours.transposes.quality,
        )


@pytest.mark.parametrize("other", ["Guitar", "Contrabassoon", "Xylophone", "Celesta", "Glockenspiel"])
def test_music21_flaw_no_transposition(other: str) -> None:
    """music21 says nothing of instruments that sound an octave or more away; every one is in our table."""
    assert getattr(music21_instrument, other)().transposition is None
    assert instrument(other).is_transposing


# Gehrkens, Music Notation and Terminology (1914) Appendix B; flutes without reed, horn's bass clef: common practice.
@pytest.mark.parametrize(
    ("name", "family", "reeds", "clefs"),
    [
        ("oboe", "woodwind", "double", "treble"),
        ("cor anglais", "woodwind", "double", "treble"),
        ("bassoon", "woodwind", "double", "bass tenor"),
        ("contrabassoon", "woodwind", "double", "bass"),
        ("clarinet", "woodwind", "single", "treble"),
        ("bass clarinet", "woodwind", "single", "treble"),
        ("tenor saxophone", "woodwind", "single", "treble"),
        ("flute", "woodwind", "none", "treble"),
        ("piccolo", "woodwind", "none", "treble"),
        ("viola", "strings", None, "alto treble"),
        ("cello", "strings", None, "bass tenor treble"),
        ("double bass", "strings", None, "bass"),
        ("trombone", "brass", None, "bass tenor"),
        ("horn", "brass", None, "treble bass"),
        ("timpani", "percussion", None, "bass"),
    ],
)
def test_published_families_reeds_and_clefs(name: str, family: str, reeds: str | None, clefs: str) -> None:
    found = instrument(name)
    assert (found.family, found.reeds, " ".join(found.clefs)) == (family, reeds, clefs)


# Gehrkens, Music Notation and Terminology (1914) Appendix B.
def test_open_strings() -> None:
    strings = {name: " ".join(p.short for p in notes) for name, notes in OPEN_STRINGS.items()}
    assert strings == {
        "violin": "G3 D4 A4 E5",
        "viola": "C3 G3 D4 A4",
        "cello": "C2 G2 D3 A3",
        "double bass": "E1 A1 D2 G2",
    }
    assert " ".join(instrument("double bass").written(p).short for p in OPEN_STRINGS["double bass"]) == "E2 A2 D3 G3"
    for name, notes in OPEN_STRINGS.items():
        assert instrument(name).can_play(notes[0])


# Common practice.
def test_pitched_and_unpitched_percussion() -> None:
    percussion = [row for row in INSTRUMENTS.values() if row.family == "percussion"]
    assert {row.name for row in percussion if row.is_pitched} == {
        "timpani",
        "glockenspiel",
        "xylophone",
        "tubular bells",
    }
    assert {row.name for row in percussion if not row.is_pitched} == {
        "side drum", "bass drum", "cymbals", "triangle", "tambourine", "gong",
    }  # fmt: skip


# Gehrkens, Music Notation and Terminology (1914) Appendix B, and the MuseScore 3.2.3 instruments table.
@pytest.mark.parametrize(
    ("name", "inside", "outside"),
    [
        ("violin", "G3 C7 G7", "F#3 Ab7"),
        ("cello", "C2 F#6", "B1 G6"),
        ("flute", "C4 B3 D7", "Bb3 E7"),
        ("oboe", "Bb3 E6 C7", "A3"),
        ("bassoon", "Bb1 E5", "A1 F5"),
        ("horn", "B1 F5 G1", "F1 F#5"),
        ("trombone", "E2 Bb4 D5", "B1 Eb5"),
        ("double bass", "C1 E1 G4", "B0 Ab4"),
        ("clarinet in B flat", "D3 Bb6", "C#3 B6"),
        ("alto saxophone", "C#3 Eb6", "C3 E6"),
    ],
)
def test_published_ranges(name: str, inside: str, outside: str) -> None:
    player = instrument(name)
    assert all(player.can_play(Pitch.parse(note)) for note in inside.split())
    assert not any(player.can_play(Pitch.parse(note)) for note in outside.split())


@given(every_instrument)
def test_every_row_makes_sense(player: Instrument) -> None:
    """Woodwind have reeds named; every clef exists; the usual range lies within the limits; unpitched have no clef."""
    assert player.family in FAMILIES
    assert (player.reeds is not None) == (player.family == "woodwind")
    assert set(player.clefs) <= set(CLEFS)
    assert bool(player.clefs) == player.is_pitched
    assert set(player.techniques) <= set(TECHNIQUES)
    if player.usual is not None:
        assert player.limits is not None
        assert player.limits.low.midi <= player.usual.low.midi < player.usual.high.midi <= player.limits.high.midi
    else:
        assert player.can_play(Pitch("C", 0, 4)) is None
    assert instrument(player.name.upper().replace(" FLAT", "♭")) is player


def test_families_run_from_high_to_low() -> None:
    for family, names in FAMILY_ORDER.items():
        lows = [instrument(name).usual for name in names]
        heights = [found.low.midi for found in lows if found is not None]
        assert all(instrument(name).family == family for name in names)
        if family != "brass":  # the horn plays nearly as low as the trombone
            assert heights == sorted(heights, reverse=True)
        assert len(heights) == 4


# Common practice.
@pytest.mark.parametrize(
    ("name", "can", "cannot"),
    [
        ("viola", "arco pizzicato", "tonguing"),
        ("trumpet", "tonguing", "pizzicato arco"),
        ("oboe", "tonguing", "pizzicato"),
        ("harp", "glissando", "arco"),
        ("harpsichord", "", "arco pizzicato"),
        ("timpani", "roll", "arco"),
    ],
)
def test_techniques(name: str, can: str, cannot: str) -> None:
    player = instrument(name)
    assert all(player.has_technique(technique) for technique in can.split())
    assert not any(player.has_technique(technique) for technique in cannot.split())


def test_mutes_and_pedals() -> None:
    muted = {name for name, row in INSTRUMENTS.items() if row.has_technique("con sordini")}
    assert {"violin", "double bass", "trumpet in C", "tuba"} <= muted
    assert not muted & {"harp", "guitar", "flute", "oboe", "piano", "timpani"}
    assert [name for name, row in INSTRUMENTS.items() if row.has_technique("una corda")] == ["piano"]


def test_other_names_and_unknown_names() -> None:
    assert instrument("double bassoon").name == "contrabassoon"
    assert instrument("Clarinet in B-flat") is instrument("clarinet")
    with pytest.raises(UnknownInstrumentError, match="'kazoo' is not in the table"):
        instrument("kazoo")
