"""What the last bar must hold after an upbeat."""

from __future__ import annotations

from fractions import Fraction
from random import Random

import music21
import pytest

from questions.rhythms import AMERICAN, heard, row
from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.questions.asking import agree
from stavewright.questions.documents import StaveBlock
from stavewright.questions.errors import BadDocument, Disagreement
from stavewright.questions.kind import Draft
from stavewright.questions.kinds.anacrusis_balance import KIND, AnacrusisBalance
from stavewright.questions.score_mirror import score_of
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.syllabus.scope import scope_for
from stavewright.theory.bar_lines import BarLineError
from stavewright.theory.metre import TimeSignature

RULE = "common practice: the last bar is short by the upbeat"


def tune(time: str, upbeat: str, bar: str, unit: str) -> AnacrusisBalance:
    return AnacrusisBalance(time, row(upbeat), row(bar), unit)


@pytest.mark.parametrize(
    "facts, answer, source",
    [
        (tune("3/4", "c", "m c", "crotchet"), "2", RULE),
        (tune("4/4", "q q", "m m", "crotchet"), "3", RULE),
        (tune("4/4", "c. q", "m m", "crotchet"), "2", f"{RULE}; the dot: Gehrkens (1914) §49"),
        (tune("6/8", "q", "c. c.", "quaver"), "5", RULE),
        (tune("6/8", "c q", "c. c.", "quaver"), "3", RULE),
        (tune("3/4", "q. sq", "m c", "quaver"), "4", RULE),
        (tune("5/4", "m", "m. m", "crotchet"), "3", RULE),
    ],
)
def test_worked_by_hand(facts: AnacrusisBalance, answer: str, source: str) -> None:
    assert texts("anacrusis-balance", facts) == [answer], source


def test_slips() -> None:
    """The catalogue's full last bar, and more, worked by hand in quavers."""
    assert slip_texts("anacrusis-balance", tune("4/4", "q. sq", "m m", "quaver")) == {
        "full last bar": "8",
        "as long as the upbeat": "2",
        "upbeat added": "10",
        "upbeat counted by its notes": "6",
    }
    found = slip_texts("anacrusis-balance", tune("4/4", "c. q", "m m", "quaver"))
    assert found["dot not counted"] == "5"
    assert "one note of the upbeat counted" not in found  # 8 - 3, the same
    assert found["upbeat counted by its notes"] == "6"
    assert slip_texts("anacrusis-balance", tune("6/8", "q", "c. c.", "quaver"))["one whole beat taken away"] == "3"


def test_the_upbeat_is_no_counted_bar() -> None:
    """The first whole bar is bar 1 (common practice); the last bar is empty and says nothing of its length."""
    shown = set()
    for upbeat in ("c", "q q", "m"):
        blocks = KIND.pose(tune("3/4", upbeat, "m c", "quaver"), Wording("number")).blocks
        block = next(one for one in blocks if isinstance(one, StaveBlock))
        score = score_of(block.score)
        assert score.anacrusis
        assert [score.bar_number(index) for index in range(3)] == [0, 1, 2]
        shown.add(score.staves[0].bars[-1])
        assert "Upbeat:" in block.alt
        assert "Last bar: An empty place." in block.alt
    assert len(shown) == 1


def test_what_cannot_be_asked_is_refused() -> None:
    with pytest.raises(BarLineError):
        tune("2/4", "m", "c c", "crotchet")
    with pytest.raises(BadDocument, match="not full"):
        tune("3/4", "c", "c c", "crotchet")
    with pytest.raises(BadDocument, match="no exact number"):
        tune("3/4", "q", "m c", "crotchet")


def test_a_setter_that_fills_the_last_bar_is_caught() -> None:
    facts = tune("3/4", "c", "m c", "crotchet")
    with pytest.raises(Disagreement):
        agree(KIND, Draft(facts, Value(number=3)), KIND.solve(facts))


@pytest.mark.parametrize("grade", [3, 4, 5])
def test_an_outside_library_completes_the_bar(grade: int) -> None:
    """Upbeat and last bar together last as long as music21's bar."""
    for seed in range(120):
        draft = KIND.set(scope_for(grade), Random(seed), None, None)
        assert draft is not None
        facts = draft.facts
        bar = Fraction(music21.meter.TimeSignature(TimeSignature.parse(facts.time).figures).barDuration.quarterLength)
        unit = Fraction(music21.duration.Duration(type=AMERICAN[facts.unit]).quarterLength)
        assert sum(heard(one) for one in facts.upbeat) + unit * KIND.solve(facts)[0].value[0].number == bar


def test_a_grade_without_upbeats_is_not_asked() -> None:
    assert KIND.set(scope_for(2), Random(1), None, None) is None


def test_every_rule_of_kinds() -> None:
    keeps_the_rules("anacrusis-balance")
