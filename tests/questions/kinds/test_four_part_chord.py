"""A chord for four voices: worked spacings, every fault by name, any good spacing earns its marks, the slips."""

from __future__ import annotations

import music21
import pytest

from questions.asking_many import drafts
from questions.hand_written import pupil_wrote
from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.marking.one_question import mark_question
from stavewright.questions.asking import ask as put
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft
from stavewright.questions.kinds.four_part_chord import KIND, FourPartChord
from stavewright.questions.solving.four_voices import faults_of, good_spacings
from stavewright.questions.values import Value, WrittenNote
from stavewright.score.check import faults
from stavewright.theory.chord import ROMANS, ChordLabel
from stavewright.theory.key import Key
from stavewright.theory.part_writing import check_chord
from stavewright.theory.pitch import Pitch


def ask(key: str, label: str, given: str = "- - - -") -> FourPartChord:
    s, a, t, b = (None if one == "-" else one for one in given.split())
    return FourPartChord(key, label, (s, a, t, b))


def kinds_of(notes: str, key: str, label: str) -> list[str]:
    chord = [Pitch.parse(note) for note in notes.split()]
    return [fault.kind for fault in faults_of(chord, Key.parse(key), ChordLabel.parse(label))]


# Ranges: Gehrkens, Music Notation and Terminology (1914) Appendix B, the widest of the sources; spacing within an
# octave between the upper three, no crossing, no doubled leading note, no doubled third of a major
# chord in root position: common practice (the rules of theory.part_writing). The spacings are worked by hand.
@pytest.mark.parametrize(
    "notes, key, label, found",
    [
        ("C5 G4 E4 C3", "C", "I", []), ("E5 G4 C4 C3", "C", "I", []), ("G4 D4 B3 G2", "C", "V", []),
        ("G4 C4 G3 E3", "C", "Ib", []), ("C5 G4 E4 G3", "C", "Ic", []), ("D5 A4 F4 F3", "C", "IIb", []),
        ("E5 G4 E4 C3", "C", "I", ["doubled third"]), ("B4 D4 B3 G2", "C", "V", ["doubled leading note"]),
        ("B4 G4 D4 B2", "C", "Vb", ["doubled leading note"]), ("G5 E4 C4 C3", "C", "I", ["spacing"]),
        ("C5 E4 C3 G2", "C", "Ic", ["spacing"]), ("C4 E4 G3 C3", "C", "I", ["crossing"]),
        ("C5 G4 E4 E3", "C", "I", ["position"]), ("C5 A4 E4 C3", "C", "I", ["foreign note"]),
        ("C5 E4 C4 C3", "C", "I", ["note left out"]), ("E5 C5 G4 C2", "C", "I", ["range"]),
        ("G4 D4 B3 G2", "C minor", "V", []), ("G4 D4 Bb3 G2", "C minor", "V", ["foreign note"]),
        ("C5 A4 C4 A3", "A minor", "I", ["note left out"]), ("E5 C5 A4 A3", "A minor", "I", []),
        ("C5 E4 C4 A2", "A minor", "I", []),
    ],
)  # fmt: skip
def test_worked_spacings(notes: str, key: str, label: str, found: list[str]) -> None:
    """Every fault is named once; a doubled third is none in a minor chord."""
    assert kinds_of(notes, key, label) == found


def test_the_model_doubles_the_root_and_lies_close() -> None:
    assert texts("four-part-chord", ask("C major", "I", "C5 - - C3"))[0] == "alto G, tenor E"
    assert texts("four-part-chord", ask("C major", "V", "D5 - - G2"))[0] == "alto B, tenor G"
    assert texts("four-part-chord", ask("A minor", "IIb", "B4 - - D3"))[0] == "alto F, tenor D"


