"""Extracts: only whole phrases that qualify, in the wanted key and clef, the same melody as in the source."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stavewright.score.check import faults
from stavewright.score.event import Rest
from stavewright.theory.grouping import is_accepted
from stavewright.theory.key import ALL_KEYS, Key
from stavewright.theory.pitch import Pitch
from stavewright.tunes.abc_read import read_tune
from stavewright.tunes.extract import Line, Passage, cut
from stavewright.tunes.setting_out import letters_to, set_out
from stavewright.tunes.window import Window, any_windows, phrase_windows, strain_windows

WIDE = (Pitch.parse("C2"), Pitch.parse("C7"))
GOOD = "GABc|dedB|cBAG|FDG2|"


def bars(music: str, *, key: str = "G", metre: str = "4/4", unit: str = "1/4"):
    return read_tune(f"X:1\nM:{metre}\nL:{unit}\nK:{key}\n{music}\n").bars


def passage(music: str, window: Window | None = None, **header) -> Passage | None:
    line = bars(music, **header)
    return cut(Line(line), window or Window(0, len(line)))


def test_a_good_passage_is_kept_with_its_key():
    found = passage(GOOD)
    assert found.key == Key.parse("G")
    assert (found.low.short, found.high.short) == ("D4", "E5")


@pytest.mark.parametrize(
    ("music", "why"),
    [
        ("GABc|de~dB|cBAG|FDG2|", "a bar that was not understood"),
        ("GABc|d{e}edB|cBAG|FDG2|", "grace notes"),
        ("[GB]ABc|dedB|cBAG|FDG2|", "a chord"),
        ("GABc|ded|cBAG|FDG2|", "a bar that is not full"),
        ("GABc|dedBB|cBAG|FDG2|", "a bar that is too full"),
        ("GABc|dedB||cBAG|FDG2|", "a double bar inside"),
        ("GABc|dedB:|cBAG|FDG2|", "a repeat inside"),
        ("zABc|dedB|cBAG|FDG2|", "begins on a rest"),
        ("GABc|dedB|cBAG|FDGz|", "ends on a rest"),
        ("GABc|z4|cBAG|FDG2|", "a silent bar"),
        ("GABc|zzzB|zzzG|FDG2|", "more than a quarter is silence"),
        ("G,ABc|dedB|cBAg|FDG2|", "wider than a 12th"),
        ("G2B2|G2B2|B2G2|B2G2|", "fewer than four different notes"),
        ("G4|B4|d4|G4|", "fewer than three notes in two bars"),
        ("GABc|dedB|cBAG|FDG2-|GABc|", "a tie that leads out"),
        ("GABc|dedB|c(5:4:5B/A/B/A/B/A|FDG2|", "a quintuplet"),
        ("GABc|dedB|K", "too few bars"),
    ],
)
def test_a_passage_that_does_not_qualify(music, why):
    assert passage(music, Window(0, 4)) is None, why


def test_a_change_of_key_or_time_inside_disqualifies():
    assert passage("GABc|dedB|\nK:D\ncBAG|FDG2|", Window(0, 4)) is None
    assert passage("GABc|dedB|\nM:3/4\ncBA|FG2|", Window(0, 4)) is None


def test_a_passage_that_begins_in_a_tie_does_not_qualify():
    line = "GABG-|" + GOOD
    assert passage(line, Window(1, 4)) is None
    assert passage(line.replace("-", ""), Window(1, 4)) is not None


def test_only_a_proved_key_is_a_key():
    """No key where the last note is not the tonic, or a minor tune lacks its raised 7th (common practice)."""
    assert passage("GABc|dedB|cBAG|FDA2|").key is None
    assert passage("EFGA|BAGF|EDEF|GFE2|").key is None
    assert passage("EFGA|BAGF|E^DEF|GFE2|").key == Key.parse("E minor")
    assert cut(Line(bars("GABc|dedB|cBAG|FDA2|")), Window(0, 4), proved=True) is None


PICK_UP = "D|GABc|dedB|cBAG|FDED|GABc|dedB|cBAG|FDG:|"


def test_strains_are_cut_with_their_pick_up():
    """The pick-up belongs to its phrase: the first bar after it is bar 1, the last bar is short by it."""
    line = bars(PICK_UP)
    assert list(strain_windows(line)) == [Window(1, 4, 161280), Window(1, 8, 161280), Window(5, 4, 161280)]
    second = cut(Line(line), Window(5, 4, 161280))
    assert [event.pitch.short for event in second.bars[0]] == ["D4"]
    assert [event.pitch.short for event in second.bars[-1]] == ["F#4", "D4", "G4"]
    first = cut(Line(line), Window(1, 4, 161280))
    assert [event.pitch.short for event in first.bars[-1]] == ["F#4", "D4", "E4"]


def test_strains_are_not_run_together():
    line = bars("|:GABc|dedB|cBAG|FDG2:|:GABc|dedB|cBAG|FDG2:|")
    assert [(w.first, w.bars) for w in strain_windows(line)] == [(0, 4), (4, 4)]


def test_a_second_time_bar_is_not_joined_to_the_first():
    line = bars("|:GABc|dedB|cBAG|1FDA2:|2FDG2|GABc|dedB|cBAG|FDG2|]")
    assert all(w.first != 1 for w in strain_windows(line))
    found = [w for w in strain_windows(line) if cut(Line(line), w)]
    assert [(w.first, w.bars) for w in found] == [(0, 4)]


def test_phrases_of_a_chorale_end_on_its_fermatas():
    music = "D|GABc|dedHB|GABc|dedHB|cBAG|FDEHG|GABc|FDHG|"
    windows = list(phrase_windows(bars(music)))
    ends = {(w.first, w.first + w.bars - 1) for w in windows}
    assert (1, 4) in ends or all(w.pick_up for w in windows)
    for window in windows:
        found = cut(Line(bars(music)), window)
        if found is not None:
            assert "fermata" in found.bars[-1][-1].marks


def test_music_without_phrases_is_cut_at_long_notes():
    assert Window(0, 4) in list(any_windows(bars(GOOD)))


def steps(notes: list[Pitch]) -> list[tuple[int, int]]:
    return [(b.diatonic - a.diatonic, b.midi - a.midi) for a, b in pairwise(notes)]


MELODIES = [
    passage(GOOD), passage("EFGA|BAGF|E^DEF|GFE2|"), passage(PICK_UP, Window(1, 8, 161280)),
    passage("G>AB>c|(3ded B2 c2|cBAG|FDG2|", unit="1/8", metre="2/4", window=Window(0, 4)) or passage(GOOD),
    passage("GAB cBA|GBd g3|edB AGF|GDF G3|", metre="6/8", unit="1/8"),
]  # fmt: skip


@settings(max_examples=150, deadline=None)
@given(st.sampled_from(MELODIES), st.sampled_from(ALL_KEYS), st.sampled_from(["treble", "bass", "alto", "tenor"]))
def test_a_transposed_passage_is_the_same_melody(found, key, clef):
    """Every step keeps its letters and its semitones, the notation is sound, and the key is the wanted one."""
    if found.key.mode != key.mode:
        assert set_out(found, key, clef, WIDE, found.time) is None
        return
    score = set_out(found, key, clef, WIDE, found.time)
    pitches = [note.pitch for note in score.notes()]
    assert steps(pitches) == steps(list(found.pitches))
    assert (pitches[-1].name, score.staves[0].fifths, score.staves[0].clef) == (key.tonic, key.fifths, clef)
    assert faults(score) == []
    assert [event.ticks for event in score.events()] == [event.ticks for bar in found.bars for event in bar]
    assert len({event.id for event in score.events()}) == len(list(score.events()))


def test_beams_are_the_usual_ones():
    found = MELODIES[-1]
    score = set_out(found, Key.parse("F"), "treble", WIDE, found.time)
    for bar in score.staves[0].bars:
        row = [(event.duration, isinstance(event, Rest)) for event in bar.events]
        assert is_accepted([event.beam for event in bar.events], row, found.time).accepted


def test_a_passage_must_fit_the_bounds():
    narrow = (Pitch.parse("C4"), Pitch.parse("C5"))
    assert set_out(MELODIES[0], Key.parse("G"), "treble", narrow, MELODIES[0].time) is None
    inside = (Pitch.parse("D3"), Pitch.parse("E4"))
    moved = set_out(MELODIES[0], Key.parse("G"), "alto", inside, MELODIES[0].time)
    assert [note.pitch.short for note in moved.notes()][:3] == ["G3", "A3", "B3"]


@given(
    st.integers(20, 35),
    st.integers(0, 11),
    st.integers(0, 6),
    st.integers(0, 6),
    st.integers(15, 40),
    st.integers(4, 25),
)
def test_the_octave_nearest_the_middle_is_taken(low, span, tonic, new, bottom, room):
    """Of all octaves that fit the bounds, none lies nearer their middle."""
    bounds = (bottom, bottom + room)
    shift = letters_to(low, low + span, tonic, new, bounds)
    fits = [
        s
        for s in range(-70, 71)
        if (s - new + tonic) % 7 == 0 and low + s >= bottom and low + span + s <= sum(bounds) - bottom
    ]
    if shift is None:
        assert fits == []
    else:
        middle = [abs(2 * low + span + 2 * s - sum(bounds)) for s in fits]
        assert shift in fits
        assert abs(2 * low + span + 2 * shift - sum(bounds)) == min(middle)


def test_slurs_with_one_end_outside_are_taken_away():
    line = bars("G(ABc|d)edB|(cB)AG|FDG2|GABc|dedB|cBAG|FDG2|")
    whole = cut(Line(line), Window(0, 4))
    begun_outside = replace(whole, bars=(whole.bars[1], *whole.bars[1:]))
    assert slurs_of(whole) == ["start", "stop", "start", "stop"]
    assert slurs_of(begun_outside) == ["start", "stop"]


def slurs_of(found: Passage) -> list[str]:
    score = set_out(found, Key.parse("G"), "treble", WIDE, found.time)
    return [note.slur for note in score.notes() if note.slur]


def test_each_note_keeps_its_marks_and_ties():
    found = passage("GAB.c|dedB-|BBAG|FDG2|")
    score = set_out(found, Key.parse("D"), "bass", WIDE, found.time)
    notes = list(score.notes())
    assert [place for place, note in enumerate(notes) if note.tie] == [7]
    assert [place for place, note in enumerate(notes) if note.marks] == [3]
