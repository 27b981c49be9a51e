"""Naming notes and rests by value."""

from __future__ import annotations

from random import Random

import music21
import pytest

from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.questions.choosing import is_right
from stavewright.questions.documents import StaveBlock
from stavewright.questions.kinds.value_name import KIND, ValueShown
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.syllabus.scope import scope_for

GEHRKENS = "Gehrkens, Music Notation and Terminology (1914)"
GLOSSARY = "LilyPond Music Glossary, duration names; Schmidt-Jones, Understanding Basic Music Theory m11887-8"

# fmt: off
# value, dots, rest, name, the American name that must be taken too, source
CASES = [
    ("semibreve", 0, False, "semibreve", "whole note", GLOSSARY),
    ("minim", 0, False, "minim", "half note", GLOSSARY),
    ("crotchet", 0, False, "crotchet", "quarter note", GLOSSARY),
    ("quaver", 0, False, "quaver", "eighth note", GLOSSARY),
    ("semiquaver", 0, False, "semiquaver", "sixteenth note", GLOSSARY),
    ("demisemiquaver", 0, False, "demisemiquaver", "thirty-second note", GLOSSARY),
    ("breve", 0, False, "breve", "double whole note", GLOSSARY),
    ("semibreve", 0, True, "semibreve rest", "whole rest", f"{GEHRKENS} §5"),
    ("minim", 0, True, "minim rest", "half rest", f"{GEHRKENS} §5"),
    ("semiquaver", 0, True, "semiquaver rest", "16th rest", f"{GEHRKENS} §5"),
    ("crotchet", 1, False, "dotted crotchet", "dotted quarter note", f"{GEHRKENS} §49-51"),
    ("minim", 2, False, "double-dotted minim", "double dotted half note", f"{GEHRKENS} §49-51"),
    ("crotchet", 1, True, "dotted crotchet rest", "dotted quarter rest", f"{GEHRKENS} §5: rests may be dotted"),
]
# fmt: on


@pytest.mark.parametrize("value, dots, rest, name, american, source", CASES)
def test_published_names(value: str, dots: int, rest: bool, name: str, american: str, source: str) -> None:
    facts = ValueShown(value, dots, rest)
    assert texts("value-name", facts)[0] == name, source
    assert is_right(Value(words=american), KIND.solve(facts), KIND), source


def test_what_the_question_says_need_not_be_said_again() -> None:
    """The prompt says whether it is a note or a rest, so the value alone is right; another value is not."""
    rest = ValueShown("quaver", 0, rest=True)
    assert texts("value-name", rest) == ["quaver rest", "quaver"]
    assert not is_right(Value(words="crotchet rest"), KIND.solve(rest), KIND)
    assert not is_right(Value(words="quaver"), KIND.solve(ValueShown("quaver", 1)), KIND)


def test_slips() -> None:
    """The two block rests, the zigzag and the hook, the neighbour and the dot (worked by hand)."""
    assert slip_texts("value-name", ValueShown("semibreve", 0, rest=True)) == {
        "mixed up rests that look alike": "minim rest",
    }
    assert slip_texts("value-name", ValueShown("minim", 0, rest=True)) == {
        "mixed up rests that look alike": "semibreve rest",
        "named the next shorter value": "crotchet rest",
    }
    assert slip_texts("value-name", ValueShown("quaver", 1)) == {
        "dot left out": "quaver",
        "named the next shorter value": "dotted semiquaver",
        "named the next longer value": "dotted crotchet",
    }


@pytest.mark.parametrize(
    "facts, shape",
    [
        (ValueShown("semibreve", 0, rest=True), "hangs below a line"),
        (ValueShown("minim", 0, rest=True), "sits on a line"),
        (ValueShown("demisemiquaver"), "a filled head with a stem and three tails"),
        (ValueShown("minim", 1), "an open head with a stem, with a dot after it"),
        (ValueShown("semiquaver", 0, rest=True), "a slanting stroke with two hooks"),
    ],
)
def test_the_picture_in_words_shows_the_shape_and_not_the_name(facts: ValueShown, shape: str) -> None:
    """Shapes: Gehrkens §1 and §5."""
    stave = KIND.pose(facts, Wording("words")).blocks[1]
    assert isinstance(stave, StaveBlock)
    assert shape in stave.alt
    assert facts.value not in stave.alt


def test_an_outside_library_calls_each_length_the_same() -> None:
    """music21 names the value of the same length by its American word, which the marking must take."""
    for seed in range(120):
        draft = KIND.set(scope_for(5), Random(seed), None, None)
        assert draft is not None
        facts = draft.facts
        names = {"breve": "breve", "whole": "semibreve", "half": "minim", "quarter": "crotchet", "eighth": "quaver"}
        names |= {"16th": "semiquaver", "32nd": "demisemiquaver"}
        other = next(k for k, v in names.items() if v == facts.value)
        length = music21.duration.Duration(type=other, dots=facts.dots).quarterLength
        from stavewright.theory.duration import CROTCHET_TICKS, Duration

        assert Duration.parse(draft.expected).ticks == length * CROTCHET_TICKS


def test_the_pool_is_counted() -> None:
    for grade in (1, 3, 4):
        seen = {KIND.set(scope_for(grade), Random(seed), None, None).facts for seed in range(3000)}
        assert len(seen) == KIND.pool(scope_for(grade))


def test_every_rule_of_kinds() -> None:
    keeps_the_rules("value-name")


@pytest.mark.parametrize(
    "value, dots, rest, said",
    [
        ("crotchet", 0, False, "Quarter."),
        ("minim", 1, False, "dotted half"),
        ("minim", 1, True, "dotted half rest"),
        ("semiquaver", 0, False, "sixteenth"),
        ("semiquaver", 0, False, "16th"),
        ("demisemiquaver", 0, True, "thirty-second rest"),
        ("breve", 0, False, "double whole"),
        ("crotchet", 0, True, "quarter"),
    ],
)
def test_us_names_cut_short_are_right(value: str, dots: int, rest: bool, said: str) -> None:
    """LilyPond Music Glossary, duration names; what US pupils say for them is from memory."""
    assert is_right(Value(words=said), KIND.solve(ValueShown(value, dots, rest)), KIND)
    assert not is_right(Value(words=said), KIND.solve(ValueShown("quaver", dots, rest)), KIND)


def test_the_crotchet_rest_has_no_hooks_to_count() -> None:
    """Found in review: the remedy told the pupil to count the hooks of a rest without any."""
    assert not any("Count the hooks" in one.remedy for one in KIND.slips(ValueShown("crotchet", 0, True)))
