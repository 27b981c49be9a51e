"""Count a thing in an extract: music counted by hand, every slip, and music21 as a second opinion."""

from __future__ import annotations

from random import Random

import music21
import pytest

from questions.hand_written import MUSIC, extract
from questions.rules_of_kinds import slip_texts, texts
from questions.tiny_melodies import TinyMelodies, stimulus
from stavewright.questions.asking import ask
from stavewright.questions.kinds.count_in_the_extract import KIND, CountInTheExtract, _things
from stavewright.questions.properties import Property
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.flat_line import flatten
from stavewright.syllabus.scope import scope_for
from stavewright.theory.pitch import NoteName

KIND_ID = "count-in-the-extract"


def facts(about: str, word: str = "", music=MUSIC) -> CountInTheExtract:
    return CountInTheExtract(document_of(music), Property(about, word=word))


# Counted by hand in the music of hand_written.py: G major, eight bars, a tie from bar 3 to bar 4.
@pytest.mark.parametrize(
    ("about", "word", "number"),
    [
        ("struck", "note", 37),
        ("name", "F sharp", 1),
        ("name", "D", 5),
        ("value", "minim", 3),
        ("value", "crotchet", 14),
        ("tie", "", 1),
        ("rest", "", 1),
        ("accidental", "", 2),
        ("dotted", "", 1),
        ("marked", "staccato", 8),
        ("bars", "", 8),
    ],
)
def test_counted_by_hand(about, word, number):
    assert texts(KIND_ID, facts(about, word)) == [str(number)]


def test_a_tie_is_struck_once_and_the_slip_counts_it_twice():
    """A tie joins two notes of one pitch into one sound (Gehrkens, Music Notation and Terminology, 1914, §24)."""
    music = extract("C5/1 D5/1~ | D5/1 D5/1 | C5/2", "2/4")
    assert texts(KIND_ID, facts("name", "D", music)) == ["2"]
    assert slip_texts(KIND_ID, facts("name", "D", music))["ties counted twice"] == "3"
    assert texts(KIND_ID, facts("struck", "note", music)) == ["4"]
    wrong = slip_texts(KIND_ID, facts("struck", "note", music))
    assert wrong == {"ties counted twice": "5", "tied notes left out": "3"}


def test_every_slip():
    assert slip_texts(KIND_ID, facts("name", "D"))["ties counted twice"] == "6"
    assert slip_texts(KIND_ID, facts("name", "D"))["counted in one octave only"] == "1"
    sharp = extract("F#4/1 F#5/1 | F#4/1 G4/1", "2/4", 1)
    assert slip_texts(KIND_ID, facts("name", "F sharp", sharp))["counted in one octave only"] == "2"
    rests = extract("C5/1 r/1 | C5/q r/q r/1 | C5/1 r/1", "2/4")
    assert slip_texts(KIND_ID, facts("value", "crotchet", rests))["rests counted too"] == "5"
    assert slip_texts(KIND_ID, facts("value", "crotchet", rests))["neighbouring value"] == "1"
    assert slip_texts(KIND_ID, facts("rest", "", rests))["bars with a rest counted"] == "3"
    ties = extract("C5/1 C5/1~ | C5/1 C5/1~ | C5/2", "2/4")
    assert slip_texts(KIND_ID, facts("tie", "", ties))["ties counted twice"] == "4"
    assert slip_texts(KIND_ID, facts("value", "crotchet", ties))["tied notes left out"] == "1"
    signs = extract("F#4/1 C#5/1 | C#5/1 D5/1", "2/4", 1)
    wrong = slip_texts(KIND_ID, facts("accidental", "", signs))
    assert wrong["key signature counted too"] == "3"
    assert slip_texts(KIND_ID, facts("dotted", "", MUSIC))["staccato dots counted too"] == "9"
    assert slip_texts(KIND_ID, facts("marked", "staccato", MUSIC))["dot after the note"] == "9"
    upbeat = extract("D5/q | G5/1 A5/1 | B4/1 G4/q", "2/4", 1, anacrusis=True)
    assert texts(KIND_ID, facts("bars", "", upbeat)) == ["2"]
    assert slip_texts(KIND_ID, facts("bars", "", upbeat))["upbeat counted as a bar"] == "3"


@pytest.mark.parametrize("grade", [1, 3, 5])
def test_setter_solver_and_music21_count_the_same(grade):
    compared = 0
    for seed in range(20):
        made = TinyMelodies().melody(scope_for(grade), Random(seed), bars=6)
        written = [
            music21.note.Note(note.pitch.short.replace("b", "-"), quarterLength=note.ticks / 161280)
            for note in made.score.notes()
        ]
        for here, there in zip(written, made.score.notes(), strict=True):
            here.tie = music21.tie.Tie("start") if there.tie else None
        stream = music21.stream.Stream(written)
        for thing, number in _things(flatten(made.score)):
            assert KIND.solve(CountInTheExtract(document_of(made.score), thing))[0].value[0].number == number
            if thing.about == "struck":
                assert number == len(stream.notes) - sum(one.tie is not None for one in stream.notes)
                compared += 1
            if thing.about == "name" and not any(one.tie for one in stream.notes):
                name = NoteName.parse(thing.word).short.replace("b", "-")
                assert number == sum(one.name == name for one in stream.notes)
                compared += 1
    assert compared > 20


def test_questions_are_fair_on_a_shared_extract():
    asked = 0
    for seed in range(30):
        draft = KIND.set(scope_for(3), Random(seed), stimulus(scope_for(3), seed, bars=8), None)
        if draft is None:
            continue
        question = ask(KIND, draft, id="q", grade=3, edition="written", seed=seed)
        assert question.prompt[1].id == "extract"
        assert 2 <= draft.expected.number <= 12
        asked += 1
    assert asked > 25
    assert KIND.set(scope_for(3), Random(1), None, None) is None
