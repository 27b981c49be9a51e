"""Composed melodies as a source for questions: always in scope, always provable, None only where nothing fits."""

from __future__ import annotations

from random import Random

import pytest

from stavewright.questions.melodies import Melodies
from stavewright.score.check import faults
from stavewright.syllabus.scope import scope_for
from stavewright.theory.key import Key
from stavewright.theory.key_proof import prove_key
from stavewright.tunes.composed import CREDIT, ComposedMelodies


@pytest.mark.parametrize("grade", [1, 2, 3, 4, 5])
@pytest.mark.parametrize("bars", [2, 4, 8])
def test_in_scope(grade: int, bars: int) -> None:
    """A melody of a grade uses only its keys, times, clefs, values and range, and proves its key."""
    scope = scope_for(grade)
    source: Melodies = ComposedMelodies()
    for seed in range(25):
        found = source.melody(scope, Random(seed), bars=bars)
        assert found is not None
        stave = found.score.staves[0]
        low, high = scope.range_of(stave.clef)
        assert found.key in scope.keys
        assert stave.time in scope.time_signatures
        assert stave.clef in scope.clefs
        assert len(stave.bars) == bars + found.score.anacrusis
        assert faults(found.score) == []
        notes = [note.pitch for note in found.score.notes()]
        assert all(low.diatonic <= pitch.diatonic <= high.diatonic for pitch in notes)
        assert {note.duration.type for note in found.score.notes()} <= set(scope.values)
        assert prove_key(notes, found.key.fifths).key == found.key
        assert found.credit == CREDIT


def test_as_asked() -> None:
    """The clef and key that are asked for are kept, and a clef outside the grade gives nothing."""
    key = Key.parse("F# minor")
    found = ComposedMelodies().melody(scope_for(5), Random(3), clef="tenor", key=key)
    assert found is not None
    assert (found.score.staves[0].clef, found.key) == ("tenor", key)
    assert ComposedMelodies().melody(scope_for(1), Random(3), clef="tenor") is None


def test_things_to_find() -> None:
    """Among many melodies there are slurs, staccato, hairpins, rests and tempo words for questions to ask about."""
    scores = [ComposedMelodies().melody(scope_for(3), Random(seed)) for seed in range(40)]
    directions = {d.kind for one in scores if one for bar in one.score.staves[0].bars for d in bar.directions}
    assert {"tempo", "dynamic", "crescendo", "diminuendo"} <= directions
    notes = [note for one in scores if one for note in one.score.notes()]
    assert any(note.slur for note in notes)
    assert any("staccato" in note.marks for note in notes)
