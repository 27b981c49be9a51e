"""Four-part cadences keep the rules of docs/composing.md."""

from __future__ import annotations

from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stavewright.composing.errors import CannotCompose
from stavewright.composing.four_part import cadence_labels, cadence_progression, chord_ids
from stavewright.score.check import faults
from stavewright.score.event import Chord, Note
from stavewright.score.stave import Score
from stavewright.theory.cadence import CADENCES, cadence
from stavewright.theory.chord import ChordLabel, chord_notes, identify
from stavewright.theory.key import ALL_KEYS, Key
from stavewright.theory.metre import TimeSignature
from stavewright.theory.part_writing import check_parts
from stavewright.theory.pitch import Pitch

few = settings(max_examples=40, deadline=None)
asked = {
    "seed": st.integers(0, 100_000),
    "key": st.sampled_from(ALL_KEYS),
    "name": st.sampled_from(CADENCES),
    "layout": st.sampled_from(("keyboard", "choir")),
    "time": st.sampled_from([TimeSignature.parse(text) for text in ("2/4", "3/4", "4/4", "6/8", "12/8", "3/2")]),
}


def made(seed: int, key: Key, name: str, layout: str, time: TimeSignature) -> tuple[tuple[ChordLabel, ...], Score]:
    rng = Random(seed)
    labels = cadence_labels(name, rng)
    return labels, cadence_progression(key, labels, rng, layout=layout, time=time)  # type: ignore[arg-type]


def chords(score: Score) -> list[list[Pitch]]:
    """Each chord from the top note down."""
    by_id = {event.id: event for event in score.events()}
    rows = []
    for ids in chord_ids(score):
        events = [by_id[one] for one in ids]
        assert all(isinstance(event, Note | Chord) for event in events)
        rows.append([pitch for event in events for pitch in reversed(event.pitches)])  # type: ignore[union-attr]
    return rows


@few
@given(**asked)
def test_no_fault(seed: int, key: Key, name: str, layout: str, time: TimeSignature) -> None:
    """Four parts pass every check: ranges, spacing, crossing, overlap, consecutives, leading note."""
    _, score = made(seed, key, name, layout, time)
    assert check_parts(chords(score), key) == ()
    assert faults(score) == []


@few
@given(**asked)
def test_labels(seed: int, key: Key, name: str, layout: str, time: TimeSignature) -> None:
    """Every chord is complete, and reads as the label it was written from."""
    labels, score = made(seed, key, name, layout, time)
    assert tuple(identify(chord, key) for chord in chords(score)) == labels


@few
@given(**asked)
def test_cadence(seed: int, key: Key, name: str, layout: str, time: TimeSignature) -> None:
    """The last two chords make the cadence that was asked for."""
    _, score = made(seed, key, name, layout, time)
    first, last = (identify(chord, key) for chord in chords(score)[-2:])
    assert first is not None
    assert last is not None
    assert cadence(first, last) == name


@few
@given(asked["seed"], asked["key"], asked["layout"])
def test_seventh(seed: int, key: Key, layout: str) -> None:
    """A seventh falls by step."""
    labels = [ChordLabel.parse(text) for text in "I IIb V7 I".split()]
    before, after = chords(cadence_progression(key, labels, Random(seed), layout=layout))[-2:]  # type: ignore[arg-type]
    seventh = chord_notes(key, ChordLabel(5, seventh=True))[3]
    falls = [b.diatonic - a.diatonic for a, b in zip(before, after, strict=True) if a.name == seventh]
    assert falls == [-1]


@few
@given(asked["seed"], asked["key"], asked["name"])
def test_layout(seed: int, key: Key, name: str) -> None:
    """Three notes lie under the right hand, and choir voices share their stave by stems."""
    time = TimeSignature(4, 4)
    _, keyboard = made(seed, key, name, "keyboard", time)
    for chord in chords(keyboard):
        assert chord[0].midi - chord[2].midi <= 12
    assert keyboard.join == "brace"
    _, choir = made(seed, key, name, "choir", time)
    for stave in choir.staves:
        for bar in stave.bars:
            stems = [{event.stem for event in voice if isinstance(event, Note)} for voice in bar.voices]
            assert stems == [{"up"}, {"down"}]


@few
@given(**asked)
def test_last_chord(seed: int, key: Key, name: str, layout: str, time: TimeSignature) -> None:
    """A last chord stands on a first beat, unless Ic before it does."""
    labels, score = made(seed, key, name, layout, time)
    last = score.staves[0].bars[-1].events
    assert len(last) == (2 if labels[-2] == ChordLabel(1, 2) else 1)


@pytest.mark.parametrize("name", CADENCES)
def test_simple_labels(name: str) -> None:
    """Without inversions and sevenths every chord is a root-position triad, and the cadence still the one asked."""
    for seed in range(10):
        labels = cadence_labels(name, Random(seed), inversions=False, sevenths=False)
        assert all(label.inversion == 0 and not label.seventh for label in labels)
        assert cadence(*labels[-2:]) == name


@pytest.mark.parametrize("row", ["I IV Ic V", "I IIb V", "I IIb Ic V7 I", "Ib IV V VI", "I Vb I IV I", "V I", "I"])
@pytest.mark.parametrize("mode", ["major", "minor"])
def test_every_chord_written(row: str, mode: str) -> None:
    """A row of chords is written whole, in order, whichever beat it ends on."""
    key = Key.parse(f"G {mode}")
    labels = [ChordLabel.parse(text) for text in row.split()]
    for time in (TimeSignature(4, 4), TimeSignature(3, 4)):
        score = cadence_progression(key, labels, Random(1), time=time)
        assert [identify(chord, key) for chord in chords(score)] == labels
        assert faults(score) == []


def test_refusals() -> None:
    """Chords that cannot be written without a fault are refused by name."""
    with pytest.raises(CannotCompose, match="at least one chord"):
        cadence_progression(Key.parse("C"), [], Random(1))
    with pytest.raises(CannotCompose, match="choose other chords"):
        cadence_progression(
            Key.parse("C"), [ChordLabel(5, 3, seventh=True), ChordLabel(5, 0), ChordLabel(2)], Random(1)
        )
    for time in (TimeSignature(5, 4), TimeSignature(9, 8)):
        with pytest.raises(CannotCompose, match="one value fills"):
            cadence_progression(Key.parse("C"), [ChordLabel(5), ChordLabel(1)], Random(1), time=time)
