"""Writing named chords: worked chords in every position, spacings, signature or signs, the slips, music21."""

from __future__ import annotations

import music21
import pytest

from questions.asking_many import drafts
from questions.hand_written import pupil_wrote
from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.marking.one_question import mark_question
from stavewright.questions.asking import ask
from stavewright.questions.comparing import compare
from stavewright.questions.kind import Draft
from stavewright.questions.kinds.write_the_chord import KIND, WriteTheChord
from stavewright.questions.values import Value, WrittenNote
from stavewright.score.check import faults
from stavewright.syllabus.scope import scope_for
from stavewright.theory.chord import ROMANS
from stavewright.theory.key import Key


def faults_of(facts: WriteTheChord, notes: str) -> int:
    return min(compare(pupil_wrote(notes), one.value[0], KIND.marking).faults for one in KIND.solve(facts))


# C-E-G, E-G-C, G-C-E, D major with F sharp lowest, G minor 6/4 as D-G-B flat: Gehrkens, Music Notation and Terminology
# (1914) §§199-200, figure 66; chords of a minor key §198 (V with G sharp in A minor); letters a, b, c: common practice.
@pytest.mark.parametrize(
    "key, label, notes",
    [
        ("C major", "I", "C, E, G"), ("C major", "Ib", "E, G, C"), ("C major", "Ic", "G, C, E"),
        ("D major", "Ib", "F sharp, A, D"), ("G minor", "Ic", "D, G, B flat"), ("A minor", "V", "E, G sharp, B"),
        ("A minor", "Vb", "G sharp, B, E"), ("A minor", "IIb", "D, F, B"), ("A minor", "IVc", "A, D, F"),
        ("C major", "IIb", "F, A, D"), ("E flat major", "Vc", "F, B flat, D"),
    ],
)  # fmt: skip
def test_worked_chords(key: str, label: str, notes: str) -> None:
    assert texts("write-the-chord", WriteTheChord("treble", key, label))[0] == notes


def test_the_lowest_note_decides_and_the_others_may_stand_in_any_order() -> None:
    """The position is told by the bass alone (Gehrkens, 1914, §199); a wide spacing is as good."""
    facts = WriteTheChord("treble", "D major", "Ib")
    for right in ("F#4 A4 D5", "F#4 D5 A5", "F#5 A5 D6", "D5 F#4 A4"):
        assert faults_of(facts, right) == 0, right
    assert faults_of(facts, "D4 F#4 A4") >= 2
    assert faults_of(facts, "F4 A4 D5") == 1
    assert faults_of(facts, "F#4 A4") == 1
    assert faults_of(facts, "F#4 A4 D5 A5") == 1, "each note once"


def test_the_printed_signature_writes_the_signs_but_the_raised_7th() -> None:
    facts = WriteTheChord("treble", "D minor", "Vb", -1)
    assert faults_of(facts, "C#4 E4 A4") == 0
    assert faults_of(facts, "C4 E4 A4") == 1
    flat = WriteTheChord("treble", "E flat major", "IV", -3)
    assert faults_of(flat, "A4 C5 E5") == 0, "the signature has both flats"
    assert faults_of(WriteTheChord("treble", "E flat major", "IV"), "A4 C5 E5") == 2


@pytest.mark.parametrize(
    "notes, marks",
    [("D4 F4 Bb4", 2), ("Bb4 D5 F5", 1), ("F4 Bb4 D5", 1), ("Bb3 F4 D5", 1), ("D4 F4 B4", 1), ("Bb4 D5 G5", 0)],
)
def test_the_right_chord_in_a_wrong_position_loses_one_mark(notes: str, marks: int) -> None:
    """One cause costs once: the notes of IV of F major are there, but not its third in the bass."""
    facts = WriteTheChord("treble", "F major", "IVb")
    question = ask(KIND, Draft(facts, KIND.solve(facts)[0].value), id="q", grade=5, edition="written", seed=1)
    assert mark_question(question, (pupil_wrote(notes),)).marks == marks


def test_each_slip_writes_by_its_wrong_rule() -> None:
    slips = slip_texts("write-the-chord", WriteTheChord("treble", "E major", "IIb"))
    assert slips["written in root position"] == "F sharp, A, C sharp"
    assert slips["first and second inversion mixed up"] == "C sharp, F sharp, A"
    assert slips["bass taken for the root"] == "A, C sharp, E"
    assert slips["II and IV confused"] == "C sharp, E, A"
    assert slips["signs left out"] == "A, C, F"
    assert slips["counted in the relative key"] == "F sharp, A, D sharp"
    assert slips["counted down"] == "F sharp, A, D sharp"
    minor = slip_texts("write-the-chord", WriteTheChord("treble", "A minor", "V", 0))
    assert minor["leading note not raised"] == "E, G, B"
    assert minor["written as an inversion"] == "G sharp, B, E"
    assert "signs left out" not in minor, "under the signature that is the leading note not raised"


def test_music21_reads_the_chord_that_was_asked() -> None:
    """Held against music21's root and inversion for every drawn question; its numerals in minor are not asked."""
    seen = set()
    for _, draft in drafts("write-the-chord", 250):
        facts = draft.facts
        clef_notes = KIND.draw(facts, KIND.solve(facts)[0].value[0])
        pitches = [p.short.replace("b", "-") for event in clef_notes.sounding() for p in event.pitches]
        found = music21.chord.Chord(pitches)
        degree = ("CDEFGAB".index(found.root().step) - Key.parse(facts.key).tonic.index) % 7
        assert ROMANS[degree] + ("", "b", "c")[found.inversion()] == facts.label
        assert found.quality in ("major", "minor", "diminished")
        assert facts.label.rstrip("bc") in scope_for(5).triads
        seen.add(facts.label)
    assert len(seen) == 12, "every chord and position comes up"


def test_any_written_answer_can_be_drawn() -> None:
    facts = WriteTheChord("bass", "A minor", "Vc", 0)
    odd = WrittenNote("D", type="banana", accidental="x")
    for value in (Value(notes=()), pupil_wrote("C9 C9"), Value(notes=(odd,))):
        assert faults(KIND.draw(facts, value)) == []


def test_it_keeps_the_rules_of_kinds() -> None:
    keeps_the_rules("write-the-chord")
