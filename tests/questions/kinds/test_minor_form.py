"""Harmonic, melodic or natural: the form of a written minor scale."""

from __future__ import annotations

import pytest

from questions.asking_many import drafts
from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from questions.scale_papers import scale_by_music21, sounds, written_row
from stavewright.questions.errors import BadDocument
from stavewright.questions.kinds.minor_form import KIND, MinorForm
from stavewright.syllabus.scope import scope_for

ALL = ("harmonic minor", "melodic minor", "natural minor")
TWO = ALL[:2]


def paper(names: str, fifths: int | None = None, forms: tuple[str, ...] = TWO) -> MinorForm:
    return MinorForm("treble", fifths, written_row(names, "treble", fifths), forms)


# G: Gehrkens, Music Notation and Terminology (1914) §§85-89; C: Clementi, Introduction to the Art of Playing on the
# Piano Forte (1801), the 6th and 7th of the melodic minors.
@pytest.mark.parametrize(
    "notes, fifths, form, source",
    [
        ("A4 B4 C5 D5 E5 F5 G#5 A5", None, "harmonic minor", "G §86"),
        ("A5 G#5 F5 E5 D5 C5 B4 A4", None, "harmonic minor", "G §86"),
        ("A4 B4 C5 D5 E5 F#5 G#5 A5", None, "melodic minor", "G §88"),
        ("E4 F#4 G4 A4 B4 C#5 D#5 E5 D5 C5 B4 A4 G4 F#4 E4", 1, "melodic minor", "C: up C# D#, down D C"),
        ("C4 D4 Eb4 F4 G4 A4 B4 C5 Bb4 Ab4 G4 F4 Eb4 D4 C4", -3, "melodic minor", "C: up A B, down Bb Ab"),
        ("C4 D4 Eb4 F4 G4 Ab4 B4 C5 B4 Ab4 G4 F4 Eb4 D4 C4", -3, "harmonic minor", "G §86, §89"),
        ("D#4 E#4 F#4 G#4 A#4 B#4 C##5 D#5", 6, "melodic minor", "C: up B# C##"),
        ("B3 C#4 D4 E4 F#4 G4 A4 B4", 2, "natural minor", "G §85, §89"),
    ],
)
def test_published_scales(notes: str, fifths: int | None, form: str, source: str) -> None:
    assert texts("minor-form", paper(notes, fifths, ALL if form == ALL[2] else TWO)) == [form], source


def test_slips() -> None:
    """Worked by hand."""
    both = paper("E4 F#4 G4 A4 B4 C#5 D#5 E5 D5 C5 B4 A4 G4 F#4 E4", 1)
    assert slip_texts("minor-form", both) == {
        "direction ignored, read coming down": "natural minor",
        "looked at the 7th only": "harmonic minor",
        "looked for any raised note": "melodic minor",
        "read by the signature": "natural minor",
    }
    natural = slip_texts("minor-form", paper("A4 B4 C5 D5 E5 F5 G5 A5", None, ALL))
    assert natural == {
        "took the signature for raised notes": "harmonic minor",
        "any minor scale called melodic": "melodic minor",
    }


def test_a_falling_scale_is_never_offered_as_natural_and_melodic() -> None:
    """Gehrkens (1914) §88: coming down the two are alike."""
    with pytest.raises(BadDocument, match="alike"):
        paper("A5 G5 F5 E5 D5 C5 B4 A4", None, ALL)
    assert texts("minor-form", paper("A5 G5 F5 E5 D5 C5 B4 A4", None, (ALL[0], ALL[2]))) == ["natural minor"]
    for _, draft in drafts("minor-form", 60):
        falling = len(draft.facts.notes) == 8 and draft.facts.notes[1].place < draft.facts.notes[0].place
        assert not (falling and draft.expected == "melodic minor")


def test_a_major_scale_is_refused() -> None:
    with pytest.raises(BadDocument, match="no minor scale"):
        KIND.solve(paper("C4 D4 E4 F4 G4 A4 B4 C5"))


def test_the_natural_form_comes_with_the_scope() -> None:
    assert {form for _, d in drafts("minor-form", 40, grades=(2,)) for form in d.facts.forms} == set(TWO)
    assert any("natural minor" in d.facts.forms for _, d in drafts("minor-form", 40, grades=(3,)))


def test_the_working_names_the_raised_notes() -> None:
    said = [step.text for step in KIND.work(paper("C5 B4 Ab4 G4 F4 Eb4 D4 C4", -3), "usual")]
    assert said[:3] == [
        "In the key signature of C minor the 6th and 7th are A flat and B flat.",
        "Here they are A flat and B natural.",
        "Only the 7th is raised: the harmonic minor.",
    ]


def test_music21_writes_the_same_scale() -> None:
    for _, draft in drafts("minor-form", 60):
        heard = sounds(draft.facts.clef, draft.facts.fifths, draft.facts.notes)
        rising = draft.facts.notes[1].place > draft.facts.notes[0].place
        way = "both" if len(heard) == 15 else "up" if rising else "down"
        lowest = heard[0] if rising else heard[-1]
        form = texts("minor-form", draft.facts)[0]
        assert heard == scale_by_music21(f"{lowest[0]} {form}", lowest, way)


def test_the_pool_counts_what_can_be_set() -> None:
    found = {draft.facts for _, draft in drafts("minor-form", 3000, grades=(2,))}
    assert len(found) == KIND.pool(scope_for(2))


def test_the_rules_of_all_kinds() -> None:
    keeps_the_rules("minor-form")
