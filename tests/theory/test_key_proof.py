"""Proof of the key of an extract."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stavewright.theory.errors import UnknownKeyError
from stavewright.theory.interval import Interval
from stavewright.theory.key import Key, key_of
from stavewright.theory.key_proof import prove_key
from stavewright.theory.pitch import NoteName, Pitch
from stavewright.theory.scale import scale_names
from stavewright.theory.transposition import transpose_key, transpose_name
from theory.any_pitch import keys


def names(text: str) -> list[NoteName]:
    return [NoteName.parse(note) for note in text.split()]


# Common practice: signature, last note, leading note.
@pytest.mark.parametrize(
    ("fifths", "notes", "key", "reason"),
    [
        (0, "C E G B C", "C major", "it ends on C and every note fits the key signature"),
        (0, "A C E G# A", "A minor", "it ends on A and has G sharp, the raised 7th"),
        (0, "A F# G# A", "A minor", "it ends on A and has G sharp, the raised 7th"),
        (0, "A B C A", None, "it ends on A but has no G sharp, the raised 7th of A minor"),
        (0, "A F# E A", None, "it has the raised 6th of A minor but not its raised 7th"),
        (0, "A G# C", None, "it ends on C, but G sharp is foreign to it"),
        (0, "A G# D# A", None, "it ends on A, but D sharp is foreign to it"),
        (0, "C F# G", None, "it ends on neither C nor A"),
        (1, "G F# G", "G major", "it ends on G and every note fits the key signature"),
        (1, "E D# E", "E minor", "it ends on E and has D sharp, the raised 7th"),
        (-3, "C B C", "C minor", "it ends on C and has B, the raised 7th"),
        (-3, "C Bb C", None, "it ends on C but has no B, the raised 7th of C minor"),
        (-1, "F B F", None, "it ends on F, but B is foreign to it"),
        (0, "", None, "there are no notes to judge by"),
    ],
)
def test_proofs(fifths: int, notes: str, key: str | None, reason: str) -> None:
    proof = prove_key(names(notes), fifths)
    assert (proof.key and proof.key.text, proof.reason) == (key, reason)
    major, minor = key_of(fifths, "major"), key_of(fifths, "minor")
    on_minor = notes.split()[-1:] == [minor.tonic.short]
    assert proof.candidates == ((proof.key,) if proof.key else (minor, major) if on_minor else (major, minor))


@given(keys)
def test_a_scale_proves_its_key(key: Key) -> None:
    """A scale from tonic to tonic proves its key: in minor the harmonic or melodic, never the natural form."""
    if not key.is_minor:
        assert prove_key(scale_names(key.tonic, "major"), key.fifths).key == key
        return
    for form, proved in (("harmonic minor", key), ("melodic minor", key), ("natural minor", None)):
        assert prove_key(scale_names(key.tonic, form), key.fifths).key == proved


@given(st.lists(st.integers(-3, 9), min_size=1, max_size=12))
def test_a_proof_moves_with_the_music(places: list[int]) -> None:
    """Transposed with its signature, an extract proves the transposed key or none."""
    notes = [NoteName.from_fifths(place) for place in places]
    tone = Interval("M", 2)
    here = prove_key(notes, 0)
    there = prove_key([transpose_name(note, tone) for note in notes], 2)
    assert there.key == (here.key and transpose_key(here.key, tone))


@given(st.lists(st.integers(-3, 9), min_size=1, max_size=12))
def test_a_proved_key_is_the_key_of_its_last_note(places: list[int]) -> None:
    """A melody whose key is proved ends on the tonic; at most the raised 6th and 7th are foreign to its signature."""
    notes = [NoteName.from_fifths(place) for place in places]
    key = prove_key(notes, 0).key
    if key is not None:
        assert notes[-1] == key.tonic
        foreign = {note for note in notes if not key.holds(note)}
        allowed = set(scale_names(key.tonic, "melodic minor")) if key.is_minor else set()
        assert foreign <= allowed
        assert key.leading_note in notes or not key.is_minor


def test_pitches_serve_as_well_as_names() -> None:
    proof = prove_key([Pitch("A", 0, 4), Pitch("G", 1, 4), Pitch("A", 0, 4)], 0)
    assert proof.key == Key.parse("a")


def test_a_signature_that_is_none_is_refused() -> None:
    with pytest.raises(UnknownKeyError, match="8 is not a key signature"):
        prove_key([NoteName("C")], 8)
