"""Rewriting notes at the same pitch under another clef."""

from __future__ import annotations

from random import Random

import music21
import pytest

from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.questions.asking import agree
from stavewright.questions.choosing import is_right
from stavewright.questions.comparing import compare
from stavewright.questions.errors import BadDocument, Disagreement
from stavewright.questions.kind import Draft
from stavewright.questions.kinds.same_pitch_other_clef import KIND, SamePitchOtherClef
from stavewright.questions.values import Value, WrittenNote
from stavewright.questions.written import Written
from stavewright.syllabus.scope import scope_for

GEHRKENS = "Gehrkens, Music Notation and Terminology (1914)"
KIND_ID = "same-pitch-other-clef"

# fmt: off
# clef, place, other clef, its place in words, source
CASES = [
    ("treble", -2, "bass", "C on the 1st ledger line above the stave", f"{GEHRKENS} §48: middle C in both clefs"),
    ("bass", 10, "treble", "C on the 1st ledger line below the stave", f"{GEHRKENS} §48: middle C in both clefs"),
    ("treble", -2, "alto", "C on the 3rd line", f"{GEHRKENS} §17: the alto clef's own line is middle C"),
    ("bass", 10, "tenor", "C on the 4th line", f"{GEHRKENS} §17: the tenor clef's own line is middle C"),
    ("alto", 4, "tenor", "C on the 4th line", f"{GEHRKENS} §17"),
    ("bass", 8, "treble", "A on the 2nd ledger line below the stave", f"{GEHRKENS} §48: A3"),
]
# fmt: on


@pytest.mark.parametrize("clef, place, other, words, source", CASES)
def test_published_places(clef: str, place: int, other: str, words: str, source: str) -> None:
    facts = SamePitchOtherClef(clef, other, (Written(place),))
    assert texts(KIND_ID, facts) == [words], source


def test_an_octave_away_is_not_the_same_pitch() -> None:
    """D18: same pitch means same octave."""
    facts = SamePitchOtherClef("treble", "bass", (Written(-2, "sharp"),))
    right = Value(notes=(WrittenNote("C", octave=4, type="semibreve", accidental="sharp"),))
    low = Value(notes=(WrittenNote("C", octave=3, type="semibreve", accidental="sharp"),))
    bare = Value(notes=(WrittenNote("C", octave=4, type="semibreve"),))
    assert is_right(right, KIND.solve(facts), KIND)
    assert not is_right(low, KIND.solve(facts), KIND)
    assert not is_right(bare, KIND.solve(facts), KIND)


def test_each_note_is_an_item() -> None:
    facts = SamePitchOtherClef("treble", "bass", (Written(-2), Written(-1), Written(0, "flat")))
    right = KIND.solve(facts)[0].value[0]
    second_wrong = Value(
        notes=(right.notes[0], WrittenNote("C", octave=4, type="semibreve"), right.notes[2]), clef="bass"
    )
    result = compare(second_wrong, right, KIND.marking)
    assert (result.items, result.faults) == (3, 1)


def test_slips_are_what_the_wrong_rule_gives() -> None:
    """Worked by hand: F sharp 3, the bass clef's own line, for the alto clef, where it is the bottom line."""
    assert slip_texts(KIND_ID, SamePitchOtherClef("bass", "alto", (Written(6, "sharp"),))) == {
        "kept the line": "E sharp on the 4th line",
        "an octave too high": "F sharp in the 4th space",
        "an octave too low": "F sharp in the space below the 3rd ledger line below the stave",
        "written for the tenor clef": "A sharp on the 2nd line",
        "signs left out": "F on the 1st line",
        "one place too high": "G sharp in the 1st space",
    }
    found = {one.name: one.steady for one in KIND.slips(SamePitchOtherClef("bass", "alto", (Written(6),)))}
    assert found["kept the line"]
    assert not found["one place too high"]


def test_two_equal_clefs_are_refused() -> None:
    with pytest.raises(BadDocument, match="name two different ones"):
        SamePitchOtherClef("bass", "bass", (Written(0),))


def test_a_setter_an_octave_out_is_caught() -> None:
    facts = SamePitchOtherClef("bass", "tenor", (Written(8),))
    with pytest.raises(Disagreement):
        agree(KIND, Draft(facts, Value(notes=(WrittenNote("A", octave=4, type="semibreve"),))), KIND.solve(facts))


def test_an_outside_library_keeps_the_same_pitch() -> None:
    """music21 reads the old place under the old clef and the new place under the new clef: one pitch."""
    lowest = {
        "treble": music21.clef.TrebleClef().lowestLine,
        "bass": music21.clef.BassClef().lowestLine,
        "alto": music21.clef.AltoClef().lowestLine,
        "tenor": music21.clef.TenorClef().lowestLine,
    }
    for seed in range(200):
        draft = KIND.set(scope_for(5), Random(seed), None, None)
        assert draft is not None
        facts = draft.facts
        for written, note in zip(facts.notes, KIND.solve(facts)[0].value[0].notes, strict=True):
            old = music21.pitch.Pitch()
            old.diatonicNoteNum = lowest[facts.clef] + written.place
            assert (old.step, old.octave) == (note.step, note.octave)
            assert written.accidental == note.accidental


def test_the_notes_set_lie_within_both_clefs() -> None:
    for grade in (3, 4, 5):
        scope = scope_for(grade)
        for seed in range(100):
            draft = KIND.set(scope, Random(seed), None, None)
            assert draft is not None
            for note in draft.expected.notes:
                diatonic = note.octave * 7 + "CDEFGAB".index(note.step)
                for clef in (draft.facts.clef, draft.facts.other):
                    low, high = scope.range_of(clef)
                    assert low.diatonic <= diatonic <= high.diatonic


def test_every_rule_of_kinds() -> None:
    keeps_the_rules(KIND_ID)


def test_wrong_answers_far_off_the_stave_come_last() -> None:
    """Found in review: a choice on six ledger lines can be ruled out by its look."""
    facts = SamePitchOtherClef("tenor", "bass", (Written(10), Written(8), Written(9)))  # G4 E4 F4
    assert [one.name for one in KIND.slips(facts)][-1] == "an octave too high"
