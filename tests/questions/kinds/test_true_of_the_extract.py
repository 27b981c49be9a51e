"""True of the extract? Every statement judged by hand, and setter against solver."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from questions.hand_written import MUSIC, extract
from questions.rules_of_kinds import slip_texts
from questions.tiny_melodies import TinyMelodies, stimulus
from stavewright.questions.asking import ask
from stavewright.questions.comparing import compare
from stavewright.questions.kinds.true_of_the_extract import KIND, TrueOfTheExtract
from stavewright.questions.properties import Property
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.extract_statements import choose, statements
from stavewright.questions.setting.flat_line import flatten
from stavewright.questions.showing.statement_words import statement_words
from stavewright.questions.solving.judging import STATEMENTS, judge, points
from stavewright.questions.values import Value
from stavewright.score.stave import Score
from stavewright.syllabus.scope import scope_for
from stavewright.wiring import composed_melodies

DOCUMENT = document_of(MUSIC)

# Judged by hand from the music written out in hand_written.py (G major, 4/4, eight bars).
BY_HAND = [
    (Property("highest", word="G"), True),
    (Property("highest", word="F sharp"), False),
    (Property("lowest", word="D"), True),
    (Property("lowest", word="G"), False),
    (Property("longest", word="minim"), False),  # a minim tied to a crotchet is longer
    (Property("longest", word="dotted minim"), True),
    (Property("shortest", word="quaver"), False),  # triplet quavers are shorter
    (Property("same-rhythm", bar=1, other=2), True),
    (Property("same-rhythm", bar=1, other=3), False),
    (Property("same-notes", bar=1, other=5), True),
    (Property("same-notes", bar=1, other=2), False),
    (Property("sequence", bar=1, other=2), True),
    (Property("sequence", bar=1, other=5), False),
    (Property("interval", bar=1, word="major 2nd"), True),
    (Property("interval", bar=7, word="minor 2nd"), True),
    (Property("interval", bar=8, word="minor 6th"), False),
    (Property("interval", bar=8, word="6th"), True),
    (Property("largest-leap", word="6th"), True),
    (Property("largest-leap", word="5th"), False),
    (Property("step", bar=6), True),
    (Property("step", bar=3), False),
    (Property("dotted", bar=7), True),
    (Property("dotted", bar=6), False),  # dots over notes are staccato
    (Property("beats", number=4, word="crotchet"), True),
    (Property("beats", number=2, word="minim"), False),
    (Property("metre", word="simple quadruple"), True),
    (Property("metre", word="compound quadruple"), False),
    (Property("begins", word="quietly"), True),
    (Property("begins", word="very loudly"), False),
    (Property("upbeat"), False),
    (Property("octave"), False),
    (Property("syncopation", bar=3), True),
    (Property("syncopation", bar=7), False),
    (Property("tuplet", bar=4, number=3), True),
    (Property("tuplet", bar=6, number=3), False),
    (Property("held-over", bar=4), True),
    (Property("held-over", bar=3), False),
    (Property("accidental", bar=7), True),
    (Property("accidental", bar=6), False),  # the F sharp of bar 6 is in the signature
    (Property("rest", bar=7), True),
    (Property("rest", bar=8), False),
    (Property("hairpin", bar=4, word="crescendo"), True),
    (Property("hairpin", bar=6, word="crescendo"), False),
]


@pytest.mark.parametrize("said, truth", BY_HAND, ids=lambda one: getattr(one, "about", str(one)))
def test_every_statement_judged_by_hand(said, truth):
    verdict, why = judge(DOCUMENT, said)
    assert verdict is truth, why
    assert why
    assert not why.endswith(".")
    assert statement_words(said).endswith(".")


def test_the_degree_of_the_first_and_last_note_needs_a_proved_key():
    plain = document_of(extract("D5/1 B4/1 | F#4/1 G4/1", "2/4", 1))
    assert judge(plain, Property("first-note", word="dominant"))[0]
    assert judge(plain, Property("last-note", word="tonic"))[0]
    assert not judge(plain, Property("last-note", word="dominant"))[0]
    minor = document_of(extract("B4/1 D#5/1 | F#4/1 E4/1", "2/4", 1))
    assert judge(minor, Property("first-note", word="dominant"))[0]
    open_key = document_of(extract("D5/1 B4/1 | G4/1 A4/1", "2/4", 1))
    assert judge(open_key, Property("last-note", word="tonic")) == (False, "the key cannot be proved")


def test_reasons_say_what_is_there():
    assert judge(DOCUMENT, Property("longest", word="minim"))[1] == "the longest note is made of tied notes"
    assert judge(DOCUMENT, Property("largest-leap", word="5th"))[1] == "the largest leap is a 6th"
    assert judge(DOCUMENT, Property("sequence", bar=1, other=2))[1] == "every note of bar 2 is a 2nd higher"
    assert judge(DOCUMENT, Property("beats", number=2, word="minim"))[1] == "4/4 means 4 crotchet beats in a bar"


def test_every_statement_has_a_case_on_each_side():
    degrees = {"first-note", "last-note"}
    assert {said.about for said, truth in BY_HAND if not truth} == set(STATEMENTS) - degrees
    assert set(STATEMENTS) - degrees - {said.about for said, truth in BY_HAND if truth} == {
        "shortest",
        "upbeat",
        "octave",
    }
    small = document_of(extract("D5/q | G5/1 A5/1 | B4/s C5/s D5/q G5/1 | G5/1 G5/q", "2/4", 1, anacrusis=True))
    for said in (Property("shortest", word="semiquaver"), Property("upbeat"), Property("octave")):
        assert judge(small, said)[0]


def test_the_model_answer_gives_a_reason_for_every_statement():
    facts = TrueOfTheExtract(DOCUMENT, tuple(said for said, _ in BY_HAND[:4]))
    (found,) = KIND.solve(facts)
    assert found.value[0] == Value(choices=("a", "c"))
    assert found.text == "a and c"
    assert "b: the highest note is G." in found.reason
    steps = KIND.work(facts, "usual")
    assert steps[1].text == "b is false: the highest note is G."
    assert steps[0].points_at == points(DOCUMENT, BY_HAND[0][0]) == ("n32",)


def test_the_notes_pointed_at_are_those_of_the_bar_named():
    """A statement on one bar points at that bar only, never at the upbeat; an interval at its two notes."""
    music = document_of(extract("D5/1 | G4/1 A4/1 B4/1 | C5/1 B4/1 A4/1 | G4/1 A4/1", "3/4", 1, anacrusis=True))
    assert points(music, Property("rest", bar=2)) == ("n5", "n6", "n7")
    assert points(music, Property("interval", bar=2, word="minor 2nd")) == ("n5", "n6")
    assert points(music, Property("same-rhythm", bar=1, other=2)) == ("n2", "n3", "n4", "n5", "n6", "n7")


def test_every_slip():
    def slips(*said):
        return slip_texts("true-of-the-extract", TrueOfTheExtract(DOCUMENT, said))

    true, false = Property("rest", bar=7), Property("rest", bar=1)
    assert slips(true, false) == {"marked the false ones": "b"}
    assert slips(true, Property("interval", bar=8, word="5th"))["counted the gap"] == "a and b"
    assert slips(true, Property("highest", word="D"), Property("lowest", word="G"))["opposites mixed"] == "a, b and c"
    assert slips(true, Property("syncopation", bar=7))["dotted rhythm for syncopation"] == "a and b"
    assert slips(true, Property("same-notes", bar=1, other=2))["looked at too little"] == "a and b"
    assert slips(true, Property("same-rhythm", bar=1, other=4))["looked at too little"] == "a and b"
    assert slips(true, Property("hairpin", bar=6, word="crescendo"))["opposites mixed"] == "a and b"
    assert slips(true, Property("begins", word="loudly"))["opposites mixed"] == "a and b"
    flat = document_of(extract("Bb4/1 C5/1 | D5/1 Bb4/1", "2/4", -2))
    facts = TrueOfTheExtract(
        flat, (Property("lowest", word="B flat"), Property("lowest", word="B"), Property("octave"))
    )
    assert slip_texts("true-of-the-extract", facts)["signature forgotten"] == "b and c"
    upbeat = document_of(extract("D5/q | G5/1 A5/1 | B4/q C5/1 D5/q | G4/1 G4/q", "2/4", 1, anacrusis=True))
    facts = TrueOfTheExtract(
        upbeat, (Property("syncopation", bar=2), Property("syncopation", bar=3), Property("upbeat"))
    )
    assert slip_texts("true-of-the-extract", facts)["upbeat counted as bar 1"] == "b and c"


@pytest.mark.parametrize("source", [composed_melodies(), TinyMelodies()], ids=["composed", "tiny"])
@pytest.mark.parametrize("grade", [1, 2, 3, 4, 5])
def test_setter_and_solver_judge_alike(source, grade):
    sides = set()
    for seed in range(15):
        made = source.melody(scope_for(grade), Random(f"true{seed}"), bars=8)
        if made is None:
            continue
        document = document_of(made.score)
        for about, found in statements(flatten(made.score), scope_for(grade), made.key).items():
            for said, truth in found:
                verdict, why = judge(document, said)
                assert verdict is truth, (seed, said, why)
                sides.add((about, truth))
    assert len(sides) > 25


@settings(max_examples=30, deadline=None)
@given(st.integers(0, 10**6), st.integers(1, 5))
def test_chosen_statements_differ_in_subject_and_are_neither_all_true_nor_all_false(seed, grade):
    """Four statements on four subjects, at least one true and at least one false."""
    made = TinyMelodies().melody(scope_for(grade), Random(seed), bars=6)
    chosen = choose(statements(flatten(made.score), scope_for(grade), made.key), Random(seed), 4)
    if chosen is not None:
        assert len({said.about for said, _ in chosen}) == 4
        assert {truth for _, truth in chosen} == {True, False}


def test_names_of_intervals_and_degrees_wait_for_their_grade():
    for seed in range(40):
        made = composed_melodies().melody(scope_for(1), Random(seed), bars=8)
        found = statements(flatten(made.score), scope_for(1), made.key)
        assert not {"metre", "upbeat", "tuplet", "last-note"} & set(found)
        assert all(" " not in said.word for said, _ in found.get("interval", ()))
        assert {said.word for said, _ in found.get("first-note", ())} <= {"tonic"}


def test_questions_are_fair_on_a_shared_extract():
    for seed in range(20):
        scope = scope_for(4)
        shared = stimulus(scope, seed, bars=8)
        draft = KIND.set(scope, Random(seed), shared, None)
        question = ask(KIND, draft, id="q", grade=4, edition="on-screen", seed=seed)
        assert [option.id for option in question.response[0].options] == ["a", "b", "c", "d"]
        assert len({option.text for option in question.response[0].options}) == 4
        assert question.prompt[1].score == shared.document


def test_marks_fall_with_each_wrong_pick():
    right = Value(choices=("a", "c"))
    assert compare(Value(choices=("a",)), right, KIND.marking).faults == 1
    assert compare(Value(choices=("a", "b", "c", "d")), right, KIND.marking).faults == 2
    assert compare(Value(choices=("c", "a")), right, KIND.marking).same


def test_nothing_is_asked_of_two_staves_or_without_music():
    shared = stimulus(scope_for(3), 1)
    stave = shared.extract.score.staves[0]
    two = replace(shared, extract=replace(shared.extract, score=Score((stave, stave))))
    assert KIND.set(scope_for(3), Random(1), two, None) is None
    assert KIND.set(scope_for(3), Random(1), None, None) is None


def test_no_question_gives_another_away():
    facts = TrueOfTheExtract(DOCUMENT, (Property("highest", word="G"), Property("same-rhythm", bar=1, other=2)))
    assert KIND.shows(facts) == {"extract:highest", "extract:same-rhythm:1", "extract:same-rhythm:2"}
    assert KIND.asks(facts) == KIND.shows(facts)
