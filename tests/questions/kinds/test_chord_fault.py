"""Finding the wrong note of a named chord: worked rows, raised 7ths, the slips, music21."""

from __future__ import annotations

import music21
import pytest

from questions.asking_many import drafts
from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.questions.choosing import is_right
from stavewright.questions.errors import BadDocument
from stavewright.questions.kinds.chord_fault import KIND, ChordFault, NamedChord
from stavewright.questions.values import Place, Value
from stavewright.theory.key import Key


def row(key: str, **chords: str) -> ChordFault:
    return ChordFault("treble", key, tuple(NamedChord(label, tuple(notes.split())) for label, notes in chords.items()))


# Notes of the chords of a major and of a minor key: Gehrkens, Music Notation and Terminology (1914) §§197-198
# (A minor: A C E, D F A, E G sharp B); positions §§199-200. The wrong notes are put in by hand.
@pytest.mark.parametrize(
    "facts, found, right",
    [
        (row("C major", I="C4 E4 G4", IV="F4 A4 C5", V="G4 B4 E5"), "bar 3, 3rd note from the lowest", "D"),
        (row("C major", I="C4 E4 G4", IV="F4 B4 C5", V="G4 B4 D5"), "bar 2, 2nd note from the lowest", "A"),
        (row("A minor", I="A4 C5 E5", V="E4 G4 B4"), "bar 2, 2nd note from the lowest", "G sharp"),
        (row("A minor", IV="D4 F#4 A4", V="E4 G#4 B4"), "bar 1, 2nd note from the lowest", "F"),
        (row("D major", Ib="E4 A4 D5", V="A4 C#5 E5"), "bar 1, 1st note from the lowest", "F sharp"),
        (row("G minor", Ic="D4 G4 B4", V="D4 F#4 A4"), "bar 1, 3rd note from the lowest", "B flat"),
    ],
)  # fmt: skip
def test_worked_rows(facts: ChordFault, found: str, right: str) -> None:
    assert texts("chord-fault", facts) == [found]
    assert f"it should be {right}" in KIND.solve(facts)[0].reason


def test_only_the_one_place_is_right() -> None:
    facts = row("C major", I="C4 E4 G4", IV="F4 B4 C5", V="G4 B4 D5")
    rights = [
        (bar, note)
        for bar in (1, 2, 3)
        for note in (1, 2, 3)
        if is_right(Value(places=(Place(bar, note),)), KIND.solve(facts), KIND)
    ]
    assert rights == [(2, 2)]
    assert not is_right(Value(places=(Place(2, 2), Place(1, 1))), KIND.solve(facts), KIND)


def test_a_row_without_a_fault_or_with_two_is_refused() -> None:
    for facts in (row("C major", I="C4 E4 G4"), row("C major", I="C4 F4 G4", V="G4 C5 D5")):
        with pytest.raises(BadDocument, match="of the chords are wrong"):
            KIND.solve(facts)


def test_each_slip_points_by_its_wrong_rule() -> None:
    slips = slip_texts("chord-fault", row("A minor", I="B4 C5 E5", V="E4 G#4 B4"))
    assert slips["raised 7th taken for a fault"] == "bar 2, 2nd note from the lowest"
    assert slips["counted from the top"] == "bar 1, 3rd note from the lowest"
    assert slips["right chord, wrong note"] == "bar 1, 2nd note from the lowest"
    assert slips["chord not spelt out"] == "bar 2, 1st note from the lowest"


def test_music21_reads_every_chord_but_the_one_at_fault() -> None:
    """Root and inversion by music21; its reading of the spoilt chord must not be the label's triad."""
    seen = set()
    for grade, draft in drafts("chord-fault", 120):
        place = KIND.solve(draft.facts)[0].value[0].places[0]
        tonic = Key.parse(draft.facts.key).tonic
        for bar, chord in enumerate(draft.facts.chords, 1):
            heard = music21.chord.Chord([note.replace("b", "-") for note in chord.notes])
            degree = ("CDEFGAB".index(heard.root().step) - tonic.index) % 7
            label = ("I", "II", "III", "IV", "V", "VI", "VII")[degree] + {0: "", 1: "b", 2: "c"}.get(
                heard.inversion(), "?"
            )
            usual = "diminished" if Key.parse(draft.facts.key).is_minor and degree == 1 else None
            minor = Key.parse(draft.facts.key).is_minor and degree in (0, 3)
            wanted = usual or ("minor" if minor or degree == 1 else "major")
            assert ((label, heard.quality) == (chord.label, wanted)) is (bar != place.bar)
            seen.add((grade, chord.label))
    assert {label for grade, label in seen if grade == 4} == {"I", "IV", "V"}
    assert len({label for grade, label in seen if grade == 5}) == 12


def test_it_keeps_the_rules_of_kinds() -> None:
    keeps_the_rules("chord-fault")
