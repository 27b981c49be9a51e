"""Degrees of the scale by number."""

from __future__ import annotations

from random import Random

import music21
import pytest

from questions.asking_many import answer_words, drafts
from questions.rules_of_kinds import keeps_the_rules, slip_texts
from questions.tiny_melodies import stimulus
from stavewright.marking.one_question import mark_question
from stavewright.questions.asking import ask
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft
from stavewright.questions.kinds.degree_number import KIND, DegreeNumber
from stavewright.questions.marked import MarkedNote
from stavewright.questions.score_document import PitchDocument
from stavewright.questions.values import Value
from stavewright.syllabus.scope import scope_for
from stavewright.theory.key import Key
from stavewright.theory.pitch import Pitch


def row(key: str, text: str, marked: int) -> DegreeNumber:
    pitches = [Pitch.parse(one) for one in text.split()]
    documents = tuple(PitchDocument(p.step, p.alter, p.octave) for p in pitches)
    return DegreeNumber(key, MarkedNote("treble", Key.parse(key).fifths, documents, marked))


def test_the_rules_of_all_kinds():
    keeps_the_rules("degree-number")


# Worked by hand; degrees are counted upwards from the tonic: Gehrkens, Music Notation and Terminology (1914) §91.
@pytest.mark.parametrize(
    "key, notes, marked, number",
    [
        ("D major", "F#4 A4 D5", 0, "3"),
        ("D major", "F#4 C#5 D5", 1, "7"),
        ("A minor", "C5 G#4 A4", 1, "7"),
        ("A minor", "C5 F#4 G#4", 1, "6"),
        ("E flat major", "Bb4 Eb5 Ab4", 2, "4"),
    ],
)
def test_the_number_of_a_note(key, notes, marked, number):
    assert answer_words("degree-number", row(key, notes, marked))[0] == number


def test_the_tonic_may_be_one_or_eight():
    assert answer_words("degree-number", row("G major", "B4 G5", 1)) == ["1", "8"]


def test_the_note_of_a_number():
    # Gehrkens §86, 91: the harmonic form has the leading note.
    assert answer_words("degree-number", DegreeNumber("E minor", degree=7)) == ["D sharp"]
    assert answer_words("degree-number", DegreeNumber("B flat major", degree=4)) == ["E flat"]


def test_every_slip_of_the_number():
    # Worked by hand: G major, notes D5 E5 B4, the second marked (E is 6).
    assert slip_texts("degree-number", row("G major", "D5 E5 B4", 1)) == {
        "counted from the lowest written note": "4",
        "counted from the first note": "2",
        "counted the gap": "5",
        "counted one too many": "7",
        "counted down": "3",
        "counted from C": "3",
        "counted in the relative key": "1",
    }


def test_every_slip_of_the_note():
    assert slip_texts("degree-number", DegreeNumber("D minor", degree=7)) == {
        "counted the gap": "D",
        "stopped too soon": "B flat",
        "counted down": "E",
        "sign of the key forgotten": "C",
        "counted from C": "B",
        "counted in the relative key": "E",
        "raised 7th forgotten": "C",
    }


def test_on_an_extract_with_the_key_named_or_leaning_on_an_earlier_part():
    for seed in range(60):
        scope = scope_for(3)
        plain = stimulus(scope, seed)
        draft = KIND.set(scope, Random(seed), plain, None)
        question = ask(KIND, draft, id="q", grade=3, edition="written", seed=seed)
        assert plain.extract.key.text in question.prompt[0].text
        assert question.prompt[1].id == "extract"
        leaning = stimulus(scope, seed, key_part="a")
        later = KIND.set(scope, Random(seed), leaning, None)
        assert later.follows
        said = ask(KIND, later, id="q", grade=3, edition="written", seed=seed, follows="q0").prompt[0].text
        assert "part (a)" in said
        assert leaning.extract.key.tonic.text + " m" not in said


def test_follow_through_from_the_pupils_own_key():
    # The pupil took E minor for its relative G major: there the note B is 5, not 3.
    facts = row("G major", "D5 B4 G4", 1)
    assert answer_words("degree-number", facts)[0] == "3"
    changed = KIND.given(facts, Value(words="e min"))
    assert answer_words("degree-number", changed)[0] == "5"
    assert KIND.given(facts, Value(words="I do not know")) == facts
    assert KIND.given(facts, Value(choice="b")) == facts
    sharp = KIND.given(facts, Value(words="F#"))
    assert sharp.key == "F sharp major"


def test_marks_follow_from_the_pupils_own_key():
    """A part that rests on a wrong key earns its marks when it is right from there, and the report says so."""
    facts = row("G major", "D5 B4 G4", 1)
    question = ask(KIND, Draft(facts, "3", follows=True), id="b", grade=3, edition="written", seed=1, follows="a")
    earlier = Value(words="E minor")
    assert mark_question(question, (Value(number=3),), earlier).marks == 1
    followed = mark_question(question, (Value(number=5),), earlier)
    assert followed.marks == 1
    assert followed.follow_through
    assert mark_question(question, (Value(number=5),)).marks == 0
    assert mark_question(question, (Value(number=4),), earlier).marks == 0


def test_music21_counts_the_same_degrees():
    for _, draft in drafts("degree-number", 60):
        facts = draft.facts
        tonic, _, mode = facts.key.rpartition(" ")
        key = music21.key.Key(tonic.replace(" sharp", "#").replace(" flat", "-"), mode)
        if facts.place is not None:
            note = facts.place.row[facts.place.marked]
            found, _ = key.getScaleDegreeAndAccidentalFromPitch(music21.pitch.Pitch(note.step))
            if found is None:
                letters = [p.step for p in key.getScale(mode).getPitches()[:7]]
                found = letters.index(note.step) + 1
            assert draft.expected == str(found)


def test_both_ways_are_asked():
    ways = {draft.facts.place is None for _, draft in drafts("degree-number", 30, grades=(1,))}
    assert ways == {True, False}


def test_a_stimulus_without_a_key_in_scope_is_refused():
    from dataclasses import replace

    base = stimulus(scope_for(1), 2)
    assert KIND.set(scope_for(1), Random(1), replace(base, extract=replace(base.extract, key=None)), None) is None


def test_facts_that_point_nowhere_are_refused():
    with pytest.raises(BadDocument):
        KIND.solve(row("G major", "D5 B4", 4))
