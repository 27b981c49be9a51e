"""Two bars that go together: every relation on music written out by hand, every slip, setter against solver."""

from __future__ import annotations

from random import Random

import pytest

from questions.hand_written import extract
from questions.rules_of_kinds import slip_texts, texts
from questions.tiny_melodies import TinyMelodies
from stavewright.questions.asking import ask
from stavewright.questions.kinds.compare_bars import KIND, CompareBars
from stavewright.questions.melodies import Stimulus
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.bar_pairs import pairs_of
from stavewright.questions.setting.flat_line import flatten
from stavewright.questions.setting.turned_bar import turn_a_bar
from stavewright.score.check import faults
from stavewright.score.event import Note
from stavewright.syllabus.scope import scope_for
from stavewright.wiring import composed_melodies

ID = "compare-bars"
# Written out by hand, F major: 1 and 4 alike, 2 is 1 a step higher, 3 is 1 turned over, 5 has the rhythm turned round.
PAIRS = extract(
    "F4/1 G4/q A4/q C5/1 | G4/1 A4/q B4/q D5/1 | A4/1 G4/q F4/q D4/1 | F4/1 G4/q A4/q C5/1"
    " | A4/q B4/q C5/1 A4/1 | F4/2.",
    "3/4",
    -1,
)


def facts(relation: str, music=PAIRS) -> CompareBars:
    return CompareBars(document_of(music), relation)


# An exact repeat keeps every note; a sequence moves the whole pattern; an inversion turns every interval over
# (Open Music Theory, version 1, "motive": repetition, transposition or sequence, inversion).
@pytest.mark.parametrize(
    ("relation", "pairs"),
    [
        ("same-notes", ["bars 1 and 4"]),
        ("sequence", ["bars 1 and 2"]),
        ("inversion", ["bars 1 and 3", "bars 2 and 3", "bars 3 and 4"]),
        ("same-rhythm", ["bars 1 and 2", "bars 1 and 3", "bars 2 and 3", "bars 2 and 4", "bars 3 and 4"]),
    ],
)
def test_relations_worked_by_hand(relation, pairs):
    assert texts(ID, facts(relation)) == pairs


def test_the_same_letters_with_other_signs_are_no_repeat():
    music = extract("F4/1 G4/1 A4/1 | F#4/1 G4/1 A4/1 | C5/2.", "3/4")
    assert texts(ID, facts("same-notes", music)) == []
    assert texts(ID, facts("same-rhythm", music)) == ["bars 1 and 2"]


def test_every_slip():
    assert slip_texts(ID, facts("same-notes")) == {
        "same shape for same notes": "bars 1 and 2",
        "same rhythm for same notes": "bars 1 and 2",
        "same look": "bars 1 and 2",
    }
    assert (
        slip_texts(ID, facts("same-rhythm"))
        == {
            "same notes for same rhythm only": "bars 1 and 4",
            "counted the notes only": "bars 1 and 4",
            "same look": "bars 1 and 4",
        }
        | {}
    )
    wrong = slip_texts(ID, facts("sequence"))
    assert wrong["exact repeat for a sequence"] == "bars 1 and 4"
    assert wrong["moved, but not side by side"] == "bars 2 and 4"
    assert wrong["same rhythm for a sequence"] == "bars 1 and 3"
    wrong = slip_texts(ID, facts("inversion"))
    assert wrong["moved for turned over"] == "bars 1 and 2"
    assert wrong["exact repeat for turned over"] == "bars 1 and 4"
    upbeat = extract("D5/q | G5/1 A5/1 | G5/1 A5/1 | B4/1 G4/q", "2/4", 1, anacrusis=True)
    assert slip_texts(ID, facts("same-notes", upbeat))["upbeat counted as bar 1"] == "bars 2 and 3"


@pytest.mark.parametrize("source", [composed_melodies(), TinyMelodies()], ids=["composed", "tiny"])
def test_setter_and_solver_find_the_same_pairs(source):
    """Whatever pairs the setter finds fair, the solver finds just these, in the same order."""
    compared = 0
    for seed in range(40):
        made = source.melody(scope_for(4), Random(seed), bars=8)
        if made is None:
            continue
        for relation, pairs in pairs_of(flatten(made.score)).items():
            assert texts(ID, facts(relation, made.score)) == [f"bars {a} and {b}" for a, b in pairs], (seed, relation)
            compared += 1
    assert compared >= 5


def test_a_turned_bar_is_the_mirror_and_well_written():
    made = 0
    for seed in range(30):
        melody = composed_melodies().melody(scope_for(3), Random(seed), bars=8)
        turned = turn_a_bar(melody.score, scope_for(3), Random(seed))
        if turned is None:
            continue
        score, one, other = turned
        assert faults(score) == []
        rows = [
            [n.pitch.diatonic for n in score.staves[0].bars[at].events if isinstance(n, Note)] for at in (one, other)
        ]
        assert [p - rows[0][0] for p in rows[0]] == [rows[1][0] - p for p in rows[1]]
        made += 1
    assert made > 15


def test_marks_and_blocks_on_a_shared_extract():
    asked = 0
    for seed in range(30):
        melody = composed_melodies().melody(scope_for(2), Random(seed), bars=8)
        draft = KIND.set(scope_for(2), Random(seed), Stimulus(melody, document_of(melody.score)), None)
        if draft is None:
            continue
        question = ask(KIND, draft, id="q", grade=2, edition="written", seed=seed)
        assert question.prompt[1].id == "extract"
        assert len(draft.expected.places) == 2
        asked += 1
    assert asked > 15
    assert KIND.set(scope_for(3), Random(1), None, None) is None
