"""The primary triads: worked chords in major and minor, every way of writing the label, the slips, another program."""

from __future__ import annotations

import music21
import pytest

from questions.asking_many import drafts
from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.questions.choosing import is_right
from stavewright.questions.kinds.primary_triads import KIND, PrimaryTriads
from stavewright.questions.values import Value
from stavewright.syllabus.scope import scope_for
from stavewright.theory.errors import UnknownChordError
from stavewright.theory.key import Key


def chord(key: str, notes: str) -> PrimaryTriads:
    return PrimaryTriads("treble", key, tuple(notes.split()))


# Gehrkens, Music Notation and Terminology (1914) §198: the chords of a major key, and of A minor with its G sharp.
@pytest.mark.parametrize(
    "key, notes, label",
    [
        ("C major", "C4 E4 G4", "I"), ("C major", "F4 A4 C5", "IV"), ("C major", "G4 B4 D5", "V"),
        ("A minor", "A4 C5 E5", "I"), ("A minor", "D4 F4 A4", "IV"), ("A minor", "E4 G#4 B4", "V"),
        ("G minor", "D4 F#4 A4", "V"), ("E flat major", "Ab4 C5 Eb5", "IV"), ("D major", "A4 C#5 E5", "V"),
    ],
)  # fmt: skip
def test_worked_chords(key: str, notes: str, label: str) -> None:
    assert texts("primary-triads", chord(key, notes)) == [label]


def test_the_reason_names_only_other_ways_of_writing() -> None:
    """A label is never called "also written" as itself."""
    assert KIND.solve(chord("A minor", "E4 G#4 B4"))[0].reason.endswith("is lowest: V.")
    assert KIND.solve(chord("A minor", "D4 F4 A4"))[0].reason.endswith("is lowest: IV, also written iv.")


# The namings: theory of Roman numerals, capitals or small for a minor chord, arabic numbers, technical names (common
# practice); v is the minor chord of a natural minor key, and no V.
def test_every_naming_is_taken() -> None:
    right = KIND.solve(chord("A minor", "D4 F4 A4"))
    for said in ("IV", "iv", "4", "subdominant", "IVa"):
        assert is_right(Value(chords=(said,)), right, KIND), said
    for said in ("V", "I", "IVb", "II", "nothing"):
        assert not is_right(Value(chords=(said,)), right, KIND), said
    assert not is_right(Value(chords=("v",)), KIND.solve(chord("A minor", "E4 G#4 B4")), KIND)


def test_each_slip_labels_by_its_wrong_rule() -> None:
    slips = slip_texts("primary-triads", chord("A minor", "E4 G#4 B4"))
    assert slips["counted down"] == "IV"
    assert slips["leading note not expected in V"] == "I"
    assert slips["counted in the relative key"] == "III"
    assert slip_texts("primary-triads", chord("C major", "C4 E4 G4"))["top note taken for the root"] == "V"
    assert slip_texts("primary-triads", chord("C major", "F4 A4 C5"))["counted down"] == "V"


def test_a_chord_of_another_key_is_refused() -> None:
    with pytest.raises(UnknownChordError, match="no chord of C major"):
        KIND.solve(chord("C major", "D4 F#4 A4"))


def test_music21_finds_the_same_root() -> None:
    for _, draft in drafts("primary-triads", 60):
        found = music21.chord.Chord([note.replace("b", "-") for note in draft.facts.notes])
        key = Key.parse(draft.facts.key)
        degree = ("CDEFGAB".index(found.root().step) - key.tonic.index) % 7 + 1
        assert texts("primary-triads", draft.facts) == [{1: "I", 4: "IV", 5: "V"}[degree]]
        assert found.quality == ("major" if degree == 5 else key.mode), "V has its leading note in minor too"


def test_only_a_scope_with_all_three_asks_it() -> None:
    assert set(scope_for(3).triads) == {"I"}
    assert list(drafts("primary-triads", 5, grades=(1, 2, 3))) == []


def test_it_keeps_the_rules_of_kinds() -> None:
    keeps_the_rules("primary-triads")
