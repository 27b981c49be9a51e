"""Naming a written scale."""

from __future__ import annotations

import pytest

from questions.asking_many import drafts
from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from questions.scale_papers import scale_by_music21, sounds, written_row
from stavewright.questions.errors import BadDocument
from stavewright.questions.kinds.name_the_scale import KIND, NameTheScale
from stavewright.syllabus.scope import scope_for


def paper(names: str, fifths: int | None = None, clef: str = "treble") -> NameTheScale:
    return NameTheScale(clef, fifths, written_row(names, clef, fifths))


# G: Gehrkens, Music Notation and Terminology (1914); C: Clementi, Introduction to the Art of Playing on the Piano
# Forte (1801), scales, the 6th and 7th rising and falling.
@pytest.mark.parametrize(
    "notes, fifths, name, source",
    [
        ("C4 D4 E4 F4 G4 A4 B4 C5", None, "C major", "G §81"),
        ("G4 A4 B4 C5 D5 E5 F#5 G5", 1, "G major", "G §83"),
        ("Bb4 A4 G4 F4 Eb4 D4 C4 Bb3", -2, "B flat major", "G §83"),
        ("A4 B4 C5 D5 E5 F5 G5 A5", None, "A natural minor", "G §85"),
        ("A4 B4 C5 D5 E5 F5 G#5 A5", None, "A harmonic minor", "G §86"),
        ("D5 C#5 Bb4 A4 G4 F4 E4 D4", -1, "D harmonic minor", "G §86, §89"),
        ("E4 F#4 G4 A4 B4 C#5 D#5 E5 D5 C5 B4 A4 G4 F#4 E4", 1, "E melodic minor", "C: up C# D#, down D C"),
        ("G#4 A#4 B4 C#5 D#5 E#5 F##5 G#5", 5, "G sharp melodic minor", "C: up E# F##"),
        ("F4 G4 Ab4 Bb4 C5 D5 E5 F5", -4, "F melodic minor", "C: up D E"),
    ],
)
def test_published_scales_are_named(notes: str, fifths: int | None, name: str, source: str) -> None:
    assert texts("name-the-scale", paper(notes, fifths))[0] == name, source


def test_a_natural_minor_coming_down_may_be_called_melodic() -> None:
    """Gehrkens (1914) §88: the melodic minor comes down as the natural one."""
    down = texts("name-the-scale", paper("A5 G5 F5 E5 D5 C5 B4 A4"))
    assert down == ["A natural minor", "A minor, natural", "A melodic minor"]
    assert "A melodic minor" not in texts("name-the-scale", paper("A4 B4 C5 D5 E5 F5 G5 A5"))


def test_a_row_that_is_no_scale_is_refused() -> None:
    for notes in ("C4 D4 E4 F4 G4 A4 B4 C4", "C4 D4 E4 F#4 G4 A4 Bb4 C5", "E4 F#4 G4 A4 B4 C#5 D#5 E5 D#5"):
        with pytest.raises(BadDocument, match="is no scale"):
            KIND.solve(paper(notes))


def test_a_fall_that_does_not_fit_the_rise_is_refused() -> None:
    with pytest.raises(BadDocument):
        KIND.solve(paper("A4 B4 C5 D5 E5 F#5 G#5 A5 G#5 F#5 E5 D5 C5 B4 A4"))


def test_every_slip() -> None:
    """Worked by hand."""
    minor = slip_texts("name-the-scale", paper("A4 B4 C5 D5 E5 F5 G#5 A5"))
    assert minor == {
        "major for minor": "A major",
        "natural minor for harmonic minor": "A natural minor",
        "melodic minor for harmonic minor": "A melodic minor",
        "named by the relative major": "C major",
        "read in the bass clef": "C harmonic minor",
    }
    major = slip_texts("name-the-scale", paper("Bb3 C4 D4 Eb4 F4 G4 A4 Bb4", -2))
    assert major == {
        "minor for major": "B flat harmonic minor",
        "named by the relative minor": "G harmonic minor",
        "read in the bass clef": "D major",
        "sign of the tonic left out": "B major",
    }


def test_the_working_tells_the_form() -> None:
    said = [step.text for step in KIND.work(paper("D5 C#5 Bb4 A4 G4 F4 E4 D4", -1), "usual")]
    assert said[1] == "From D up to F, note 3, are 3 semitones: minor."
    assert said[2] == "Only note 7 is raised, to C sharp: the harmonic form."
    assert KIND.work(paper("D5 C#5 Bb4 A4 G4 F4 E4 D4", -1), "usual")[2].points_at == ("n3", "n2")


def test_music21_writes_the_same_scale() -> None:
    for _, draft in drafts("name-the-scale", 60):
        heard = sounds(draft.facts.clef, draft.facts.fifths, draft.facts.notes)
        rising = draft.facts.notes[1].place > draft.facts.notes[0].place
        way = "both" if len(heard) == 15 else "up" if rising else "down"
        name = texts("name-the-scale", draft.facts)[0]
        assert heard == scale_by_music21(name, heard[0] if rising else heard[-1], way)


def test_the_melodic_minor_is_never_shown_coming_down_alone() -> None:
    for _, draft in drafts("name-the-scale", 60):
        assert not (draft.facts.notes[1].place < draft.facts.notes[0].place and "melodic" in draft.expected)


@pytest.mark.parametrize("grade", [1, 2])
def test_the_pool_counts_what_can_be_set(grade: int) -> None:
    found = {draft.facts for _, draft in drafts("name-the-scale", 6000, grades=(grade,))}
    assert len(found) == KIND.pool(scope_for(grade))


def test_the_rules_of_all_kinds() -> None:
    keeps_the_rules("name-the-scale")
