"""A rhythm that answers another: the report worked by hand, other good answers, every slip, the model."""

from __future__ import annotations

from random import Random

import music21
import pytest

from questions.rhythms import heard
from questions.rules_of_kinds import slip_texts, texts
from stavewright.marking.one_question import mark_question
from stavewright.questions.asking import ask
from stavewright.questions.criterion import lost
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft
from stavewright.questions.kinds.answer_the_rhythm import KIND, AnswerTheRhythm
from stavewright.questions.solving.rhythm_report import report
from stavewright.questions.values import Value, WrittenValue
from stavewright.syllabus.scope import scope_for
from stavewright.theory.metre import TimeSignature

ID = "answer-the-rhythm"
NAMES = {"1": "minim", "2": "crotchet", "4": "quaver", "8": "semiquaver"}


def row(text: str) -> tuple[WrittenValue, ...]:
    """ "2 4a 4a 1." is a crotchet, two quavers under one beam, a dotted minim; "r2" is a crotchet rest."""
    found = []
    for one in text.split():
        rest, body = one.startswith("r"), one.removeprefix("r")
        beam = next((" ab".index(letter) for letter in "ab" if letter in body), None)
        found.append(WrittenValue(NAMES[body[0]], body.count("."), rest, beam=beam))
    return tuple(found)


QUESTION = (row("2 4a 4a 2"), row("4a 4a 2 2"))
FACTS = AnswerTheRhythm("3/4", QUESTION)


# Worked by hand: bars of three crotchets (Gehrkens, Music Notation and Terminology, 1914, §96); question and answer
# of one length, the answer like the question and with a long note at the close: common practice.
@pytest.mark.parametrize(
    ("answer", "wrong"),
    [
        ("2 4a 4a 2 1.", {}),
        ("4a 4a 2 2 2 1", {}),
        ("2 4 4 2 1.", {}),
        ("2 4a 4a 2 4a 4a 2 2", {"balance": 1}),
        ("2 2 2 1.", {"balance": 1}),
        ("2 4a 4a 2 1", {"bars": 1}),
        ("2 4a 4a 2 1. 1.", {"length": 1}),
        ("2 4a 4a 2 1 r2", {"ending": 1}),
        ("2 4a 4a 2 1 4a 4a", {"ending": 1}),
        ("4a 4a 2 2 2 4a 4a 2", {}),
        ("4 4a 4a 4 2 4b 4b 2 2", {"grouping": 1}),
        ("1 1 1 1", {"bars": 2, "balance": 1}),
        ("2 4a 4a 2 1. 2", {"bars": 1, "length": 1}),
        ("2 4a 4a 2", {"length": 1}),
    ],
)
def test_the_report_worked_by_hand(answer, wrong):
    found = {one.name: one.lost for one in report(row(answer), QUESTION, TimeSignature(3, 4)) if one.lost}
    assert found == wrong


def test_findings_are_told_apart():
    """A copy is called a copy, and what is taken up is named by its bars."""
    copy = {one.name: one.why for one in report(row("2 4a 4a 2 4a 4a 2 2"), QUESTION, TimeSignature(3, 4))}
    assert copy["balance"] == "it only copies the question"
    turned = {one.name: one.why for one in report(row("4a 4a 2 2 2 1"), QUESTION, TimeSignature(3, 4))}
    assert turned["balance"] == "bar 1 has the rhythm of bar 2 of the question"
    new = {one.name: one.why for one in report(row("2 2 2 1."), QUESTION, TimeSignature(3, 4))}
    assert new["balance"] == "no bar is like one of the question"


def test_other_good_answers_earn_full_marks():
    question = ask(KIND, Draft(FACTS, KIND.solve(FACTS)[0].value), id="q", grade=1, edition="written", seed=1)
    assert mark_question(question, (Value(rhythm=row("4a 4a 2 2 2 1")),)).marks == 6
    assert mark_question(question, (Value(rhythm=row("2 4a 4a 2 1")),)).marks == 5
    assert mark_question(question, (Value(rhythm=row("2 2 2 1.")),)).marks == 5
    assert mark_question(question, ()).marks == 0


