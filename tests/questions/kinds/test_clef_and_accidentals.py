"""Clef and accidentals that make a named scale."""

from __future__ import annotations

import msgspec
import pytest

from questions.asking_many import asked, drafts
from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from questions.scale_papers import scale_by_music21
from stavewright.marking.one_question import mark_question
from stavewright.questions.asking import ask
from stavewright.questions.documents import NotesForm
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft
from stavewright.questions.kinds.clef_and_accidentals import KIND, ClefAndAccidentals
from stavewright.questions.score_mirror import score_of
from stavewright.questions.sheet import sheet
from stavewright.questions.values import Value, WrittenNote
from stavewright.score.check import faults
from stavewright.syllabus.scope import scope_for


def facts(first: int, direction: str, name: str) -> ClefAndAccidentals:
    tonic, form = name.split(" ", 1) if " sharp" not in name and " flat" not in name else (
        " ".join(name.split()[:2]), " ".join(name.split()[2:]))  # fmt: skip
    return ClefAndAccidentals(first, direction, tonic, form)


# Clefs: Gehrkens, Music Notation and Terminology (1914) §15-17. Scales: §§81-89; melodic minors, Clementi, Introduction
# to the Art of Playing on the Piano Forte (1801).
@pytest.mark.parametrize(
    "first, direction, name, answer",
    [
        (2, "up", "G major", "treble clef: G A B C D E F sharp G"),
        (-1, "up", "E major", "alto clef: E F sharp G sharp A B C sharp D sharp E"),
        (-1, "up", "C major", "tenor clef: C D E F G A B C"),
        (6, "down", "F harmonic minor", "bass clef: F E D flat C B flat A flat G F"),
        (4, "down", "C natural minor", "alto clef: C B flat A flat G F E flat D C"),
        (6, "down", "C harmonic minor", "tenor clef: C B A flat G F E flat D C"),
        (0, "up", "E melodic minor", "treble clef: E F sharp G A B C sharp D sharp E"),
        (
            0,
            "up",
            "G sharp melodic minor",
            "bass clef: G sharp A sharp B C sharp D sharp E sharp F double sharp G sharp",
        ),
    ],
)
def test_published_scales_on_the_lines_of_their_clefs(first: int, direction: str, name: str, answer: str) -> None:
    assert texts("clef-and-accidentals", facts(first, direction, name)) == [answer]


def test_no_clef_fits_a_wrong_letter() -> None:
    """The bottom line is E, G, F or D; never A."""
    with pytest.raises(BadDocument, match="move it by a line or space"):
        KIND.solve(facts(0, "up", "A major"))


def test_every_slip() -> None:
    """Worked by hand: D harmonic minor in the alto clef, from the space below the bottom... D is place -2."""
    found = slip_texts("clef-and-accidentals", facts(-2, "up", "D harmonic minor"))
    assert found["treble clef"] == "treble clef: C D E F G A flat B sharp C"
    assert found["bass clef"] == "bass clef: E F G A B C flat D sharp E"
    assert found["tenor clef"] == "tenor clef: B C D E F G flat A sharp B"
    assert found["raised 7th forgotten"] == "alto clef: D E F G A B flat C D"
    assert found["major for minor"] == "alto clef: D E F sharp G A B C sharp D"
    assert found["accidentals forgotten"] == "alto clef: D E F G A B C D"
    assert "wrong direction" not in found


def test_the_clef_must_be_there() -> None:
    shown = facts(2, "up", "G major")
    right = KIND.solve(shown)[0].value[0]
    question = ask(KIND, Draft(shown, right), id="q", grade=4, edition="written", seed=1)
    assert mark_question(question, (right,)).marks == 3
    assert mark_question(question, (msgspec.structs.replace(right, clef=None),)).marks == 2
    other = next(one.value for one in KIND.slips(shown) if one.name == "bass clef")
    assert 1 <= mark_question(question, other).marks < 3, "one cause costs at most half"


def test_the_sheet_does_not_tell_the_clef() -> None:
    for _, draft, question in asked("clef-and-accidentals", 20):
        form = question.response[0]
        if isinstance(form, NotesForm):
            assert not score_of(form.given).staves[0].show_clef
            assert sheet(question).response[0].clef is None
            assert {note.accidental for note in score_of(form.given).notes()} == {None}
            said = b" ".join(part.encode() for part in (question.prompt[0].text, form.alt))
            clef = KIND.solve(draft.facts)[0].value[0].clef
            assert clef.encode() not in said


def test_music21_writes_the_same_scale() -> None:
    for _, draft in drafts("clef-and-accidentals", 60):
        drawn = [note.pitch.short.replace("b", "-") for note in KIND.draw(draft.facts, draft.expected).notes()]
        lowest = drawn[0] if draft.facts.direction == "up" else drawn[-1]
        name = f"{draft.facts.tonic} {draft.facts.form}"
        assert drawn == scale_by_music21(name, lowest, draft.facts.direction)


def test_the_pool_counts_what_can_be_set() -> None:
    found = {draft.facts for _, draft in drafts("clef-and-accidentals", 14000, grades=(4,))}
    assert len(found) == KIND.pool(scope_for(4))


def test_any_answer_can_be_drawn() -> None:
    odd = Value(notes=(WrittenNote("F", octave=2, accidental="odd"),), clef="soprano")
    assert faults(KIND.draw(facts(2, "up", "G major"), odd)) == []


def test_the_rules_of_all_kinds() -> None:
    keeps_the_rules("clef-and-accidentals")
