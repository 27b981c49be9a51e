"""The bar that holds too much or too little."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from random import Random

import music21
import pytest

from questions.rhythms import duration, heard, row
from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from questions.tiny_melodies import TinyMelodies
from stavewright.marking.one_question import mark_question
from stavewright.questions.asking import agree, ask
from stavewright.questions.errors import BadDocument, Disagreement
from stavewright.questions.kind import Draft
from stavewright.questions.kinds.find_the_faulty_bar import KIND, FindTheFaultyBar
from stavewright.questions.score_mirror import document_of, score_of
from stavewright.questions.showing.bars import event_of
from stavewright.questions.values import Place, Value, WrittenValue
from stavewright.score.check import faults
from stavewright.score.event import Note, Rest
from stavewright.score.stave import Bar, Score, Stave
from stavewright.syllabus.scope import scope_for
from stavewright.theory.duration import Duration
from stavewright.theory.metre import TimeSignature
from stavewright.wiring import composed_melodies

GEHRKENS = "Gehrkens, Music Notation and Terminology (1914)"


def music(time: str, text: str, *, count: int = 1, upbeat: bool = False) -> FindTheFaultyBar:
    bars = [
        Bar((tuple(event_of(one, f"n{index}-{at}") for at, one in enumerate(row(bar), 1)),), free=True)
        for index, bar in enumerate(text.split(" | "), 1)
    ]
    score = Score((Stave("treble", tuple(bars), time=TimeSignature.parse(time)),), numbered=True, anacrusis=upbeat)
    return FindTheFaultyBar(document_of(score), count)


@pytest.mark.parametrize(
    "facts, answer, source",
    [
        (music("3/4", "m c | c c c | m. q | m."), "bar 3", f"{GEHRKENS} §96"),
        (music("4/4", "m m | c c m | m c. | s"), "bar 3", f"{GEHRKENS} §49, §96: three crotchets and a half"),
        (music("6/8", "c. c. | c q c | m. | c q c q"), "bar 2", "Open Music Theory (version 1), meter"),
        (music("2/4", "q3 q3 q3 c | c c | q q q"), "bar 3", f"{GEHRKENS} §55: a triplet of quavers is one beat"),
        (music("3/4", "c | m c | c c c c | m", upbeat=True), "bar 2", "common practice: the upbeat is not counted"),
        (music("3/4", "c c_ c | c_ c | m c"), "bar 2", f"{GEHRKENS} §5: rests count"),
        (music("3/4", "m | m c | m m", count=2), "bars 1 and 3", f"{GEHRKENS} §96"),
    ],
)
def test_worked_by_hand(facts: FindTheFaultyBar, answer: str, source: str) -> None:
    assert texts("find-the-faulty-bar", facts) == [answer], source


def test_a_faulty_bar_and_a_full_one_are_counted_in_one_value() -> None:
    """13 semiquavers tell nothing where the bar was counted in crotchets: 12 is said beside them."""
    facts = music("3/4", "m c | q sq q m | c. q q | m.", count=2)
    (found,) = KIND.solve(facts)
    assert found.reason == (
        "A bar of 3/4 lasts 3 crotchets, but bar 2 holds 13 semiquavers in place of 12 "
        "and bar 3 holds 5 quavers in place of 6."
    )
    assert "That is 13 semiquavers in place of 12, too many." in KIND.work(facts, "usual")[2].text
    (plain,) = KIND.solve(music("2/4", "m | m c"))
    assert plain.reason == "A bar of 2/4 lasts 2 crotchets, but bar 2 holds 3 crotchets."


def test_slips() -> None:
    """The catalogue's ignored dot, and more, worked by hand; where a rule finds more bars the first is taken."""
    assert slip_texts("find-the-faulty-bar", music("4/4", "m m | c. q m | m c | q q c m")) == {
        "dots not counted": "bar 2",
        "counted notes, not beats": "bar 1",
        "most notes taken for too much": "bar 4",
    }
    upbeat = slip_texts("find-the-faulty-bar", music("3/4", "c | m c | c c c c | m", upbeat=True))
    assert upbeat["upbeat taken for a fault"] == "bar 0"
    assert upbeat["short last bar taken for a fault"] == "bar 3"
    assert "counted from the upbeat" not in upbeat  # bar 3 as well
    rests = slip_texts("find-the-faulty-bar", music("2/4", "c c_ | c c | m q"))
    assert rests["rests not counted"] == "bar 1"
    group = slip_texts("find-the-faulty-bar", music("2/4", "c c | q3 q3 q3 c | m q"))
    assert group["irregular group counted at face value"] == "bar 2"
    few = slip_texts("find-the-faulty-bar", music("2/4", "q q c | m | c c c"))
    assert few["fewest notes taken for too little"] == "bar 2"


