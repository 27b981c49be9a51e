"""How a bar is to be played: signs in force worked by hand, every slip, setter against solver."""

from __future__ import annotations

from random import Random

import pytest

from questions.hand_written import MUSIC, extract
from questions.rules_of_kinds import slip_texts, texts
from stavewright.marking.one_question import mark_question
from stavewright.questions.asking import ask
from stavewright.questions.kind import Draft
from stavewright.questions.kinds.perform_the_extract import KIND, PerformTheExtract, _askable
from stavewright.questions.melodies import Stimulus
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.flat_line import flatten
from stavewright.questions.values import Value
from stavewright.score.stave import Direction
from stavewright.syllabus.scope import scope_for
from stavewright.wiring import composed_melodies

ID = "perform-the-extract"
SLOW = extract("C5/1 D5/1 | E5/1 D5/1 | C5/2", "2/4", signs={0: (Direction("tempo", 0, "Andante"),)})


def facts(aspect: str, bar: int, music=MUSIC) -> PerformTheExtract:
    return PerformTheExtract(document_of(music), aspect, bar, 3)


# p in bar 1, a crescendo in bar 4, ff and a diminuendo in bar 6, staccato in bar 6 (hand_written.py). Meanings:
# Gehrkens, Music Notation and Terminology (1914) §109 (tempo), §120 (dynamics), §73 (staccato).
@pytest.mark.parametrize(
    ("said", "meaning"),
    [
        (facts("loudness", 2), "soft"),
        (facts("loudness", 3), "soft"),
        (facts("change", 4), "gradually getting louder"),
        (facts("change", 6), "gradually getting softer"),
        (facts("touch", 6), "short and detached"),
        (facts("speed", 1, SLOW), "at a walking pace"),
    ],
)
def test_worked_by_hand(said, meaning):
    assert texts(ID, said)[0] == meaning


def test_a_sign_holds_until_the_next():
    """A dynamic mark holds until another one comes (common practice)."""
    assert "still holds in bar 3" in KIND.solve(facts("loudness", 3))[0].reason
    assert KIND.solve(facts("speed", 1)) == ()
    assert KIND.solve(facts("touch", 1)) == ()


def test_every_slip():
    wrong = slip_texts(ID, facts("loudness", 3))
    assert wrong["took the next sign"] == "very loud"
    assert wrong["mixed loud and soft"] == "loud"
    late = slip_texts(ID, facts("loudness", 7))
    assert late["took the first sign"] == "soft"
    assert late["mixed loud and soft"] == "very soft"
    assert slip_texts(ID, facts("change", 4))["opening and closing mixed"] == "gradually getting softer"
    assert slip_texts(ID, facts("touch", 6))["took it for another sign"]
    slow = slip_texts(ID, facts("speed", 1, SLOW))
    assert set(slow) >= {"took it for its opposite", "took it for a neighbour"}


def test_a_fast_word_is_told_from_other_fast_words():
    """Among the wrong meanings of allegro is one of another fast word, not only slow ones."""
    fast = extract("G4/1 A4/1 | G4/2", "2/4", 1, signs={0: (("tempo", 0, "Allegro"),)})
    said = set(slip_texts(ID, PerformTheExtract(document_of(fast), "speed", 1, 2)).values())
    said |= {one.text for one in KIND.slips(PerformTheExtract(document_of(fast), "speed", 1, 2))}
    assert said & {"very fast", "fairly fast", "quick and lively"}, said
    assert "slow, unhurried" in said


def test_plain_words_are_marked_by_meaning():
    said = facts("change", 4)
    question = ask(
        KIND, Draft(said, Value(words="gradually getting louder")), id="q", grade=2, edition="written", seed=1
    )
    assert mark_question(question, (Value(words="getting louder bit by bit"),)).marks == 1
    assert mark_question(question, (Value(words="getting softer"),)).marks == 0


def test_the_setter_leaves_doubtful_bars_alone():
    found = {(aspect, bar): meaning for aspect, bar, meaning in _askable(flatten(MUSIC), scope_for(3))}
    assert found["loudness", 2] == found["loudness", 3] == "soft"
    assert not {("loudness", bar) for bar in (1, 4, 5, 6, 7, 8)} & set(found)
    assert found["change", 4] == "gradually getting louder"
    assert found["touch", 6] == "short and detached"


@pytest.mark.parametrize("grade", [2, 4])
def test_setter_and_solver_agree_on_composed_music(grade):
    seen = set()
    for seed in range(40):
        melody = composed_melodies().melody(scope_for(grade), Random(seed), bars=8)
        document = document_of(melody.score)
        for aspect, bar, meaning in _askable(flatten(melody.score), scope_for(grade)):
            assert texts(ID, PerformTheExtract(document, aspect, bar, grade))[0] == meaning
            seen.add(aspect)
        draft = KIND.set(scope_for(grade), Random(seed), Stimulus(melody, document), None)
        assert draft is not None
    assert {"speed", "loudness", "change"} <= seen
    assert KIND.set(scope_for(2), Random(1), None, None) is None
