"""Proof-reading: every fault planted by hand, every slip, setter against solver."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import pytest

from questions.hand_written import extract
from questions.rules_of_kinds import slip_texts, texts
from stavewright.marking.one_question import mark_question
from stavewright.questions.asking import ask
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft
from stavewright.questions.kinds.proof_read import KIND, ProofRead
from stavewright.questions.score_mirror import document_of, score_of
from stavewright.questions.values import Place, Value
from stavewright.score.check import faults
from stavewright.score.stave import Score
from stavewright.syllabus.scope import scope_for
from stavewright.theory.pitch import Pitch
from stavewright.wiring import composed_melodies

ID = "proof-read"


def music(text: str, time: str = "3/4", fifths: int = 0, *, line: str = "final", stem=None, signs=()) -> Score:
    """Music with what is wrong told apart: bars are free, `stem` is (bar, note, way), `signs` a signature as drawn."""
    score = extract(text, time, fifths)
    stave = score.staves[0]
    bars = [replace(bar, free=True) for bar in stave.bars]
    bars[-1] = replace(bars[-1], line=line)
    if stem is not None:
        bar, note, way = stem
        row = list(bars[bar - 1].events)
        row[note - 1] = replace(row[note - 1], stem=way)
        bars[bar - 1] = replace(bars[bar - 1], voices=(tuple(row),))
    stave = replace(stave, bars=tuple(bars), signs=tuple(Pitch.parse(sign) for sign in signs))
    return replace(score, staves=(stave,), numbered=True)


def facts(count: int, *args, **more) -> ProofRead:
    return ProofRead(document_of(music(*args, **more)), count)


# Stems: up below the middle line, down above it; the end of a piece: thin and thick line; order of sharps F C G D A
# E B (Gehrkens, Music Notation and Terminology, 1914, §5, §35, key signatures); bars that add up: §96.
@pytest.mark.parametrize(
    ("said", "text"),
    [
        (facts(1, "C5/1 D5/1 E5/1 | C5/2 D5/1 E5/1 | C5/2."), "bar 2: too many beats in the bar"),
        (facts(1, "C5/1 D5/1 | C5/2 D5/1 | C5/2."), "bar 1: too few beats in the bar"),
        (facts(1, "C5/1 D5/1 E5/1 | C5/2.", stem=(1, 2, "up")), "bar 1: a stem that points the wrong way"),
        (facts(1, "G4/1 D5/1 E5/1 | C5/2.", stem=(1, 1, "down")), "bar 1: a stem that points the wrong way"),
        (facts(1, "C5/1 D5/1 E5/1 | C5/2.", line="single"), "bar 2: a single bar line at the end"),
        (
            facts(1, "D5/2. | D5/2.", fifths=2, signs=("C#5", "F#5")),
            "bar 1: the signs of the key signature in a wrong order",
        ),
        (
            facts(2, "C5/1 D5/1 | C5/2.", line="single"),
            "bar 1: too few beats in the bar; bar 2: a single bar line at the end",
        ),
    ],
)
def test_faults_worked_by_hand(said, text):
    assert texts(ID, said) == [text]


def test_what_is_right_is_no_fault():
    with pytest.raises(BadDocument):
        facts(1, "B4/1 D5/1 E5/1 | C5/2.", stem=(1, 1, "up"))
    with pytest.raises(BadDocument):
        facts(1, "D5/2. | D5/2.", fifths=2, signs=("F#5", "C#5"))


def test_every_slip():
    said = facts(2, "C5/1. D5/q E5/1 | C5/2 D5/1 E5/1 | C5/1 D5/1 E5/1 | C5/2.", line="single")
    wrong = slip_texts(ID, said)
    assert wrong["too many and too few mixed"].startswith("bar 2: too few beats")
    assert wrong["only counted the beats"] == "bar 2: too many beats in the bar"
    assert wrong["did not count the beats"] == "bar 4: a single bar line at the end"
    assert wrong["dots not counted"] == "bar 1: too few beats in the bar; bar 2: too many beats in the bar"
    sums = facts(2, "C5/1 D5/1 E5/2 | C5/2. | C5/2")
    assert slip_texts(ID, sums)["stopped after the first fault"] == "bar 1: too many beats in the bar"


def test_places_and_names_are_marked_together():
    said = facts(2, "C5/1 D5/1 | C5/2.", line="single")
    right = (Value(places=(Place(1), Place(2))), Value(choices=("b", "d")))
    question = ask(KIND, Draft(said, right), id="q", grade=1, edition="written", seed=1)
    assert mark_question(question, right).marks == 4
    assert mark_question(question, (right[0], Value(choices=("a", "d")))).marks == 3
    assert mark_question(question, (right[0],)).marks == 2


@pytest.mark.parametrize("grade", [1, 3, 5])
def test_the_setter_plants_what_the_solver_finds(grade):
    seen = set()
    for seed in range(40):
        draft = KIND.set(scope_for(grade), Random(seed), None, composed_melodies())
        if draft is None:
            continue
        assert faults(score_of(draft.facts.music)) == []
        assert KIND.solve(draft.facts)[0].value == draft.expected
        seen.update(draft.expected[1].choices)
    assert seen == set("abcde")
    assert KIND.set(scope_for(1), Random(1), None, None) is None


def test_the_picture_in_words_says_all_stems_not_only_the_wrong_one():
    """A pupil who hears the picture has to judge the stems as one who sees it."""
    one = facts(1, "C5/1 D5/1 E5/1 | G4/1 B4/1 A4/1 | C5/2.", stem=(1, 2, "up"))
    question = ask(KIND, Draft(one, KIND.solve(one)[0].value), id="q", grade=1, edition="written", seed=1)
    said = question.prompt[1].alt
    assert "bar 1: down, up, down; bar 2: up, down, up; bar 3: down" in said
    assert "note 2: its stem" not in said
