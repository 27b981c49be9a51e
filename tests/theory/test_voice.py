"""Voices."""

from __future__ import annotations

import pytest

from stavewright.theory.clef import CLEFS
from stavewright.theory.errors import UnknownVoiceError
from stavewright.theory.pitch import Pitch
from stavewright.theory.voice import SATB, VOICES, clef_in_score, voice


# Gehrkens, Music Notation and Terminology (1914) Appendix B; MuseScore 3.2.3 instruments table,
# amateur and professional.
@pytest.mark.parametrize(
    ("name", "gehrkens", "amateur", "professional"),
    [
        ("soprano", "B3 C6", "C4 G5", "C4 C6"),
        ("mezzo-soprano", "B3 G5", "A3 F5", "A3 A5"),
        ("alto", "G3 E5", "G3 D5", "E3 F5"),
        ("tenor", "D3 C5", "C3 A4", "C3 C5"),
        ("baritone", "G2 G4", "G2 E4", "F2 F4"),
        ("bass", "E2 E4", "F2 C4", "D2 D4"),
    ],
)
def test_no_published_range_is_out_of_reach(name: str, gehrkens: str, amateur: str, professional: str) -> None:
    found = voice(name)
    every = [Pitch.parse(note) for text in (gehrkens, amateur, professional) for note in text.split()]
    assert all(found.can_reach(pitch) for pitch in every)
    lows, highs = every[::2], every[1::2]
    assert found.lowest.midi == min(pitch.midi for pitch in (*lows, found.low))
    assert found.highest.midi == max(pitch.midi for pitch in (*highs, found.high))


# From memory: the ranges commonly taught.
@pytest.mark.parametrize(
    ("name", "low", "high"),
    [
        ("soprano", "C4", "A5"),
        ("mezzo-soprano", "A3", "F5"),
        ("alto", "F3", "D5"),
        ("tenor", "C3", "A4"),
        ("baritone", "G2", "E4"),
        ("bass", "E2", "C4"),
    ],
)
def test_taught_ranges(name: str, low: str, high: str) -> None:
    found = voice(name)
    bottom, top = Pitch.parse(low), Pitch.parse(high)
    assert found.sings(bottom)
    assert found.sings(top)
    assert not found.sings(bottom.altered(-1))
    assert not found.sings(top.altered(1))


def test_voices_run_from_high_to_low() -> None:
    heights = [found.low.midi + found.high.midi for found in VOICES.values()]
    assert heights == sorted(heights, reverse=True)
    assert [name for name in VOICES if name in SATB] == list(SATB)
    assert all(set(found.clefs) <= set(CLEFS) for found in VOICES.values())


# Common practice; the tenor in the treble clef: Schmidt-Jones m10672 and MusicXML 4.0.
def test_clefs_in_score() -> None:
    assert [clef_in_score(name, "open") for name in SATB] == ["treble", "treble", "treble", "bass"]
    assert [clef_in_score(name, "short") for name in SATB] == ["treble", "treble", "bass", "bass"]
    assert [name for name, found in VOICES.items() if found.octave_lower] == ["tenor"]


def test_names_that_are_none_are_refused() -> None:
    assert voice("Contralto") is voice("alto")
    with pytest.raises(UnknownVoiceError, match="soprano, mezzo-soprano"):
        voice("falsetto")
    for name, score in (("baritone", "open"), ("tenor", "full")):
        with pytest.raises(UnknownVoiceError, match="short, open"):
            clef_in_score(name, score)