def test_the_model_and_every_slip():
    assert texts(ID, FACTS) == [
        "crotchet, quaver, quaver, crotchet | dotted minim",
        "crotchet, quaver, quaver, crotchet | quaver, quaver, minim",
    ]
    assert slip_texts(ID, FACTS) == {
        "question copied": "crotchet, quaver, quaver, crotchet | quaver, quaver, crotchet, crotchet",
        "last bar left out": "crotchet, quaver, quaver, crotchet",
        "one value too many": "crotchet, quaver, quaver, crotchet | crotchet, dotted minim",
        "ends with a rest": "crotchet, quaver, quaver, crotchet | dotted minim rest",
    }


@pytest.mark.parametrize(("grade", "bars"), [(1, 2), (2, 2), (3, 4), (5, 4)])
def test_models_keep_every_rule(grade, bars):
    made = 0
    for seed in range(40):
        draft = KIND.set(scope_for(grade), Random(seed), None, None)
        if draft is None:
            continue
        assert len(draft.facts.bars) == bars
        assert all(lost(KIND.report(draft.facts, one.value[0])) == 0 for one in KIND.solve(draft.facts))
        assert lost(KIND.report(draft.facts, draft.expected)) == 0
        made += 1
    assert made > 30


def test_what_cannot_be_answered_is_refused():
    for time, given in (("3/4", QUESTION[:1]), ("4/4", QUESTION), ("3/4", (row("1"), row("1.")))):
        with pytest.raises(BadDocument):
            AnswerTheRhythm(time, given)


@pytest.mark.parametrize("answer", ["", "2", "2 4"])
def test_hardly_anything_written_earns_nothing(answer):
    """Beams that fit and a long last note say nothing of half a bar."""
    found = report(row(answer), QUESTION, TimeSignature(3, 4))
    assert [one.marks for one in found] == [0] * 5
    assert {one.why for one in found} == {"too little is written to judge"}


def test_most_questions_have_two_examples():
    """One held at the end, one that moves on to its last note."""
    counts = [len(KIND.solve(KIND.set(scope_for(3), Random(seed), None, None).facts)) for seed in range(60)]
    assert counts.count(2) >= 40
    assert set(counts) <= {1, 2}


@pytest.mark.parametrize("grade", [1, 5])
def test_only_common_metres_are_composed_in(grade):
    found = {KIND.set(scope_for(grade), Random(seed), None, None).facts.time for seed in range(80)}
    assert found <= {"2/4", "3/4", "4/4", "C", "2/2", "cut C", "3/2", "3/8", "6/8", "12/8"}
    assert len(found) >= 3


def measures(values, time: str) -> list[tuple[float, bool]]:
    """What music21 makes of a rhythm: how full each of its measures is, and whether a note is tied over its end."""
    stream = music21.stream.Stream([music21.meter.TimeSignature({"C": "4/4", "cut C": "2/2"}.get(time, time))])
    for value in values:
        kind = music21.note.Rest if value.rest else music21.note.Note
        stream.append(kind(quarterLength=heard(value)))
    found = stream.makeMeasures().makeTies().getElementsByClass(music21.stream.Measure)
    return [(float(one.barDurationProportion()), bool(one.notes and one.notes.last().tie)) for one in found]


@pytest.mark.parametrize("grade", [1, 2, 3, 4, 5])
def test_music21_counts_the_bars_alike(grade):
    """Where the report says that every bar adds up and the length is right, music21 barring the values agrees."""
    judged = {True: 0, False: 0}
    for seed in range(30):
        facts = KIND.set(scope_for(grade), Random(seed), None, None).facts
        for one in (*KIND.solve(facts), *KIND.slips(facts)):
            values = one.value[0].rhythm
            found = {line.name: line.lost for line in KIND.report(facts, one.value[0])}
            full = measures(values, facts.time)
            good = len(full) == len(facts.bars) and all(size == 1 and not tied for size, tied in full)
            assert good == (found["bars"] == found["length"] == 0), (facts.time, values)
            judged[good] += 1
    assert min(judged.values()) >= 30
