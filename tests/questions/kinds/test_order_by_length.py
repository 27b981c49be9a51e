"""Notes and rests in order of their length."""

from __future__ import annotations

from random import Random

import music21
import pytest

from questions.rhythms import AMERICAN, duration
from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.questions.errors import BadDocument
from stavewright.questions.kinds.order_by_length import KIND, Lasting, OrderByLength
from stavewright.syllabus.scope import scope_for

GEHRKENS = "Gehrkens, Music Notation and Terminology (1914)"


def items(text: str, *, shortest_first: bool = False) -> OrderByLength:
    """Values by the letters of `questions.rhythms`, "_" for a rest."""
    row = tuple(Lasting(duration(word).type, duration(word).dots, "_" in word) for word in text.split())
    return OrderByLength(row, shortest_first)


@pytest.mark.parametrize(
    "facts, order, source",
    [
        (items("c s sq m q"), "b, d, a, e, c", f"{GEHRKENS} §1: each value is half of the one before"),
        (items("c s sq m q", shortest_first=True), "c, e, a, d, b", f"{GEHRKENS} §1"),
        (items("m c. c"), "a, b, c", f"{GEHRKENS} §49: a dotted crotchet is three quavers"),
        (items("c c.. m c."), "c, b, d, a", f"{GEHRKENS} §51: the second dot adds half of the first"),
        (items("m_ q s_ c"), "c, a, d, b", f"{GEHRKENS} §5: every value has its rest"),
        (items("s B dq"), "b, a, c", "LilyPond Music Glossary: a breve is two semibreves"),
    ],
)
def test_published_lengths(facts: OrderByLength, order: str, source: str) -> None:
    assert texts("order-by-length", facts)[0].startswith(f"{order} ("), source


def letters(facts: OrderByLength) -> dict[str, str]:
    return {name: text.partition(" (")[0] for name, text in slip_texts("order-by-length", facts).items()}


def test_slips() -> None:
    """Worked by hand: crotchet a, semiquaver b, minim rest c, dotted quaver d; then the rests that look alike."""
    assert letters(items("c sq m_ q.")) == {
        "tails mean longer": "b, d, c, a",
        "more ink means longer": "b, d, a, c",
        "dot takes half away": "c, a, d, b",
        "dot outdoes the value": "d, c, a, b",
        "rests taken for nothing": "a, d, b, c",
    }
    assert letters(items("c c.. m c."))["began at the wrong end"] == "a, d, b, c"
    assert letters(items("s_ m_ q c."))["mixed up rests that look alike"] == "b, a, d, c"


def test_values_of_one_length_are_refused() -> None:
    with pytest.raises(BadDocument, match="equally long"):
        items("c m c_")


def test_an_outside_library_orders_alike() -> None:
    """The order that music21's lengths give, over drawn questions of all grades."""
    for seed in range(200):
        draft = KIND.set(scope_for(seed % 5 + 1), Random(seed), None, None)
        assert draft is not None
        lengths = [
            music21.duration.Duration(type=AMERICAN[one.value], dots=one.dots).quarterLength
            for one in draft.facts.items
        ]
        order = sorted(range(len(lengths)), key=lambda at: lengths[at], reverse=not draft.facts.shortest_first)
        assert KIND.solve(draft.facts)[0].value[0].order == tuple("abcdefgh"[at] for at in order)


def test_every_rule_of_kinds() -> None:
    keeps_the_rules("order-by-length")
