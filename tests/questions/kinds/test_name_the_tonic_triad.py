"""The key of a tonic triad: worked triads, the slips, another program."""

from __future__ import annotations

import music21
import pytest

from questions.asking_many import drafts
from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.questions.kinds.name_the_tonic_triad import KIND, NameTheTonicTriad
from stavewright.syllabus.scope import scope_for
from stavewright.theory.errors import UnknownChordError


def triad(notes: str, fifths: int | None = None, clef: str = "treble") -> NameTheTonicTriad:
    return NameTheTonicTriad(clef, tuple(notes.split()), fifths)


# Major and minor triads: Gehrkens, Music Notation and Terminology (1914) §197; the minor keys' own chords: §198.
@pytest.mark.parametrize(
    "notes, key",
    [
        ("C4 E4 G4", "C major"), ("C4 Eb4 G4", "C minor"), ("D4 F#4 A4", "D major"), ("D4 F4 A4", "D minor"),
        ("F4 A4 C5", "F major"), ("G4 Bb4 D5", "G minor"), ("A3 C4 E4", "A minor"), ("Eb4 G4 Bb4", "E flat major"),
        ("F#4 A4 C#5", "F sharp minor"), ("Ab4 C5 Eb5", "A flat major"), ("D#4 F#4 A#4", "D sharp minor"),
    ],
)  # fmt: skip
def test_worked_triads(notes: str, key: str) -> None:
    assert texts("name-the-tonic-triad", triad(notes)) == [key]


@pytest.mark.parametrize("notes", ["B3 D4 F4", "C4 E4 G#4", "C4 F4 G4"])
def test_what_is_no_tonic_triad_is_refused(notes: str) -> None:
    with pytest.raises(UnknownChordError, match="no tonic triad"):
        KIND.solve(triad(notes))


def test_each_slip_names_by_its_wrong_rule() -> None:
    slips = slip_texts("name-the-tonic-triad", triad("D4 F4 A4", -1))
    assert slips["major for minor"] == "D major"
    assert slips["key read from the signature alone"] == "F major"
    assert slips["top note named"] == "A minor"
    assert slips["read in the bass clef"] == "F minor"  # the space below the stave is F in the bass clef
    assert slip_texts("name-the-tonic-triad", triad("Bb4 D5 F5"))["sign of the root left out"] == "B major"
    assert slip_texts("name-the-tonic-triad", triad("C4 E4 G4"))["minor for major"] == "C minor"


def test_no_signature_is_misread_where_none_is_printed() -> None:
    """The key of the signature alone is a slip only under a printed signature (common practice)."""
    assert "key read from the signature alone" not in slip_texts("name-the-tonic-triad", triad("A4 C#5 E5"))
    named = slip_texts("name-the-tonic-triad", triad("F#4 A4 C#5", 3))
    assert named["key read from the signature alone"] == "A major"


def test_music21_finds_the_same_root_and_kind() -> None:
    for grade, draft in drafts("name-the-tonic-triad", 60):
        chord = music21.chord.Chord([note.replace("b", "-") for note in draft.facts.notes])
        root = chord.root().name.replace("-", " flat").replace("#", " sharp")
        assert texts("name-the-tonic-triad", draft.facts) == [f"{root} {chord.quality}"]
        assert chord.inversion() == 0
        assert texts("name-the-tonic-triad", draft.facts)[0] in {key.text for key in scope_for(grade).keys}


def test_it_keeps_the_rules_of_kinds() -> None:
    keeps_the_rules("name-the-tonic-triad")
