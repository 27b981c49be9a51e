"""The number of an interval: published numbers, octave and compound names, the slips, another program."""

from __future__ import annotations

import music21
import pytest

from questions.asking_many import asked, drafts
from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.questions.choosing import is_right
from stavewright.questions.documents import StaveBlock
from stavewright.questions.kinds.interval_number import KIND, IntervalNumber
from stavewright.questions.score_mirror import score_of
from stavewright.questions.values import Value
from stavewright.syllabus.scope import scope_for

# Gehrkens, Music Notation and Terminology (1914) §§184-193: the number counts both notes and pays no heed to signs.
NUMBERS = {
    "B3 C4": 2, "F4 G#4": 2, "C4 Dbb4": 2, "C4 Eb4": 3, "C4 Ebb4": 3, "C4 F#4": 4, "C4 Gb4": 5, "C4 G#4": 5,
    "E4 C5": 6, "C4 A#4": 6, "C4 Bbb4": 7, "C4 B4": 7, "C4 Cb5": 8, "C4 C5": 8, "C4 C#4": 1, "C4 E5": 10,
}  # fmt: skip


def pair(notes: str) -> IntervalNumber:
    first, second = notes.split()
    return IntervalNumber("treble", first, second, False)


@pytest.mark.parametrize("notes, number", NUMBERS.items())
def test_published_numbers(notes: str, number: int) -> None:
    assert KIND.solve(pair(notes))[0].value[0].number == number
    assert KIND.solve(pair(" ".join(reversed(notes.split()))))[0].value[0].number == number


def test_a_compound_may_be_given_by_its_simple_number() -> None:
    """A 10th is an octave and a 3rd (Gehrkens, 1914, §193): 3 is taken too, 2 and 9 are not."""
    right = KIND.solve(pair("C4 E5"))
    assert texts("interval-number", pair("C4 E5")) == ["10th", "compound 3rd"]
    assert is_right(Value(number=3), right, KIND)
    assert not is_right(Value(number=2), right, KIND)
    assert texts("interval-number", pair("C4 C5")) == ["octave"]


def test_each_slip_counts_in_its_wrong_way() -> None:
    slips = slip_texts("interval-number", pair("D4 A4"))
    assert slips["counted the gap"] == "4th"
    assert slips["counted one too many"] == "6th"
    assert slips["counted semitones"] == "7th"
    assert slips["turned upside down"] == "4th"
    assert slips["counted lines only"] == "3rd"


def test_music21_counts_the_same() -> None:
    for _kind, draft, question in asked("interval-number", 30):
        block = next(b for b in question.prompt if isinstance(b, StaveBlock))
        heard = sorted((p for e in score_of(block.score).sounding() for p in e.pitches), key=lambda p: p.diatonic)
        theirs = music21.interval.Interval(*(music21.pitch.Pitch(p.short.replace("b", "-")) for p in heard))
        assert abs(theirs.generic.undirected) == KIND.solve(draft.facts)[0].value[0].number


def test_the_lower_note_is_the_tonic_where_the_scope_says_so() -> None:
    for grade, draft in drafts("interval-number", 60):
        if scope_for(grade).intervals.above_tonic:
            assert draft.facts.key.startswith(draft.facts.first[:-1].replace("b", " flat").replace("#", " sharp"))
            assert draft.facts.key in {key.text for key in scope_for(grade).keys}
        else:
            assert draft.facts.key is None


def test_it_keeps_the_rules_of_kinds() -> None:
    keeps_the_rules("interval-number")
