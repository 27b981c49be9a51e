"""The same sound in simple and in compound time."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import accumulate
from random import Random

import pytest

from questions.rhythms import heard, row
from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.marking.one_question import mark_question
from stavewright.questions.asking import agree, ask
from stavewright.questions.errors import Disagreement
from stavewright.questions.kind import Draft
from stavewright.questions.kinds.simple_to_compound import KIND, SimpleToCompound
from stavewright.questions.values import Value, WrittenValue
from stavewright.questions.wording import Wording
from stavewright.syllabus.scope import scope_for
from stavewright.theory.regroup import RegroupError

GEHRKENS = "Gehrkens, Music Notation and Terminology (1914) §55"
HUTCHINSON = "Hutchinson, Music Theory for the 21st-Century Classroom, duplet"


def bars(time: str, text: str) -> SimpleToCompound:
    return SimpleToCompound(time, tuple(row(bar) for bar in text.split(" | ")))


# fmt: off
CASES = [
    (bars("2/4", "q3 q3 q3 c"), ["quaver, quaver, quaver, dotted crotchet"], f"{GEHRKENS}: three in the time of two"),
    (bars("2/4", "q q c | m"),
     ["duplet quaver, duplet quaver, dotted crotchet, dotted minim",
      "dotted quaver, dotted quaver, dotted crotchet, dotted minim"],
     f"{HUTCHINSON}; two dotted quavers: theory of the duplet, from memory"),
    (bars("3/4", "c3 q3 c c"), ["crotchet, quaver, dotted crotchet, dotted crotchet"], GEHRKENS),
    (bars("6/8", "c q q2 q2"), ["triplet crotchet, triplet quaver, quaver, quaver"], f"{GEHRKENS}; {HUTCHINSON}"),
    (bars("12/8", "m. q q q c."), ["minim, triplet quaver, triplet quaver, triplet quaver, crotchet"],
     "Open Music Theory (version 1), meter: a dotted beat for a plain one"),
    (bars("2/4", "q3 q3 q3 c_"), ["quaver, quaver, quaver, crotchet rest, quaver rest",
                                  "quaver, quaver, quaver, dotted crotchet rest"],
     "The Open University, An introduction to music theory (2016) §4.3: a silent beat of compound time, both ways"),
    (bars("6/8", "c_ q_ c q"), ["crotchet rest, triplet crotchet, triplet quaver"],
     "The Open University (2016) §4.3, read back"),
    (bars("6/8", "c._ c q"), ["crotchet rest, triplet crotchet, triplet quaver"],
     "The Open University (2016) §4.3, read back"),
    (bars("2/2", "c3 c3 c3 m"), ["crotchet, crotchet, crotchet, dotted minim"], "Open Music Theory, meter"),
]
# fmt: on


@pytest.mark.parametrize("facts, answers, source", CASES)
def test_worked_by_hand(facts: SimpleToCompound, answers: list[str], source: str) -> None:
    assert texts("simple-to-compound", facts) == answers, source


def test_slips() -> None:
    """The catalogue's face values, and figures and dots that are left out or kept."""
    assert slip_texts("simple-to-compound", bars("2/4", "q q c | q3 q3 q3 c")) == {
        "face values kept": "quaver, quaver, crotchet, quaver, quaver, quaver, crotchet",
        "figures left out": "quaver, quaver, dotted crotchet, quaver, quaver, quaver, dotted crotchet",
        "dots left out": "duplet quaver, duplet quaver, crotchet, quaver, quaver, quaver, crotchet",
        "triplet figures kept": "duplet quaver, duplet quaver, dotted crotchet, triplet quaver, triplet quaver, "
        "triplet quaver, dotted crotchet",
    }
    assert slip_texts("simple-to-compound", bars("6/8", "q2 q2 c. | q q q c.")) == {
        "face values kept": "quaver, quaver, dotted crotchet, quaver, quaver, quaver, dotted crotchet",
        "figures left out": "quaver, quaver, crotchet, quaver, quaver, quaver, crotchet",
        "dots kept": "quaver, quaver, dotted crotchet, triplet quaver, triplet quaver, triplet quaver, dotted crotchet",
        "duplet figures kept": "duplet quaver, duplet quaver, crotchet, triplet quaver, triplet quaver, "
        "triplet quaver, crotchet",
    }


def test_dotted_notes_for_a_duplet_earn_full_marks() -> None:
    facts = bars("2/4", "q q c")
    question = ask(KIND, Draft(facts, KIND.solve(facts)[0].value[0]), id="q", grade=4, edition="written", seed=1)
    assert question is not None
    marks = [
        mark_question(question, (Value(rhythm=row(text)),)).marks
        for text in ("q2 q2 c.", "q. q. c.", "q2 q2 c", "q q c.", "c c c")
    ]
    assert marks == [3, 3, 2, 1, 0]


def test_the_beat_equation_is_printed() -> None:
    blocks = KIND.pose(bars("6/8", "c q q2 q2"), Wording("rhythm", "us")).blocks
    assert "One dotted quarter note of 6/8 lasts as long as one quarter note of 2/4." in blocks[0].text


def test_what_has_no_twin_is_refused() -> None:
    with pytest.raises(RegroupError):
        bars("5/4", "c c c c c")
    with pytest.raises(RegroupError):
        bars("2/4", "q c q")


def test_a_setter_that_keeps_face_values_is_caught() -> None:
    facts = bars("2/4", "q q c")
    with pytest.raises(Disagreement):
        agree(KIND, Draft(facts, Value(rhythm=row("q q c."))), KIND.solve(facts))


@pytest.mark.parametrize("grade", [4, 5])
def test_an_outside_library_hears_every_note_at_the_same_share_of_the_bar(grade: int) -> None:
    rests: set[bool] = set()
    for seed in range(100):
        draft = KIND.set(scope_for(grade), Random(seed), None, None)
        assert draft is not None
        before = shares([one for bar in draft.facts.bars for one in bar])
        rests |= {one.rest for bar in draft.facts.bars for one in bar}
        for answer in KIND.solve(draft.facts):
            assert shares(answer.value[0].rhythm) == before
    assert rests == {True, False}


def shares(values: Sequence[WrittenValue]) -> list[tuple[Fraction, Fraction]]:
    """Where each note begins and how long it lasts, as shares of the whole."""
    lengths = [heard(one) for one in values]
    whole, starts = sum(lengths), accumulate(lengths, initial=Fraction())
    return [
        (start / whole, length / whole)
        for start, length, one in zip(starts, lengths, values, strict=False)
        if not one.rest
    ]


def test_every_rule_of_kinds() -> None:
    keeps_the_rules("simple-to-compound")
