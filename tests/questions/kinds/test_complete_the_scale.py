"""Complete a scale."""

from __future__ import annotations

import music21
import pytest

from questions.asking_many import answer_words, asked, drafts
from questions.rules_of_kinds import keeps_the_rules, slip_texts
from stavewright.questions.catalogue import kind
from stavewright.questions.comparing import compare
from stavewright.questions.documents import NotesForm
from stavewright.questions.kinds.complete_the_scale import KIND, CompleteTheScale
from stavewright.questions.score_mirror import score_of
from stavewright.questions.values import Value, WrittenNote
from stavewright.score.check import faults
from stavewright.score.event import Gap
from stavewright.syllabus.scope import scope_for


def facts(tonic="E", form="melodic minor", direction="up", signature=False, missing=(), octave=4) -> CompleteTheScale:
    return CompleteTheScale("treble", tonic, octave, form, direction, signature, missing)


def test_the_rules_of_all_kinds():
    keeps_the_rules("complete-the-scale")


# Clementi, Introduction to the Art of Playing on the Piano Forte (1801), scales: rising 6-7, falling 7-6.
@pytest.mark.parametrize(
    "tonic, rising, falling",
    [
        ("E", "C sharp D sharp", "D C"),
        ("G sharp", "E sharp F double sharp", "F sharp E"),
        ("F", "D E", "E flat D flat"),
    ],
)
def test_the_sixth_and_seventh_of_the_melodic_minor(tonic, rising, falling):
    assert answer_words("complete-the-scale", facts(tonic, missing=(5, 6))) == [rising]
    assert answer_words("complete-the-scale", facts(tonic, direction="down", missing=(1, 2))) == [falling]


def test_accidentals_for_bare_notes_and_with_a_signature():
    # Gehrkens, Music Notation and Terminology (1914) §86: the harmonic minor of D has B flat and C sharp.
    bare = KIND.solve(facts("D", "harmonic minor"))[0].value[0]
    assert [note.accidental for note in bare.notes] == [None] * 5 + ["flat", "sharp", None]
    signed = KIND.solve(facts("D", "harmonic minor", signature=True))[0].value[0]
    assert [note.accidental for note in signed.notes] == [None] * 6 + ["sharp", None]


def test_four_options_are_always_offered():
    """Where slips fall together, a note a semitone off makes up the four."""
    for _, _, question in asked("complete-the-scale", 60):
        if question.edition == "on-screen":
            assert len(question.response[0].options) == 4


def test_every_slip():
    words = slip_texts("complete-the-scale", facts("E", "melodic minor", missing=(5, 6)))
    assert words["raised 7th forgotten"] == "C D"
    assert words["harmonic for melodic"] == "C D sharp"
    assert words["accidentals forgotten"] == "C D"
    assert words["a place too high"] == "D E"
    down = slip_texts("complete-the-scale", facts("E", "melodic minor", "down", missing=(1, 2)))
    assert down["melodic same both ways"] == "D sharp C sharp"
    major = slip_texts("complete-the-scale", facts("D", "major", missing=(2, 6)))
    assert major["7th a semitone too low"] == "F sharp C"
    assert major["minor for major"] == "F C sharp"
    printed = slip_texts("complete-the-scale", facts("D", "major", signature=True, missing=(2, 6)))
    assert "accidentals forgotten" not in printed
    assert "one sign too many" not in printed


def test_the_form_holds_a_gap_for_each_missing_note():
    for _, draft, question in asked("complete-the-scale", 20):
        form = question.response[0]
        if isinstance(form, NotesForm) and draft.facts.missing:
            events = list(score_of(form.given).events())
            assert [place for place, event in enumerate(events) if isinstance(event, Gap)] == list(draft.facts.missing)
            assert form.count == len(draft.facts.missing)


def test_a_wrong_note_is_one_fault():
    right = KIND.solve(facts("D", "major", missing=(2, 6)))[0].value[0]
    given = Value(notes=(WrittenNote("F", octave=4, type="semibreve"), right.notes[1]))
    assert compare(given, right, KIND.marking).faults == 1


M21 = {
    "major": music21.scale.MajorScale,
    "natural minor": music21.scale.MinorScale,
    "harmonic minor": music21.scale.HarmonicMinorScale,
    "melodic minor": music21.scale.MelodicMinorScale,
}


def test_music21_completes_the_same_scales():
    for _, draft in drafts("complete-the-scale", 50):
        shown = draft.facts
        low = music21.pitch.Pitch(f"{shown.tonic.replace(' sharp', '#').replace(' flat', '-')}{shown.octave}")
        down = shown.direction == "down"
        way = music21.scale.Direction.DESCENDING if down else music21.scale.Direction.ASCENDING
        found = sorted(M21[shown.form](low).getPitches(low, low.transpose(12), direction=way), key=lambda p: p.ps)
        names = [p.nameWithOctave for p in (found[::-1] if down else found)]
        drawn = KIND.draw(shown, KIND.solve(shown)[0].value[0])
        assert [note.pitch.short.replace("b", "-") for note in drawn.notes()] == names


def test_the_pool_counts_what_can_be_set():
    found = {repr(draft.facts) for _, draft in drafts("complete-the-scale", 12000, grades=(1,))}
    assert kind("complete-the-scale").pool(scope_for(1)) == len(found)


def test_any_answer_can_be_drawn():
    few = Value(notes=(WrittenNote("F", octave=2, accidental="odd"),))
    for shown in (facts(), facts(missing=(2, 3, 6))):
        assert faults(KIND.draw(shown, few)) == []
        assert faults(KIND.draw(shown, Value(notes=()))) == []
