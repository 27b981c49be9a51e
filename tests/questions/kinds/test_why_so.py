"""The one-line reason: claims proved by hand, sentences that are true but prove nothing, setter against solver."""

from __future__ import annotations

from random import Random

import pytest

from questions.hand_written import MUSIC, extract
from questions.rules_of_kinds import slip_texts, texts
from stavewright.marking.one_question import mark_question
from stavewright.questions.asking import ask, built_choice
from stavewright.questions.kind import Draft
from stavewright.questions.kinds.why_so import KIND, WhySo
from stavewright.questions.melodies import Stimulus
from stavewright.questions.properties import Property
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.claims import claims
from stavewright.questions.setting.flat_line import flatten
from stavewright.questions.values import Value
from stavewright.syllabus.scope import scope_for
from stavewright.wiring import composed_melodies

ID = "why-so"
MINOR = extract("A4/1 B4/1 C5/1 | E5/1 D5/1 C5/1 | B4/1 G#4/1 B4/1 | A4/2.", "3/4")
MAJOR = extract("E4/1. G4/1. | A4/1 B4/q C5/1. | D5/1. B4/1. | C5/2.", "6/8")
UPBEAT = extract("D5/q | G5/1 A5/1 | B4/1 G4/q", "2/4", 1, anacrusis=True)


def facts(about: str, music=MUSIC, **more) -> WhySo:
    return WhySo(document_of(music), Property(about, **more))


# Key by last note and leading note: common practice, as prove_key; compound time: beats in threes (Gehrkens, Music
# Notation and Terminology, 1914, §98-99); sequence and syncopation: Open Music Theory, version 1.
@pytest.mark.parametrize(
    ("said", "reason"),
    [
        (facts("minor", MINOR), "It ends on A and has G sharp, the raised 7th."),
        (facts("major", MAJOR), "It ends on C and no G sharp comes in it."),
        (
            facts("major", extract("F4/1 Eb4/1 | Ab4/2", "2/4", -4)),
            "It ends on A flat and no E natural comes in it.",
        ),
        (facts("compound", MAJOR), "Each beat, a dotted crotchet, can be parted into three quavers."),
        (facts("simple", MINOR), "Each beat, a crotchet, can be parted into two quavers."),
        (
            facts("upbeat", UPBEAT),
            "The first bar is not full, and the last bar lacks just as much as the first one holds.",
        ),
        (facts("sequence", bar=1, other=2), "Every note comes again a 2nd higher, in the same rhythm."),
        (facts("syncopation", bar=3), "A note begins off the beat and is held through the next beat."),
    ],
)
def test_reasons_worked_by_hand(said, reason):
    assert texts(ID, said) == [reason]


def test_what_is_not_so_has_no_reason():
    for said in (
        facts("minor", MAJOR),
        facts("major", MINOR),
        facts("compound", MINOR),
        facts("upbeat", MINOR),
        facts("sequence", bar=2, other=3),
        facts("syncopation", bar=1),
    ):
        assert KIND.solve(said) == ()


def test_every_slip():
    assert slip_texts(ID, facts("minor", MINOR)) == {
        "true but no reason: the signature": "Its key signature has no sharps or flats.",
        "a feeling for a reason": "It sounds sad.",
        "true but no reason: the first note": "Its first note is A.",
        "true but no reason: the highest note": "Its highest note is E.",
    }
    wrong = slip_texts(ID, facts("compound", MAJOR))
    assert wrong["true but no reason: how much a bar holds"] == "A bar holds as much as 6 quavers."
    assert wrong["true but no reason: the lower figure"] == (
        "The lower figure of its time signature stands for quavers."
    )
    wrong = slip_texts(ID, facts("sequence", bar=1, other=2))
    assert wrong["true but no reason: the rhythm alone"] == "Both bars have the same rhythm."
    assert wrong["true but no reason: the number of notes"] == "Both bars have 5 notes."
    wrong = slip_texts(ID, facts("syncopation", bar=3))
    assert wrong["true but no reason: the number of notes"] == "Bar 3 has 4 notes."
    assert (
        slip_texts(ID, facts("upbeat", UPBEAT))["true but no reason: the first note"] == "Its first note is a quaver."
    )


def test_one_option_is_the_reason():
    said = facts("minor", MINOR)
    question = ask(KIND, Draft(said, texts(ID, said)[0]), id="q", grade=3, edition="written", seed=4)
    assert "not in C major" in question.prompt[0].text
    marks = [mark_question(question, (Value(choice=one.id),)).marks for one in built_choice(question).options]
    assert sorted(marks) == [0, 0, 0, 1]


@pytest.mark.parametrize("grade", [3, 5])
def test_setter_and_solver_give_the_same_reason(grade):
    """Every claim the setter finds is proved by the solver in the same words, on a shared extract too."""
    seen = set()
    for seed in range(60):
        melody = composed_melodies().melody(scope_for(grade), Random(seed), bars=8)
        document = document_of(melody.score)
        for claim, _ in claims(melody, flatten(melody.score), scope_for(grade)):
            assert KIND.solve(WhySo(document, claim)), claim
            seen.add(claim.about)
        draft = KIND.set(scope_for(grade), Random(seed), Stimulus(melody, document), None)
        question = ask(KIND, draft, id="q", grade=grade, edition="on-screen", seed=seed)
        assert question.prompt[1].id == "extract"
    assert {"minor", "major", "simple", "compound", "upbeat", "sequence"} <= seen
    assert KIND.set(scope_for(3), Random(1), None, None) is None
