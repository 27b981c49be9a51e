"""Drawing a named note or rest."""

from __future__ import annotations

import music21
import pytest

from questions.rhythms import AMERICAN
from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.questions.choosing import is_right
from stavewright.questions.kinds.draw_the_value import KIND, ValueNamed
from stavewright.questions.setting.one_value import how_many_values
from stavewright.questions.values import Value, WrittenValue
from stavewright.syllabus.scope import scope_for

GEHRKENS = "Gehrkens, Music Notation and Terminology (1914)"


@pytest.mark.parametrize(
    "facts, text, source",
    [
        (ValueNamed("semibreve"), "an open head with no stem (semibreve)", f"{GEHRKENS} §1"),
        (ValueNamed("minim"), "an open head with a stem (minim)", f"{GEHRKENS} §1"),
        (ValueNamed("semiquaver"), "a filled head with a stem and two tails (semiquaver)", f"{GEHRKENS} §1"),
        (ValueNamed("minim", 1), "an open head with a stem, with a dot after it (dotted minim)", f"{GEHRKENS} §49"),
        (
            ValueNamed("semibreve", rest=True),
            "a block that hangs below a line (semibreve rest)",
            f"{GEHRKENS} §5: the whole rest hangs",
        ),
        (ValueNamed("minim", rest=True), "a block that sits on a line (minim rest)", f"{GEHRKENS} §5: the half sits"),
        (ValueNamed("quaver", rest=True), "a slanting stroke with one hook (quaver rest)", f"{GEHRKENS} §5"),
    ],
)
def test_published_signs(facts: ValueNamed, text: str, source: str) -> None:
    assert texts("draw-the-value", facts) == [text], source


def test_slips() -> None:
    """The catalogue's neighbouring value, and the rests that look alike."""
    rests = slip_texts("draw-the-value", ValueNamed("minim", rest=True))
    assert rests["mixed up rests that look alike"] == "a block that hangs below a line (semibreve rest)"
    assert rests["drew the note"] == "an open head with a stem (minim)"
    notes = slip_texts("draw-the-value", ValueNamed("crotchet", 2))
    assert notes["drew the next shorter value"].endswith("(double-dotted quaver)")
    assert notes["drew the next longer value"].endswith("(double-dotted minim)")
    assert notes["dot left out"].endswith("(dotted crotchet)")


def test_only_the_named_sign_is_right() -> None:
    right = KIND.solve(ValueNamed("quaver", rest=True))
    assert is_right(Value(rhythm=(WrittenValue("quaver", rest=True),)), right, KIND)
    for wrong in (WrittenValue("quaver"), WrittenValue("quaver", 1, rest=True), WrittenValue("crotchet", rest=True)):
        assert not is_right(Value(rhythm=(wrong,)), right, KIND)


def test_an_outside_library_counts_the_same_tails() -> None:
    """Tails in the description are as many as the flags that music21 gives the value."""
    words = ("no", "one", "two", "three", "four")
    for value, american in AMERICAN.items():
        if value in ("breve", "semibreve", "minim"):
            continue
        flags = music21.duration.typeToDuration[american]
        count = {1.0: 0, 0.5: 1, 0.25: 2, 0.125: 3, 0.0625: 4}[flags]
        assert f"{words[count]} tail" in texts("draw-the-value", ValueNamed(value))[0]


def test_the_pool_counts_every_sign_once() -> None:
    """Grade 1: five values as notes and rests, and four of them dotted notes."""
    assert how_many_values(scope_for(1)) == 14


def test_every_rule_of_kinds() -> None:
    keeps_the_rules("draw-the-value")
