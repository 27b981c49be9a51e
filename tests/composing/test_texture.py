"""Chords written out as a texture: well written, in range, no faults at the chords, notes between by step only."""

from __future__ import annotations

from itertools import pairwise
from random import Random

import pytest

from stavewright.composing.errors import CannotCompose
from stavewright.composing.four_part import cadence_labels
from stavewright.composing.texture import TEXTURES, TIMES, textured
from stavewright.score.check import faults
from stavewright.theory.chord import ChordLabel, chord_notes
from stavewright.theory.key import ALL_KEYS, Key


def drawn(count: int):
    for seed in range(count):
        rng = Random(seed)
        key = rng.choice([key for key in ALL_KEYS if abs(key.fifths) <= 6])
        labels = cadence_labels(rng.choice(("perfect", "plagal", "imperfect")), rng, sevenths=False)
        texture, time = rng.choice(TEXTURES), rng.choice(TIMES)
        try:
            yield key, labels, texture, textured(key, labels, rng, texture=texture, time=time)
        except CannotCompose:
            continue


def test_the_passage_is_well_written_and_every_chord_has_its_bracket() -> None:
    """Bars add up, signs say what the notes are; each chord but the last is spanned by two events of the top voice."""
    seen = set()
    for _, labels, texture, made in drawn(120):
        assert faults(made.score) == []
        assert len(made.spans) == len(labels) - 1
        ids = [event.id for bar in made.score.staves[0].bars for event in bar.voices[0]]
        places = [(ids.index(first), ids.index(last)) for first, last in made.spans]
        assert all(first < last for first, last in places)
        assert all(a[1] < b[0] for a, b in pairwise(places))
        seen.add(texture)
    assert seen == set(TEXTURES)


def test_notes_between_chords_move_by_step_and_are_not_struck_first() -> None:
    """Passing and neighbour notes are reached and left by step, on the weak part of a chord (common practice)."""
    strays = 0
    for key, labels, _, made in drawn(120):
        rows = [event for bar in made.score.staves[0].bars for event in bar.voices[0]]
        ids = [event.id for event in rows]
        for label, (first, last) in zip(labels, made.spans, strict=False):
            names = chord_notes(key, label)
            for at in range(ids.index(first), ids.index(last) + 1):
                here = rows[at].pitches[-1]
                if here.name in names:
                    continue
                strays += 1
                assert at > ids.index(first)
                for other in (rows[at - 1], rows[at + 1]):
                    assert abs(other.pitches[-1].diatonic - here.diatonic) == 1
    assert strays > 30


def test_what_cannot_be_written_is_refused_by_name() -> None:
    row = [ChordLabel(5), ChordLabel(1)]
    for labels, texture, time in ((row[:1], "choir", TIMES[0]), (row, "organ", TIMES[0])):
        with pytest.raises(CannotCompose, match="texture of"):
            textured(Key.parse("C"), labels, Random(1), texture=texture, time=time)
