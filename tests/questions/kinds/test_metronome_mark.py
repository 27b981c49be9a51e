"""Metronome marks: beats in a minute, the same speed with another beat, and seconds in training."""

from __future__ import annotations

from random import Random

import msgspec
import pytest

from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.questions.asking import ask
from stavewright.questions.comparing import compare
from stavewright.questions.documents import StaveBlock, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kinds.metronome_mark import KIND, MetronomeMark
from stavewright.questions.score_mirror import score_of
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.syllabus.scope import scope_for

GEHRKENS = "Gehrkens, Music Notation and Terminology (1914) §115: M.M. gives the beats in a minute"

# fmt: off
# beat, number, what a pupil writes, right or wrong
MEANINGS = [
    ("crotchet", 96, "96 crotchet beats in a minute", True),
    ("crotchet", 96, "96 crotchets per minute", True),
    ("crotchet", 96, "96 quarter notes per minute", True),
    ("crotchet", 96, "96 quarter note beats in a minute", True),
    ("crotchet", 96, "96 minim beats in a minute", False),
    ("crotchet", 96, "96 crotchet beats in a second", False),
    ("crotchet", 96, "92 crotchet beats in a minute", False),
    ("dotted crotchet", 60, "60 dotted crotchet beats per minute", True),
    ("dotted crotchet", 60, "60 crotchet beats per minute", False),
]
# beat, number, other beat, the mark; worked by hand: a minim is two crotchets, a crotchet two quavers
SAME = [
    ("crotchet", 60, "minim", "minim = 30"),
    ("crotchet", 60, "quaver", "quaver = 120"),
    ("minim", 60, "quaver", "quaver = 240"),
    ("quaver", 160, "minim", "minim = 40"),
    ("dotted crotchet", 40, "quaver", "quaver = 120"),
]
# number of crotchets a minute, time, bars, seconds; worked by hand
SECONDS = [(60, "4/4", 2, "8 seconds"), (120, "3/4", 8, "12 seconds"), (40, "2/4", 10, "30 seconds")]
# fmt: on


@pytest.mark.parametrize("beat, number, said, right", MEANINGS)
def test_what_a_mark_means(beat: str, number: int, said: str, right: bool) -> None:
    """The number of beats of the note shown that go into one minute."""
    answers = KIND.solve(MetronomeMark("meaning", beat, number))
    assert any(compare(Value(words=said), one.value[0], KIND.marking).same for one in answers) is right, GEHRKENS


@pytest.mark.parametrize("beat, number, other, mark", SAME)
def test_the_same_speed_with_another_beat(beat: str, number: int, other: str, mark: str) -> None:
    there = mark.split(" = ")[1]
    said = texts("metronome-mark", MetronomeMark("same", beat, number, other))
    assert said == [mark, there, f"{there} {other} beats in a minute"]


@pytest.mark.parametrize("number, time, bars, lasts", SECONDS)
def test_how_long_bars_last(number: int, time: str, bars: int, lasts: str) -> None:
    assert texts("metronome-mark", MetronomeMark("seconds", "crotchet", number, "", time, bars))[0] == lasts


def test_slips_by_hand() -> None:
    """The beat is ignored: dotted for plain, or the number kept."""
    assert slip_texts("metronome-mark", MetronomeMark("meaning", "dotted crotchet", 80))["beat unit ignored"] == (
        "80 crotchet beats in a minute"
    )
    assert slip_texts("metronome-mark", MetronomeMark("same", "crotchet", 60, "minim")) == {
        "beat unit ignored": "minim = 60",
        "multiplied where it divides, or the other way": "minim = 120",
        "doubled or halved once too often": "minim = 15",
    }
    assert slip_texts("metronome-mark", MetronomeMark("seconds", "crotchet", 120, "", "4/4", 4)) == {
        "counted bars for beats": "2 seconds",
        "took one second for each beat": "16 seconds",
        "divided the wrong way": "32 seconds",
    }


def test_seconds_are_for_training() -> None:
    """No grade asks them unless the teacher's scope says so; then setter and solver agree on them."""
    for grade in range(1, 6):
        for seed in range(100):
            draft = KIND.set(scope_for(grade), Random(seed), None, None)
            assert draft is not None
            assert draft.facts.ask != "seconds"
    scope = msgspec.structs.replace(scope_for(3), metronome_seconds=True)
    asks = set()
    for seed in range(100):
        draft = KIND.set(scope, Random(seed), None, None)
        assert draft is not None
        asks.add(draft.facts.ask)
        for edition in KIND.forms:
            assert ask(KIND, draft, id="q", grade=3, edition=edition, seed=seed) is not None
    assert asks == {"meaning", "same", "seconds"}


def test_the_mark_is_printed_above_the_stave() -> None:
    """A note, its dot, and the number; nothing in the words gives the meaning away."""
    text, shown = KIND.pose(MetronomeMark("meaning", "dotted crotchet", 60), Wording("words")).blocks
    assert isinstance(shown, StaveBlock)
    (direction,) = score_of(shown.score).staves[0].bars[0].directions
    assert (direction.kind, direction.text) == ("tempo", "\u2669. = 60")
    assert isinstance(text, TextBlock)
    assert text.text == "Look at the mark above the stave. Write what it means."
    for beat in ("minim", "crotchet", "quaver", "dotted minim"):
        assert KIND.pose(MetronomeMark("meaning", beat, 60), Wording("choice")).form is None


def test_broken_marks_are_refused() -> None:
    with pytest.raises(BadDocument, match="no whole number"):
        MetronomeMark("same", "crotchet", 63, "minim")
    with pytest.raises(BadDocument, match="whole seconds"):
        MetronomeMark("seconds", "crotchet", 63, "", "4/4", 1)
    with pytest.raises(BadDocument, match="no beat of a metronome"):
        MetronomeMark("meaning", "breve", 60)
    with pytest.raises(BadDocument, match="is not asked"):
        MetronomeMark("colour", "crotchet", 60)


def test_every_rule_of_kinds() -> None:
    keeps_the_rules("metronome-mark")
