"""Degrees of the scale by their technical names."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import music21
import pytest

from questions.asking_many import answer_words, drafts
from questions.rules_of_kinds import keeps_the_rules, slip_texts
from questions.tiny_melodies import stimulus
from stavewright.questions.asking import ask
from stavewright.questions.comparing import compare
from stavewright.questions.kinds.degree_name import KIND, DegreeName
from stavewright.questions.marked import MarkedNote
from stavewright.questions.score_document import PitchDocument
from stavewright.questions.score_mirror import score_of
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.syllabus.scope import scope_for
from stavewright.theory.key import Key
from stavewright.theory.pitch import Pitch


def row(key: str, text: str, marked: int) -> DegreeName:
    pitches = [Pitch.parse(one) for one in text.split()]
    documents = tuple(PitchDocument(p.step, p.alter, p.octave) for p in pitches)
    return DegreeName(key, MarkedNote("treble", Key.parse(key).fifths, documents, marked))


def test_the_rules_of_all_kinds():
    keeps_the_rules("degree-name")


# Gehrkens, Music Notation and Terminology (1914) §91: the seven names, here in E flat major.
@pytest.mark.parametrize(
    "note, name",
    [
        ("Eb4", "tonic"), ("F4", "supertonic"), ("G4", "mediant"), ("Ab4", "subdominant"), ("Bb4", "dominant"),
        ("C5", "submediant"), ("D5", "leading note"),
    ],
)  # fmt: skip
def test_the_seven_names(note, name):
    facts = row("E flat major", f"{note} G4", 0)
    assert answer_words("degree-name", facts)[0] == name
    asked_back = DegreeName("E flat major", name=name)
    assert answer_words("degree-name", asked_back) == [Pitch.parse(note).name.text]


def test_every_name_in_use_is_taken():
    # Gehrkens §91 (superdominant); Open Music Theory, version 1 (subtonic); US name: Schmidt-Jones m10851.
    assert answer_words("degree-name", row("C major", "A4", 0)) == ["submediant", "superdominant"]
    assert answer_words("degree-name", row("A minor", "G4", 0)) == ["subtonic", "leading note", "leading tone"]
    right = KIND.solve(row("A minor", "G#4", 0))[0].value[0]
    assert compare(Value(words="Leading tone"), right, KIND.marking).same
    assert right.words == "leading note"


def test_every_slip():
    assert slip_texts("degree-name", row("C major", "A4 E4 G4", 1)) == {
        "mediant and submediant swapped": "submediant",
        "mediant and supertonic swapped": "supertonic",
        "counted from the lowest written note": "tonic",
        "counted in the relative key": "dominant",
        "counted the gap": "supertonic",
    }
    assert (
        slip_texts("degree-name", row("C major", "D4 F4", 0))["supertonic and leading note swapped"] == "leading note"
    )
    assert slip_texts("degree-name", row("C major", "D4 F4", 1))["subdominant and submediant swapped"] == "submediant"
    assert slip_texts("degree-name", DegreeName("D minor", name="leading note")) == {
        "leading note and supertonic swapped": "E",
        "leading note and submediant swapped": "B flat",
        "sign of the key forgotten": "C",
        "counted in the relative key": "E",
        "raised 7th forgotten": "C",
    }


def test_every_raised_note_of_a_row_has_its_own_sign():
    facts = row("A minor", "G#4 B4 G#4", 2)
    posed = KIND.pose(facts, Wording("words"))
    (shown,) = [block for block in posed.blocks if hasattr(block, "score")]
    assert [note.accidental for note in score_of(shown.score).notes()] == ["sharp", None, "sharp"]


def test_follow_through_from_the_pupils_own_key():
    facts = row("G major", "D5 B4 G4", 1)
    assert answer_words("degree-name", facts) == ["mediant"]
    assert answer_words("degree-name", KIND.given(facts, Value(words="E minor"))) == ["dominant"]
    assert KIND.given(facts, Value(number=3)) == facts


def test_on_an_extract_leaning_on_an_earlier_part():
    for seed in range(60):
        scope = scope_for(4)
        leaning = stimulus(scope, seed, key_part="b")
        draft = KIND.set(scope, Random(seed), leaning, None)
        question = ask(KIND, draft, id="q", grade=4, edition="written", seed=seed, follows="q0")
        assert "part (b)" in question.prompt[0].text
        assert question.follows == "q0"
        assert question.prompt[1].score == leaning.document
        assert KIND.shows(draft.facts) == frozenset()


def test_music21_counts_the_same_degrees():
    names = ["tonic", "supertonic", "mediant", "subdominant", "dominant", "submediant", "leading note"]
    for _, draft in drafts("degree-name", 80):
        facts = draft.facts
        if facts.place is not None:
            tonic, _, mode = facts.key.rpartition(" ")
            key = music21.key.Key(tonic.replace(" sharp", "#").replace(" flat", "-"), mode)
            letters = [p.step for p in key.getScale(mode).getPitches()[:7]]
            assert draft.expected == names[letters.index(facts.place.row[facts.place.marked].step)]


def test_nothing_is_asked_before_the_names_are_in_scope_or_without_a_key():
    assert KIND.set(scope_for(3), Random(1), None, None) is None
    base = stimulus(scope_for(4), 2)
    assert KIND.set(scope_for(4), Random(1), replace(base, extract=replace(base.extract, key=None)), None) is None
