"""One accidental that makes the named interval."""

from __future__ import annotations

import music21
import pytest

from questions.asking_many import drafts
from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.questions.choosing import is_right
from stavewright.questions.errors import BadDocument
from stavewright.questions.kinds.alter_the_interval import KIND, METHODS, AlterTheInterval
from stavewright.questions.values import Value, WrittenNote
from stavewright.score.check import faults


def pair(kept: str, changed: str, quality: str) -> AlterTheInterval:
    return AlterTheInterval("treble", kept, changed, quality)


# The made intervals are those of Gehrkens, Music Notation and Terminology (1914) §§184-193.
@pytest.mark.parametrize(
    "kept, changed, quality, sign",
    [
        ("C4", "E4", "m", "flat"), ("C4", "F4", "A", "sharp"), ("C4", "G4", "d", "flat"), ("C4", "G4", "A", "sharp"),
        ("C4", "A4", "m", "flat"), ("C4", "Bb4", "M", "natural"), ("C4", "Bb4", "d", "flat-flat"),
        ("F4", "G4", "A", "sharp"), ("F4", "G#4", "m", "flat"), ("G4", "Eb4", "m", "natural"),
        ("F#4", "G4", "M", "sharp"),
    ],
)  # fmt: skip
def test_published_intervals_are_made(kept: str, changed: str, quality: str, sign: str) -> None:
    assert KIND.solve(pair(kept, changed, quality))[0].value[0].notes[0].accidental == sign


def test_a_lower_note_goes_down_to_widen() -> None:
    """G to E flat below is a major 3rd, G to E a minor one (Gehrkens §186)."""
    assert texts("alter-the-interval", pair("G4", "E4", "M")) == ["E flat, on the 1st line"]
    assert slip_texts("alter-the-interval", pair("G4", "E4", "M"))["moves the wrong way"] == "E sharp, on the 1st line"


def test_the_answer_names_the_place_in_its_clef() -> None:
    """B flat to E is an augmented 4th, to E flat a perfect one (Gehrkens §187); middle C is on the alto's 3rd line."""
    assert texts("alter-the-interval", AlterTheInterval("alto", "Bb3", "E4", "P")) == ["E flat, on the 4th line"]


def test_slips() -> None:
    """Worked by hand: C to E sharp, to be a minor 3rd."""
    assert slip_texts("alter-the-interval", pair("C4", "E#4", "m")) == {
        "a semitone too far": "E double flat, on the 1st line",
        "a semitone too little": "E, on the 1st line",
        "left as it was": "E sharp, on the 1st line",
        "another letter, same sound": "D sharp, in the space below the bottom line",
    }


def test_a_natural_needs_no_sign_on_a_new_stave() -> None:
    right = KIND.solve(pair("C4", "Bb4", "M"))
    assert is_right(Value(notes=(WrittenNote("B", octave=4, type="semibreve"),)), right, KIND)
    assert not is_right(Value(notes=(WrittenNote("B", octave=4, type="semibreve", accidental="flat"),)), right, KIND)


def test_what_cannot_be_made_is_refused() -> None:
    with pytest.raises(BadDocument, match="no major 5th"):
        KIND.solve(pair("C4", "G4", "M"))
    with pytest.raises(BadDocument, match="ask for another quality"):
        KIND.solve(pair("C4", "G4", "P"))
    with pytest.raises(BadDocument, match="one line or space"):
        pair("C4", "C#4", "A")


@pytest.mark.parametrize("method", METHODS)
def test_the_working_counts_how_far(method: str) -> None:
    said = " ".join(step.text for step in KIND.work(pair("C4", "E#4", "m"), method))
    assert "2 semitones narrower" in said
    assert "Write E with a flat before it." in said


def test_music21_names_what_was_made() -> None:
    for _, draft in drafts("alter-the-interval", 120):
        note = KIND.solve(draft.facts)[0].value[0].notes[0]
        made = music21.pitch.Pitch(note.step, octave=note.octave)
        made.accidental = music21.pitch.Accidental(note.alter)
        low, high = sorted(
            (music21.pitch.Pitch(draft.facts.kept.replace("b", "-")), made), key=lambda p: p.diatonicNoteNum
        )
        assert music21.interval.Interval(low, high).specifier == music21.interval.parseSpecifier(draft.facts.quality)


def test_any_written_answer_can_be_drawn() -> None:
    one = pair("C4", "E4", "m")
    for value in (Value(notes=()), Value(notes=(WrittenNote("D", octave=9, type="banana", accidental="banana"),) * 3)):
        assert faults(KIND.draw(one, value)) == []


def test_the_rules_of_all_kinds() -> None:
    keeps_the_rules("alter-the-interval")
