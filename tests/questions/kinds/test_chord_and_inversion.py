"""Chords and positions: worked chords, every way of writing the label, doubling and spacing, the slips, music21."""

from __future__ import annotations

import music21
import pytest

from questions.asking_many import drafts
from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.questions.choosing import is_right
from stavewright.questions.kinds.chord_and_inversion import KIND, ChordAndInversion, split_label
from stavewright.questions.values import Value
from stavewright.syllabus.scope import scope_for
from stavewright.theory.errors import UnknownChordError
from stavewright.theory.key import Key


def chord(key: str, upper: str, lower: str = "") -> ChordAndInversion:
    return ChordAndInversion("treble", key, tuple(upper.split()), tuple(lower.split()))


# C-E-G and its two inversions: Gehrkens, Music Notation and Terminology (1914) §§199-200 and figure 66; the others
# follow from §198 (chords of a key) and §200; letters b and c: common practice.
@pytest.mark.parametrize(
    "key, upper, lower, label",
    [
        ("C major", "C4 E4 G4", "", "I"), ("C major", "E4 G4 C5", "", "Ib"), ("C major", "G4 C5 E5", "", "Ic"),
        ("D major", "F#4 A4 D5", "", "Ib"), ("G minor", "D4 G4 Bb4", "", "Ic"), ("C major", "F4 A4 D5", "", "IIb"),
        ("A minor", "D4 F4 B4", "", "IIb"), ("A minor", "B4 E5 G#5", "", "Vc"), ("F major", "D4 F4 Bb4", "", "IVb"),
        ("C major", "C4 E4 G4", "E2", "Ib"), ("C major", "E4 G4 C5", "G2", "Ic"), ("C major", "G4 C5 E5", "C3", "I"),
        ("E minor", "B3 F#4 B4", "D#3", "Vb"),
    ],
)  # fmt: skip
def test_worked_chords(key: str, upper: str, lower: str, label: str) -> None:
    assert texts("chord-and-inversion", chord(key, upper, lower)) == [label]


# Figures 6 and 6/4: Gehrkens (1914) §§199-200; capitals or small numerals, arabic numbers: common practice.
@pytest.mark.parametrize("said", ["IIb", "II6", "ii6", "iib", "2b", "ii 6", "II6/3", "supertonic first inversion"])
def test_every_naming_is_taken(said: str) -> None:
    assert is_right(Value(chords=(said,)), KIND.solve(chord("C major", "F4 A4 D5")), KIND)


@pytest.mark.parametrize("said", ["II", "IIa", "IIc", "IV", "IVb", "ii6/4", "Dm/F", ""])
def test_other_labels_are_not(said: str) -> None:
    assert not is_right(Value(chords=(said,)), KIND.solve(chord("C major", "F4 A4 D5")), KIND)


@pytest.mark.parametrize(
    "said, degree, position",
    [("IIb", "II", "b"), ("ii6/4", "II", "c"), ("V", "V", "a"), ("Va", "V", "a"), ("I6", "I", "b"), ("4c", "IV", "c")],
)
def test_degree_and_position_are_marked_apart(said: str, degree: str, position: str) -> None:
    assert split_label(Value(chords=(said,))) == (degree, position)


def test_each_slip_labels_by_its_wrong_rule() -> None:
    slips = slip_texts("chord-and-inversion", chord("C major", "F4 A4 D5"))
    assert slips["bass taken for the root"] == "IV"
    assert slips["II and IV confused"] == "IVb"
    assert slips["position read from the top note"] == "II"
    assert slips["counted down"] == "VIIb"
    assert slip_texts("chord-and-inversion", chord("C major", "E4 G4 C5"))["position read from the top note"] == "I"
    minor = slip_texts("chord-and-inversion", chord("A minor", "B4 E5 G#5"))
    assert minor["leading note not expected in V"] == "Ic"
    assert minor["counted in the relative key"] == "IIIc"


def test_a_chord_of_another_key_is_refused() -> None:
    with pytest.raises(UnknownChordError, match="no chord of C major"):
        KIND.solve(chord("C major", "F#4 A4 D5"))


def test_music21_finds_the_same_root_and_inversion() -> None:
    """The degree follows from its root and the tonic; its Roman numerals in minor are not asked."""
    seen = set()
    for _, draft in drafts("chord-and-inversion", 250):
        notes = [*draft.facts.lower, *draft.facts.upper]
        found = music21.chord.Chord([note.replace("b", "-") for note in notes])
        degree = ("CDEFGAB".index(found.root().step) - Key.parse(draft.facts.key).tonic.index) % 7
        numeral = ("I", "II", "III", "IV", "V", "VI", "VII")[degree]
        label = numeral + ("", "b", "c")[found.inversion()]
        seen.add(label)
        assert texts("chord-and-inversion", draft.facts) == [label]
        assert numeral in scope_for(5).triads
    assert len(seen) == 12, "every chord and position comes up"


def test_it_keeps_the_rules_of_kinds() -> None:
    keeps_the_rules("chord-and-inversion")
