"""Tones and semitones between neighbours."""

from __future__ import annotations

from random import Random

import music21
import pytest

from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.questions.errors import BadDocument
from stavewright.questions.kinds.tone_or_semitone import KIND, ToneOrSemitone
from stavewright.questions.written import Written
from stavewright.syllabus.scope import scope_for

GEHRKENS = "Gehrkens, Music Notation and Terminology (1914)"
SIGNS = {"#": "sharp", "b": "flat", "##": "double-sharp", "bb": "flat-flat", "n": "natural", "": None}


def pair(first: str, second: str) -> ToneOrSemitone:
    """Two notes between C4 and B4 (the second an octave up with a stroke), written under the treble clef."""

    def written(text: str) -> Written:
        place = "CDEFGAB".index(text[0]) - 2 + 7 * text.count("'")
        return Written(place, SIGNS[text[1:].replace("'", "")])

    return ToneOrSemitone("treble", written(first), written(second))


@pytest.mark.parametrize(
    "first, second, step, source",
    [
        *[(a, b, s, f"{GEHRKENS} §81: the major scale is T T S T T T S, here from C")
          for a, b, s in zip(("C", "D", "E", "F", "G", "A", "B"), ("D", "E", "F", "G", "A", "B", "C'"),
                             ("tone", "tone", "semitone", "tone", "tone", "tone", "semitone"), strict=True)],
        ("E", "F#", "tone", f"{GEHRKENS} §83: G major, degrees 6 and 7"),
        ("F#", "G", "semitone", f"{GEHRKENS} §83: G major, degrees 7 and 8"),
        ("A", "Bb", "semitone", f"{GEHRKENS} §83: F major, degrees 3 and 4"),
        ("Bb", "C'", "tone", f"{GEHRKENS} §83: F major, degrees 4 and 5"),
        ("G#", "A", "semitone", f"{GEHRKENS} §86: A harmonic minor, degrees 7 and 8"),
        ("D#", "E#", "tone", "Clementi, Introduction (1801): F sharp melodic minor rising, degrees 6 and 7"),
        ("E#", "F#", "semitone", "Clementi, Introduction (1801): F sharp melodic minor, degrees 7 and 8"),
        ("E#", "F##", "tone", "Clementi, Introduction (1801): G sharp melodic minor rising, degrees 6 and 7"),
        ("F", "F#", "semitone", f"{GEHRKENS} §93: a chromatic semitone"),
    ],
)  # fmt: skip
def test_published_steps(first: str, second: str, step: str, source: str) -> None:
    assert texts("tone-or-semitone", pair(first, second)) == [step], source


def test_a_sign_lasts_to_the_second_note_of_the_same_place() -> None:
    """Gehrkens §24: F sharp, then F with a natural: a semitone; without the natural they would be the same note."""
    assert texts("tone-or-semitone", pair("F#", "Fn")) == ["semitone"]
    with pytest.raises(BadDocument, match="neither a tone nor a semitone"):
        KIND.solve(pair("F#", "F"))


def test_notes_that_are_no_neighbours_are_refused() -> None:
    for first, second in (("F", "G#"), ("F", "A"), ("F", "F##")):
        with pytest.raises(BadDocument):
            KIND.solve(pair(first, second))


def test_slips() -> None:
    """Worked by hand."""
    assert slip_texts("tone-or-semitone", pair("E", "F#")) == {
        "counted letters only": "tone",
        "signs left out": "semitone",
        "any sign means a semitone": "semitone",
    }
    assert slip_texts("tone-or-semitone", pair("E", "F"))["counted letters only"] == "tone"


def test_the_working_says_what_the_signs_change() -> None:
    said = [step.text for step in KIND.work(pair("E", "F#"), "usual")]
    assert "Now the sharp makes the step a semitone wider." in said
    said = [step.text for step in KIND.work(pair("D#", "E#"), "usual")]
    assert "Now the two sharps leave the step as it was." in said


def test_an_outside_library_counts_the_same_semitones() -> None:
    signs = {None: "", "natural": "", "sharp": "#", "flat": "-", "double-sharp": "##", "flat-flat": "--"}
    clefs = {"treble": 31, "bass": 19, "alto": 25, "tenor": 23}
    for seed in range(300):
        draft = KIND.set(scope_for(5), Random(seed), None, None)
        if draft is None:
            continue
        pitches = []
        for one in (draft.facts.first, draft.facts.second):
            pitch = music21.pitch.Pitch()
            pitch.diatonicNoteNum = clefs[draft.facts.clef] + one.place
            pitches.append(music21.pitch.Pitch(f"{pitch.step}{signs[one.accidental]}{pitch.octave}"))
        size = abs(music21.interval.Interval(*pitches).semitones)
        assert texts("tone-or-semitone", draft.facts) == [{1: "semitone", 2: "tone"}[size]]


def test_the_pool_is_counted() -> None:
    seen = set()
    for seed in range(12000):
        draft = KIND.set(scope_for(1), Random(seed), None, None)
        if draft is not None:
            seen.add(draft.facts)
    assert 0.98 * KIND.pool(scope_for(1)) <= len(seen) <= KIND.pool(scope_for(1))


def test_every_rule_of_kinds() -> None:
    keeps_the_rules("tone-or-semitone")