def test_a_whole_bar_rest_is_no_fault() -> None:
    """A semibreve rest fills any bar (Gehrkens §33)."""
    facts = music("3/4", "m c | c c | m c")
    stave = score_of(facts.music).staves[0]
    silent = Bar(((Rest(Duration("semibreve"), "r1", whole_bar=True),),), free=True)
    document = document_of(Score((replace(stave, bars=(*stave.bars, silent)),), numbered=True))
    assert texts("find-the-faulty-bar", FindTheFaultyBar(document)) == ["bar 2"]


def test_marks() -> None:
    facts = music("3/4", "m | m c | m m", count=2)
    draft = Draft(facts, KIND.solve(facts)[0].value[0])
    question = ask(KIND, draft, id="q", grade=1, edition="written", seed=1, marks=2)
    assert question is not None

    def marks(*bars: int) -> int:
        return mark_question(question, (Value(places=tuple(Place(bar) for bar in bars)),)).marks

    assert [marks(1, 3), marks(3, 1), marks(1), marks(1, 2), marks(2)] == [2, 2, 1, 1, 0]


def test_what_cannot_be_asked_is_refused() -> None:
    with pytest.raises(BadDocument, match="0 bars do not add up"):
        music("2/4", "c c | m")
    bare = Bar(((Note(event_of(WrittenValue("minim"), "").pitch, duration("m"), "n1"),),), free=True)
    with pytest.raises(BadDocument, match="one stave"):
        FindTheFaultyBar(document_of(Score((Stave("treble", (bare,)),))))


def test_a_setter_that_names_the_next_bar_is_caught() -> None:
    facts = music("2/4", "c c | c | m")
    with pytest.raises(Disagreement):
        agree(KIND, Draft(facts, Value(places=(Place(3),))), KIND.solve(facts))


@pytest.mark.parametrize("grade", [1, 2, 3, 4, 5])
def test_an_outside_library_finds_the_same_bars(grade: int) -> None:
    """Bars that do not last as long as music21's bar; melodies, rhythms, with and without a source of melodies."""
    upbeats = 0
    for source in (composed_melodies(), TinyMelodies(), None):
        for seed in range(25):
            draft = KIND.set(scope_for(grade), Random(f"{grade}/{seed}"), None, source)
            assert draft is not None
            score = score_of(draft.facts.music)
            assert faults(score) == []
            time = score.staves[0].time
            bar = Fraction(music21.meter.TimeSignature(time.figures).barDuration.quarterLength)
            held = [sum(heard(WrittenValue.of(e.duration)) for e in one.events) for one in score.staves[0].bars]
            upbeats += score.anacrusis
            if score.anacrusis:
                held[-1] += held[0]
                held[0] = bar
            wrong = tuple(Place(score.bar_number(index)) for index, length in enumerate(held) if length != bar)
            assert KIND.solve(draft.facts)[0].value[0].places == wrong
            assert [one.free for one in score.staves[0].bars].count(True) >= len(wrong)
    assert (upbeats > 0) is (grade >= 3)


def test_every_rule_of_kinds() -> None:
    keeps_the_rules("find-the-faulty-bar")
