"""Copying out bars."""

from __future__ import annotations

import msgspec
import pytest

from questions.asking_many import asked, drafts
from questions.tiny_melodies import TinyMelodies
from questions.written_melodies import crotchets, names_of
from stavewright.marking.one_question import mark_question
from stavewright.questions.asking import ask
from stavewright.questions.documents import NotesForm
from stavewright.questions.kind import Draft
from stavewright.questions.kinds.copy_the_bars import KIND, CopyTheBars
from stavewright.questions.score_mirror import score_of
from stavewright.questions.sheet import sheet
from stavewright.questions.values import Value, WrittenNote
from stavewright.score.check import faults
from stavewright.syllabus.edition import EDITIONS
from stavewright.tunes.composed import ComposedMelodies

SHOWN = CopyTheBars(crotchets("D4 F#4 A4", "C#5 G#4 D5", fifths=2))


def right(shown: CopyTheBars = SHOWN) -> Value:
    return KIND.solve(shown)[0].value[0]


def marks(value: Value) -> int:
    question = ask(KIND, Draft(SHOWN, right()), id="q", grade=2, edition="written", seed=1)
    return mark_question(question, (value,)).marks


def test_a_copy_has_everything() -> None:
    """What a stave begins with: clef, then signature (Gehrkens, Music Notation and Terminology, 1914, §§15, 23, 76)."""
    value = right()
    assert (value.clef, value.signature, value.bar_lines) == ("treble", 2, (3,))
    assert names_of(value) == "D4 F4 A4 C5 G4 D5"
    assert [note.accidental for note in value.notes] == [None, None, None, None, "sharp", None]
    assert marks(value) == 4


def test_what_is_missing_costs() -> None:
    """One fault, one mark; a steady cause at most half (the marking rule of the kind)."""
    value = right()
    assert marks(msgspec.structs.replace(value, clef=None)) == 3
    assert marks(msgspec.structs.replace(value, signature=None)) == 3
    assert marks(msgspec.structs.replace(value, clef=None, signature=None)) == 2
    assert marks(msgspec.structs.replace(value, clef="bass")) == 3
    short = (msgspec.structs.replace(value.notes[0], type="quaver"), *value.notes[1:])
    assert marks(msgspec.structs.replace(value, notes=short)) == 3
    assert marks(msgspec.structs.replace(value, notes=value.notes[:4])) == 2
    assert marks(Value(notes=())) == 0


def test_every_slip() -> None:
    found = {one.name: one for one in KIND.slips(SHOWN)}
    assert set(found) == {
        "clef missing", "signature missing", "clef and signature missing", "all a place too high", "signs left out",
    }  # fmt: skip
    assert found["clef missing"].text.startswith("no clef, 2 sharps: D 4")
    assert names_of(found["all a place too high"].value[0]) == "E4 G4 B4 D5 A4 E5"
    assert found["signs left out"].value[0].notes[4].accidental is None
    question = ask(KIND, Draft(SHOWN, right()), id="q", grade=2, edition="written", seed=1)
    missing = mark_question(question, (msgspec.structs.replace(right(), clef=None),))
    assert missing.slip == "clef missing"


def test_dots_are_copied() -> None:
    for _, draft in drafts("copy-the-bars", 30, melodies=TinyMelodies()):
        value = right(draft.facts)
        if any(note.dots for note in value.notes):
            bare = {one.name: one.value[0] for one in KIND.slips(draft.facts)}["dots left out"]
            assert not any(note.dots for note in bare.notes)
            break
    else:
        pytest.fail("no melody had a dot")


def test_it_is_a_task_for_pen_and_paper() -> None:
    assert set(KIND.forms) == {"written"} < set(EDITIONS)


def test_the_stave_to_write_on_is_bare() -> None:
    for _, _, question in asked("copy-the-bars", 10, melodies=TinyMelodies()):
        form = question.response[0]
        assert isinstance(form, NotesForm)
        stave = score_of(form.given).staves[0]
        assert (stave.show_clef, stave.fifths, stave.time) == (False, None, None)
        assert sheet(question).response[0].clef is None
        assert list(score_of(form.given).notes()) == []


@pytest.mark.parametrize("source", [TinyMelodies(), ComposedMelodies()])
def test_the_copy_drawn_is_the_music_shown(source: object) -> None:
    for _, draft in drafts("copy-the-bars", 25, melodies=source):
        drawn = KIND.draw(draft.facts, right(draft.facts))
        assert drawn.staves[0] == score_of(draft.facts.melody).staves[0] or [
            (n.pitch, n.duration, n.accidental, n.beam, n.tie) for n in drawn.notes()
        ] == [(n.pitch, n.duration, n.accidental, n.beam, n.tie) for n in score_of(draft.facts.melody).notes()]


def test_any_answer_can_be_drawn() -> None:
    assert not KIND.draw(SHOWN, msgspec.structs.replace(right(), clef=None)).staves[0].show_clef
    for value in (Value(notes=()), Value(notes=(WrittenNote("F", octave=2, accidental="odd", type="odd"),) * 6)):
        assert faults(KIND.draw(SHOWN, value)) == []
