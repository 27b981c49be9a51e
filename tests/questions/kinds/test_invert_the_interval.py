"""Inversions of intervals."""

from __future__ import annotations

import music21
import pytest

from questions.asking_many import drafts
from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.marking.one_question import mark_question
from stavewright.questions.asking import ask
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft
from stavewright.questions.kinds.invert_the_interval import KIND, METHODS, InvertTheInterval
from stavewright.questions.values import Value


def pair(first: str, second: str) -> InvertTheInterval:
    return InvertTheInterval("treble", first, second)


# Gehrkens, Music Notation and Terminology (1914) §195 and Schmidt-Jones, Understanding Basic Music Theory, m10867.
@pytest.mark.parametrize(
    "low, high, turned",
    [
        ("C4", "E#4", "diminished 6th"), ("C4", "G4", "perfect 4th"), ("B3", "F4", "augmented 4th"),
        ("C4", "B4", "minor 2nd"), ("E4", "C5", "major 3rd"), ("C4", "Eb4", "major 6th"), ("D4", "E4", "minor 7th"),
        ("F4", "B4", "diminished 5th"), ("C4", "F4", "perfect 5th"), ("C4", "C5", "perfect unison"),
    ],
)  # fmt: skip
def test_published_inversions(low: str, high: str, turned: str) -> None:
    assert texts("invert-the-interval", pair(low, high))[0] == turned
    assert texts("invert-the-interval", pair(high, low))[0] == turned


def test_other_names_are_taken() -> None:
    """A tritone may be added to the name, and a unison is also a prime (theory of this project, common practice)."""
    assert "augmented 4th, tritone" in texts("invert-the-interval", pair("B3", "F4"))
    assert "perfect prime" in texts("invert-the-interval", pair("C4", "C5"))


def test_slips() -> None:
    """Worked by hand: the minor 6th E to C."""
    assert slip_texts("invert-the-interval", pair("E4", "C5")) == {
        "sums to 8": "major 2nd",
        "quality kept": "minor 3rd",
        "number kept": "major 6th",
        "named as it stands": "minor 6th",
        "upper note moved up as well": "minor 13th",
    }


def test_a_right_number_alone_earns_half() -> None:
    question = ask(KIND, Draft(pair("E4", "C5"), "major 3rd"), id="q", grade=4, edition="written", seed=1)
    assert mark_question(question, (Value(words="minor 3rd"),)).marks == 1
    assert mark_question(question, (Value(words="major 2nd"),)).marks == 0


def test_wide_intervals_and_unisons_are_refused() -> None:
    for second in ("E5", "C4", "C#4"):
        with pytest.raises(BadDocument, match="cannot be turned"):
            pair("C4", second)


@pytest.mark.parametrize("method", METHODS)
def test_the_working_names_both(method: str) -> None:
    said = " ".join(step.text for step in KIND.work(pair("E4", "C5"), method))
    assert "minor 6th" in said
    assert "major 3rd" in said


def test_music21_turns_the_same_way() -> None:
    for _, draft in drafts("invert-the-interval", 120):
        notes = [music21.pitch.Pitch(name.replace("b", "-")) for name in (draft.facts.first, draft.facts.second)]
        theirs = music21.interval.Interval(*notes).complement
        names = {"Octave": "octave", "Unison": "unison", "Second": "2nd", "Third": "3rd", "Fourth": "4th",
                 "Fifth": "5th", "Sixth": "6th", "Seventh": "7th"}  # fmt: skip
        quality, number = theirs.niceName.split()
        assert texts("invert-the-interval", draft.facts)[0] == f"{quality.lower()} {names[number]}"


def test_the_rules_of_all_kinds() -> None:
    keeps_the_rules("invert-the-interval")
