"""One note as long as a run of notes."""

from __future__ import annotations

from fractions import Fraction
from random import Random

import music21
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.questions.asking import agree
from stavewright.questions.choosing import is_right
from stavewright.questions.errors import BadDocument, Disagreement
from stavewright.questions.kind import Draft
from stavewright.questions.kinds.total_value import KIND, Length, TotalValue
from stavewright.questions.setting.splitting import split_run
from stavewright.questions.values import Value, WrittenValue
from stavewright.syllabus.scope import scope_for
from stavewright.theory.duration import VALUES, Duration

GEHRKENS = "Gehrkens, Music Notation and Terminology (1914)"
AMERICAN = {"breve": "breve", "semibreve": "whole", "minim": "half", "crotchet": "quarter", "quaver": "eighth"}
AMERICAN |= {"semiquaver": "16th", "demisemiquaver": "32nd"}


def run(*names: str) -> TotalValue:
    """A run by names; "~" after a name is a tie to the next."""
    lengths = [Duration.parse(name.rstrip("~")) for name in names]
    return TotalValue(tuple(Length(d.type, d.dots, n.endswith("~")) for d, n in zip(lengths, names, strict=True)))


@pytest.mark.parametrize(
    "facts, total, source",
    [
        (run("crotchet", "crotchet"), "minim", f"{GEHRKENS} §1: two of each make the one before"),
        (run("quaver", "quaver", "crotchet", "minim"), "semibreve", f"{GEHRKENS} §1"),
        (run("minim~", "crotchet"), "dotted minim", f"{GEHRKENS} §49: the dot is the tied half"),
        (
            run("minim~", "crotchet~", "quaver"),
            "double-dotted minim",
            f"{GEHRKENS} §51: a half and a quarter",
        ),
        (run("crotchet", "crotchet", "crotchet"), "dotted minim", f"{GEHRKENS} §49: a dotted minim is three crotchets"),
        (run("dotted crotchet", "quaver"), "minim", f"{GEHRKENS} §49"),
        (run("dotted quaver~", "semiquaver"), "crotchet", f"{GEHRKENS} §49"),
        (run("semibreve", "dotted minim", "crotchet"), "breve", "LilyPond Music Glossary: a breve is two semibreves"),
    ],
)
def test_published_sums(facts: TotalValue, total: str, source: str) -> None:
    assert texts("total-value", facts) == [total], source


def test_slips() -> None:
    """Worked by hand: two dotted crotchets and a crotchet, eight quavers; six without the dots or the last note."""
    assert slip_texts("total-value", run("dotted crotchet", "dotted crotchet", "crotchet")) == {
        "dots ignored": "dotted minim",
        "last note left out": "dotted minim",
        "dot put on the answer": "dotted semibreve",
        "one value too long": "breve",
        "one value too short": "minim",
    }
    assert slip_texts("total-value", run("minim~", "crotchet"))["ties counted once"] == "minim"
    assert slip_texts("total-value", run("minim~", "crotchet"))["dot left off the answer"] == "minim"


def test_a_rest_or_another_value_is_not_the_note() -> None:
    facts = run("crotchet", "crotchet")
    assert is_right(Value(rhythm=(WrittenValue("minim"),)), KIND.solve(facts), KIND)
    assert not is_right(Value(rhythm=(WrittenValue("minim", rest=True),)), KIND.solve(facts), KIND)
    assert not is_right(Value(rhythm=(WrittenValue("minim", 1),)), KIND.solve(facts), KIND)
    tied = Value(rhythm=(WrittenValue("crotchet", tie=True), WrittenValue("crotchet")))
    assert not is_right(tied, KIND.solve(facts), KIND)


def test_runs_with_no_single_note_are_refused() -> None:
    with pytest.raises(BadDocument, match="no single note"):
        run("minim", "quaver")
    with pytest.raises(BadDocument, match="tie, but there is no note after"):
        run("minim", "crotchet~")


def test_a_setter_that_counts_ties_once_is_caught() -> None:
    facts = run("minim~", "crotchet")
    with pytest.raises(Disagreement):
        agree(KIND, Draft(facts, Value(rhythm=(WrittenValue("minim"),))), KIND.solve(facts))


@settings(max_examples=150, deadline=None)
@given(st.sampled_from(VALUES[:6]), st.integers(0, 2), st.integers(0, 10**6), st.sampled_from((1, 3, 4, 5)))
def test_a_run_lasts_as_long_as_what_it_was_split_from(value: str, dots: int, seed: int, grade: int) -> None:
    pieces = split_run(scope_for(grade), Random(seed), value, dots)
    if pieces is not None:
        assert 2 <= len(pieces) <= 5
        assert sum(Duration(*piece).ticks for piece in pieces) == Duration(value, dots).ticks
        known = scope_for(grade).values
        assert all(name in known and more <= scope_for(grade).dots for name, more in pieces)
        assert all(VALUES[VALUES.index(name) + more] in known for name, more in pieces)


def test_an_outside_library_adds_alike() -> None:
    for seed in range(300):
        draft = KIND.set(scope_for(4), Random(seed), None, None)
        if draft is None:
            continue
        total = sum(
            Fraction(music21.duration.Duration(type=AMERICAN[one.value], dots=one.dots).quarterLength)
            for one in draft.facts.run
        )
        written = KIND.solve(draft.facts)[0].value[0].rhythm[0]
        one = music21.duration.Duration(type=AMERICAN[written.type], dots=written.dots)
        assert Fraction(one.quarterLength) == total


def test_every_rule_of_kinds() -> None:
    keeps_the_rules("total-value")
