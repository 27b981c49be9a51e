"""The beat a note begins in, and the notes that begin on a beat."""

from __future__ import annotations

from itertools import accumulate
from random import Random

import music21
import pytest

from questions.rhythms import heard, row
from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.questions.asking import agree
from stavewright.questions.errors import BadDocument, Disagreement
from stavewright.questions.kind import Draft
from stavewright.questions.kinds.beats_under_notes import KIND, BeatsUnderNotes
from stavewright.questions.values import Value
from stavewright.syllabus.scope import scope_for
from stavewright.theory.metre import TimeSignature

GEHRKENS = "Gehrkens, Music Notation and Terminology (1914)"
METRE = "Open Music Theory (version 1), meter: the beat of compound time is dotted"


def bar(time: str, text: str, marked: int = 0) -> BeatsUnderNotes:
    return BeatsUnderNotes(time, row(text), marked)


@pytest.mark.parametrize(
    "facts, answer, source",
    [
        (bar("4/4", "m c q q", 2), "3", f"{GEHRKENS} §1, §96: a minim takes two crotchet beats"),
        (bar("4/4", "m c q q", 4), "4", f"{GEHRKENS} §96: the second quaver begins inside beat 4"),
        (bar("3/4", "c. q c", 2), "2", f"{GEHRKENS} §49: the dotted crotchet reaches into beat 2"),
        (bar("3/4", "c_ q q c", 4), "3", f"{GEHRKENS} §5: a rest takes its time"),
        (bar("6/8", "c q c q", 3), "2", METRE),
        (bar("9/8", "q q q c. q q q", 5), "3", METRE),
        (bar("cut C", "m c c", 2), "2", f"{GEHRKENS} §103: two minim beats"),
        (bar("2/4", "q3 q3 q3 c", 4), "2", f"{GEHRKENS} §55: a triplet fills one beat"),
        (bar("4/4", "m c q q"), "notes 1, 2 and 3", f"{GEHRKENS} §96"),
        (bar("3/4", "c. q c"), "notes 1 and 3", f"{GEHRKENS} §49"),
        (bar("6/8", "c q q q q"), "notes 1 and 3", METRE),
        (bar("4/4", "q_ q c_ m"), "note 2", f"{GEHRKENS} §5: rests have no number"),
    ],
)
def test_worked_by_hand(facts: BeatsUnderNotes, answer: str, source: str) -> None:
    assert texts("beats-under-notes", facts) == [answer], source


def test_slips_of_one_note() -> None:
    """Worked by hand: 3/4, crotchet rest, dotted crotchet, quaver: the quaver begins in beat 3."""
    assert slip_texts("beats-under-notes", bar("3/4", "c_ c. q", 3)) == {
        "counted notes, not beats": "2",
        "one beat late": "4",
        "dots not counted": "3",
        "beats half as long": "6",
    }
    found = slip_texts("beats-under-notes", bar("6/8", "c q c q", 3))
    assert found["counted the lower figure's value"] == "4"
    face = slip_texts("beats-under-notes", bar("3/4", "q3 q3 q3 c c", 5))
    assert face["irregular group counted at face value"] == "3"


def test_slips_of_all_notes() -> None:
    """Worked by hand: 2/4, dotted crotchet and quaver, then 3/4 with a rest."""
    found = slip_texts("beats-under-notes", bar("3/4", "c. q q q"))
    assert found["every note on a beat"] == "notes 1, 2, 3 and 4"
    assert found["only long notes taken"] == "note 1"
    assert found["dots not counted"] == "notes 1, 2 and 4"
    assert slip_texts("beats-under-notes", bar("3/4", "q_ q q q c"))["rests not counted"] == "notes 1 and 3"
    assert slip_texts("beats-under-notes", bar("2/4", "q q c"))["beats twice as long"] == "note 1"


def test_what_cannot_be_asked_is_refused() -> None:
    with pytest.raises(BadDocument, match="not full"):
        bar("3/4", "c c")
    with pytest.raises(BadDocument, match="no note at place 2"):
        bar("2/4", "c c_", 2)


def test_a_setter_that_counts_notes_is_caught() -> None:
    facts = bar("4/4", "m c q q", 2)
    with pytest.raises(Disagreement):
        agree(KIND, Draft(facts, Value(number=2)), KIND.solve(facts))


@pytest.mark.parametrize("grade", [1, 2, 3, 4, 5])
def test_an_outside_library_hears_the_same_beats(grade: int) -> None:
    """Where music21's beat count says that a note begins; both ways of asking are drawn."""
    asked = set()
    for seed in range(100):
        draft = KIND.set(scope_for(grade), Random(seed), None, None)
        assert draft is not None
        facts = draft.facts
        time = music21.meter.TimeSignature(TimeSignature.parse(facts.time).figures)
        time.beatSequence.partition(TimeSignature.parse(facts.time).count)
        starts = [0, *accumulate(heard(one) for one in facts.row)]
        beats = [time.getBeatProportion(start) for start, _ in zip(starts, facts.row, strict=False)]
        value = KIND.solve(facts)[0].value[0]
        asked.add(value.form)
        if value.form == "number":
            assert value.number == int(beats[facts.marked - 1])
            continue
        notes = [beat for beat, one in zip(beats, facts.row, strict=True) if not one.rest]
        on = [number for number, beat in enumerate(notes, 1) if beat == int(beat)]
        assert [place.note for place in value.places] == on
    assert asked == {"number", "places"}


def test_every_rule_of_kinds() -> None:
    keeps_the_rules("beats-under-notes")
