"""The wrong note in a scale."""

from __future__ import annotations

import pytest

from questions.asking_many import drafts
from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from questions.scale_papers import scale_by_music21, sounds, written_row
from stavewright.questions.errors import BadDocument
from stavewright.questions.kinds.scale_fault import KIND, ScaleFault


def paper(name: str, names: str, fifths: int | None = None, direction: str = "up") -> ScaleFault:
    tonic, form = name.split(" ", 1)
    return ScaleFault("treble", fifths, tonic, form, direction, written_row(names, "treble", fifths))


# The right scales: Gehrkens, Music Notation and Terminology (1914) §§81-89, and Clementi, Introduction to the Art of
# Playing on the Piano Forte (1801), the 6th and 7th of E minor; one note of each put wrong by hand.
@pytest.mark.parametrize(
    "name, notes, fifths, direction, number",
    [
        ("D major", "D4 E4 F4 G4 A4 B4 C#5 D5", None, "up", 3),
        ("A major", "A5 G5 F#5 E5 D5 C#5 B4 A4", 3, "down", 2),
        ("A harmonic minor", "A4 B4 C5 D5 E5 F5 G5 A5", None, "up", 7),
        ("A harmonic minor", "A4 B4 C5 D5 E5 F#5 G#5 A5", None, "up", 6),
        ("E melodic minor", "E4 F#4 G4 A4 B4 C#5 D#5 E5 D#5 C5 B4 A4 G4 F#4 E4", 1, "both", 9),
        ("E melodic minor", "E4 F#4 G4 A4 B4 C5 D#5 E5", 1, "up", 6),
        ("F major", "F4 G4 A4 B4 C5 D5 E5 F5", None, "up", 4),
        ("C major", "C4 D4 E4 G4 G4 A4 B4 C5", None, "up", 4),
    ],
)
def test_wrong_notes_in_published_scales(name: str, notes: str, fifths: int, direction: str, number: int) -> None:
    assert texts("scale-fault", paper(name, notes, fifths, direction)) == [f"note {number}"]


def test_slips() -> None:
    """Worked by hand: the 6th of A harmonic minor is raised by mistake, the 7th is right."""
    assert slip_texts("scale-fault", paper("A harmonic minor", "A4 B4 C5 D5 E5 F#5 G#5 A5")) == {
        "compared with the natural minor": "note 7",
        "took the first printed sign for the fault": "note 7",
        "the note after the fault": "note 7",
    }
    signed = slip_texts("scale-fault", paper("E melodic minor", "E4 F#4 G4 A4 B4 C5 D#5 E5", 1))
    assert signed["signature forgotten"] == "note 2"
    assert signed["compared with the natural minor"] == "note 7"
    both = "E4 F#4 G4 A4 B4 C#5 D#5 E5 D#5 C5 B4 A4 G4 F#4 E4"
    assert slip_texts("scale-fault", paper("E melodic minor", both, 1, "both"))["compared with the harmonic minor"] == (
        "note 6"
    )


def test_a_scale_with_no_fault_or_two_is_refused() -> None:
    with pytest.raises(BadDocument, match="0 notes"):
        KIND.solve(paper("C major", "C4 D4 E4 F4 G4 A4 B4 C5"))
    with pytest.raises(BadDocument, match="2 notes"):
        KIND.solve(paper("D major", "D4 E4 F4 G4 A4 B4 C5 D5"))
    with pytest.raises(BadDocument):
        KIND.solve(paper("D major", "D4 E4 F4 G4 A4 B4 C#5 D5", None, "both"))


def test_the_working_puts_it_right() -> None:
    said = [step.text for step in KIND.work(paper("F major", "F4 G4 A4 B4 C5 D5 E5 F5"), "usual")]
    assert said[0] == "F major has 1 flat: B flat."
    assert said[2] == "The 4th printed note is B natural; it should be B flat."


def test_music21_finds_the_same_note() -> None:
    for _, draft in drafts("scale-fault", 80):
        shown = draft.facts
        heard = sounds(shown.clef, shown.fifths, shown.notes)
        lowest = heard[-1] if shown.direction == "down" else heard[0]
        right = scale_by_music21(f"{shown.tonic} {shown.form}", lowest, shown.direction)
        apart = [number for number, (a, b) in enumerate(zip(heard, right, strict=True), 1) if a != b]
        assert texts("scale-fault", shown) == [f"note {number}" for number in apart]


def test_the_rules_of_all_kinds() -> None:
    keeps_the_rules("scale-fault")
