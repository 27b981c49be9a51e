"""Arpeggios: worked rows both ways, any octave of the stave, naming, the slips, music21."""

from __future__ import annotations

import music21
import pytest

from questions.asking_many import drafts
from questions.hand_written import pupil_wrote
from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.marking.one_question import mark_question
from stavewright.questions.asking import ask as put
from stavewright.questions.choosing import is_right
from stavewright.questions.comparing import compare
from stavewright.questions.kind import Draft
from stavewright.questions.kinds.arpeggio import KIND, Arpeggio
from stavewright.questions.values import Value, WrittenNote
from stavewright.score.check import faults
from stavewright.syllabus.scope import scope_for


def ask(key: str, direction: str = "up", *, octave: int = 4, signature: bool = False, what: str = "write") -> Arpeggio:
    return Arpeggio("treble", key, octave, direction, signature, ask=what)


# Triads of the major and minor keys: Gehrkens, Music Notation and Terminology (1914) §§197-198; their notes one after
# another, one octave from tonic to tonic: common practice.
@pytest.mark.parametrize(
    "key, direction, notes",
    [
        ("C major", "up", "C E G C"), ("A minor", "down", "A E C A"), ("D major", "both", "D F sharp A D A F sharp D"),
        ("E flat major", "up", "E flat G B flat E flat"), ("C minor", "up", "C E flat G C"),
        ("F sharp minor", "down", "F sharp C sharp A F sharp"), ("G minor", "both", "G B flat D G D B flat G"),
    ],
)  # fmt: skip
def test_worked_arpeggios(key: str, direction: str, notes: str) -> None:
    assert texts("arpeggio", ask(key, direction))[0] == notes


def test_any_octave_of_the_stave_is_right_but_the_line_must_not_break() -> None:
    facts = ask("D major")
    answers = KIND.solve(facts)
    for right in ("D4 F#4 A4 D5", "D5 F#5 A5 D6"):
        assert is_right(pupil_wrote(right, "crotchet"), answers, KIND)
    for wrong in ("D4 F#5 A4 D5", "D4 F#4 A4 D4", "D5 A4 F#4 D4", "D4 F4 A4 D5", "D4 F#4 A4", "F#4 A4 D5 F#5"):
        assert not is_right(pupil_wrote(wrong, "crotchet"), answers, KIND), wrong


def test_the_upper_octave_needs_its_own_sign() -> None:
    """An accidental holds at its own line or space only (Gehrkens, 1914, §24)."""
    facts = ask("F# major".replace("#", " sharp"))
    value = KIND.solve(facts)[0].value[0]
    assert [note.accidental for note in value.notes] == ["sharp"] * 4
    assert compare(pupil_wrote("F#4 A#4 C#5 F5"), value, KIND.marking).faults == 1
    down = KIND.solve(ask("D major", "both"))[0].value[0]
    assert [note.accidental for note in down.notes] == [None, "sharp", None, None, None, None, None]


def test_under_the_signature_no_sign_is_needed() -> None:
    facts = ask("E flat major", signature=True)
    assert is_right(pupil_wrote("E4 G4 B4 E5"), KIND.solve(facts), KIND)
    assert not is_right(pupil_wrote("E4 G4 B4 E5"), KIND.solve(ask("E flat major")), KIND)


@pytest.mark.parametrize("key", ["G major", "E minor", "B flat minor"])
def test_the_key_of_a_written_arpeggio(key: str) -> None:
    facts = ask(key, what="name")
    assert texts("arpeggio", facts) == [key]
    short = key.replace(" flat", "b").replace(" minor", "m").replace(" major", "")
    if key != "G major":
        assert is_right(Value(words=short), KIND.solve(facts), KIND)


def test_marks_go_by_the_notes_and_a_wrong_key_earns_none() -> None:
    named, facts = ask("E minor", what="name"), ask("D major")
    question = put(KIND, Draft(named, "E minor"), id="q1", grade=5, edition="written", seed=1)
    assert mark_question(question, (Value(words="E major"),)).marks == 0
    assert mark_question(question, (Value(words="Em"),)).marks == 2
    question = put(KIND, Draft(facts, "D F sharp A D"), id="q1", grade=5, edition="written", seed=1)
    assert mark_question(question, (pupil_wrote("D4 F4 A4 D5", "crotchet"),)).marks == 1


def test_each_slip_answers_by_its_wrong_rule() -> None:
    slips = slip_texts("arpeggio", ask("E major"))
    assert slips["a chord note skipped"] == "E B E G sharp"
    assert slips["minor 3rd"] == "E G B E"
    assert slips["signs left out"] == "E G B E"
    assert slips["arpeggio of the relative key"] == "C sharp E G sharp C sharp"
    assert slips["begun on the 3rd"] == "G sharp B E G sharp"
    assert slips["4th for 5th"] == "E G sharp A E"
    assert slips["scale steps for chord notes"] == "E F sharp G sharp A"
    assert slips["wrong direction"] == "E B G sharp E"
    named = slip_texts("arpeggio", ask("E minor", what="name"))
    assert named == {
        "major for minor": "E major", "relative key": "G major", "named after the second note": "G major",
        "named after the 5th": "B minor",
    }  # fmt: skip
    assert "wrong direction" not in slip_texts("arpeggio", ask("E major", "both"))


def test_music21_names_the_triad_of_every_arpeggio() -> None:
    """The drawn model answer is a root-position triad of the key for music21, one octave wide, tonic to tonic."""
    seen = 0
    for grade, draft in drafts("arpeggio", 60):
        facts = draft.facts
        value = KIND.solve(facts)[0].value[0]
        row = [note.pitch for note in KIND.draw(facts, value).notes()]
        ups = sorted({pitch.midi: pitch for pitch in row}.items())
        heard = music21.chord.Chord([pitch.short.replace("b", "-") for _, pitch in ups[:3]])
        name = heard.root().name.replace("-", " flat").replace("#", " sharp")
        assert f"{name} {heard.quality}" == facts.key
        assert heard.inversion() == 0
        assert ups[-1][0] - ups[0][0] == 12
        assert facts.key in {key.text for key in scope_for(grade).keys}
        seen += 1
    assert seen > 200


def test_any_written_answer_can_be_drawn() -> None:
    facts = ask("A minor")
    odd = WrittenNote("D", type="banana", accidental="x")
    for value in (Value(notes=()), Value(words="A minor"), Value(notes=(odd,) * 9)):
        assert faults(KIND.draw(facts, value)) == []


def test_it_keeps_the_rules_of_kinds() -> None:
    keeps_the_rules("arpeggio")