def test_any_spacing_without_a_fault_earns_full_marks() -> None:
    """Marks go by the rules, not by one key: each fault costs one."""
    facts = ask("C major", "I", "- - - C3")
    question = put(KIND, Draft(facts, KIND.solve(facts)[0].value[0]), id="q1", grade=5, edition="written", seed=1)
    marks = {
        "C5 G4 E4": 3, "E5 G4 C4": 3, "G4 E4 C4": 3, "C6 G5 E5": 1, "E5 G4 E4": 2, "G5 E4 C4": 2, "C5 A4 E4": 2,
        "C5 G4": 1, "C5 E4 C4": 2, "E5 C4 E4": 0,
    }  # fmt: skip
    for notes, expected in marks.items():
        assert mark_question(question, (pupil_wrote(notes),)).marks == expected, notes
    good = good_spacings(Key.parse("C"), ChordLabel(1), (None, None, None, Pitch.parse("C3")))
    assert len(good) > 8, "more than are written out"
    for spacing in good:
        wrote = pupil_wrote(" ".join(pitch.short for pitch in spacing[:3]))
        assert mark_question(question, (wrote,)).marks == 3


def test_the_raised_7th_needs_its_sign_on_each_stave() -> None:
    facts = ask("A minor", "V", "E4 - - E3")
    question = put(KIND, Draft(facts, KIND.solve(facts)[0].value[0]), id="q1", grade=5, edition="written", seed=1)
    assert mark_question(question, (pupil_wrote("B3 G#3"),)).marks == 3
    assert mark_question(question, (pupil_wrote("B3 G3"),)).slip == "leading note not raised"


def test_each_slip_has_just_its_fault() -> None:
    facts = ask("C major", "I", "- - - C3")
    for one in KIND.slips(facts):
        voices = [n.step + str(n.octave) for n in one.value[0].notes]
        found = set(kinds_of(" ".join([*voices, "C3"]), "C", "I"))
        if one.name in ("doubled third", "spacing", "range", "crossing"):
            assert found - {"note left out"} == {one.name}
        else:
            assert found
    names = set(slip_texts("four-part-chord", facts))
    assert {"doubled third", "spacing", "crossing"} <= names
    assert "doubled leading note" in slip_texts("four-part-chord", ask("C major", "V", "- - - G2"))
    minor = slip_texts("four-part-chord", ask("A minor", "V", "E4 - - E3"))
    assert minor["leading note not raised"] == "alto B, tenor G"
    assert slip_texts("four-part-chord", ask("C major", "I"))["another note in the bass"].endswith("bass E")


def test_every_answer_is_the_chord_for_music21_and_for_the_rules() -> None:
    seen = set()
    for _, draft in drafts("four-part-chord", 150):
        facts, key = draft.facts, Key.parse(draft.facts.key)
        for one in KIND.solve(facts):
            whole = [pitch for event in KIND.draw(facts, one.value[0]).sounding() for pitch in event.pitches]
            heard = music21.chord.Chord([pitch.short.replace("b", "-") for pitch in whole])
            degree = ("CDEFGAB".index(heard.root().step) - key.tonic.index) % 7
            assert ROMANS[degree] + ("", "b", "c")[heard.inversion()] == facts.label
            assert check_chord(whole, 0, key) == ()
        seen.add((facts.label, sum(note is None for note in facts.given)))
    assert len({label for label, _ in seen}) == 12
    assert {count for _, count in seen} == {2, 3, 4}


def test_four_printed_voices_leave_nothing_to_write() -> None:
    with pytest.raises(BadDocument, match="leave at least one"):
        ask("C major", "I", "C5 G4 E4 C3")


def test_any_written_answer_can_be_drawn() -> None:
    facts = ask("A minor", "V", "E4 - - E3")
    odd = WrittenNote("D", type="banana", accidental="x")
    for value in (Value(notes=()), pupil_wrote("C9 C9"), Value(notes=(odd,) * 5)):
        assert faults(KIND.draw(facts, value)) == []
        KIND.faults(facts, value)


def test_it_keeps_the_rules_of_kinds() -> None:
    keeps_the_rules("four-part-chord")
