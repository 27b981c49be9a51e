"""Instruments of a family in order of their lowest notes."""

from __future__ import annotations

from itertools import permutations

import pytest

from questions.asking_many import asked
from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.questions.errors import BadDocument
from stavewright.questions.kinds.instruments_in_order import KIND, InstrumentsInOrder
from stavewright.syllabus.scope import scope_for

GEHRKENS = "Gehrkens, Music Notation and Terminology (1914), Appendix B"
MUSESCORE = "MuseScore 3.2.3 instruments table, amateur ranges; common practice"

# fmt: off
# instruments, lowest first?, in order, source
CASES = [
    (("cello", "violin", "viola"), False, "violin, viola, cello", GEHRKENS),
    (("viola", "double bass", "violin", "cello"), False, "violin, viola, cello, double bass", GEHRKENS),
    (("viola", "double bass", "violin", "cello"), True, "double bass, cello, viola, violin", GEHRKENS),
    (("bassoon", "flute", "clarinet", "oboe"), False, "flute, oboe, clarinet, bassoon", GEHRKENS),
    (("flute", "contrabassoon", "piccolo"), False, "piccolo, flute, contrabassoon", GEHRKENS),
    (("horn", "tuba", "trumpet"), True, "tuba, horn, trumpet", MUSESCORE),
    (("trombone", "tuba", "trumpet"), True, "tuba, trombone, trumpet", f"{GEHRKENS}; {MUSESCORE}"),
]
# fmt: on


@pytest.mark.parametrize("among, rising, order, source", CASES)
def test_published_orders(among: tuple[str, ...], rising: bool, order: str, source: str) -> None:
    for some in permutations(among):
        assert texts("instruments-in-order", InstrumentsInOrder(some, rising)) == [order], source


def test_slips_by_hand() -> None:
    facts = InstrumentsInOrder(("cello", "violin", "viola"))
    assert slip_texts("instruments-in-order", facts) == {
        "neighbours swapped": "viola, violin, cello",
        "began at the wrong end": "cello, viola, violin",
    }
    wind = slip_texts("instruments-in-order", InstrumentsInOrder(("oboe", "flute", "bassoon")))
    assert wind["went by the alphabet"] == "bassoon, flute, oboe"


def test_they_never_stand_in_order_already() -> None:
    for _, draft, question in asked("instruments-in-order", 60, grades=(4,)):
        letters = draft.expected.order
        assert letters not in (tuple(sorted(letters)), tuple(sorted(letters, reverse=True)))
        assert [one.text for one in question.response[0].items] == list(draft.facts.among)


def test_the_pool_is_counted() -> None:
    """Threes and fours of 4, 6 and 4 instruments, from either end: 2 x (5 + 35 + 5), less 2 x 3 that
    hold horn and trombone together."""
    assert KIND.pool(scope_for(4)) == 84


def test_horn_and_trombone_are_not_set_together_and_either_may_come_first() -> None:
    """Gehrkens (1914), Appendix B, has the horn from B1 and the trombone from E2; MuseScore 3.2.3 F2 and E2."""
    brass = InstrumentsInOrder(("horn", "tuba", "trumpet", "trombone"), True)
    assert texts("instruments-in-order", brass) == [
        "tuba, trombone, horn, trumpet",
        "tuba, horn, trombone, trumpet",
    ]
    assert "tuba, horn, trombone, trumpet" not in slip_texts("instruments-in-order", brass).values()
    for _, draft, _ in asked("instruments-in-order", 60, grades=(4,)):
        assert not {"horn", "trombone"} <= set(draft.facts.among)


def test_a_clarinet_is_not_said_to_be_bigger_than_a_flute() -> None:
    """They are of one length; the clarinet sounds lower because its tube is closed (common knowledge)."""
    wind = InstrumentsInOrder(("flute", "clarinet", "piccolo"))
    said = [slip.remedy for slip in KIND.slips(wind)] + [step.text for step in KIND.work(wind, "usual")]
    assert not any("bigger of the two" in text for text in said)
    assert "The clarinet goes down to D 3, the flute only to C 4." in said


def test_mixed_families_and_unknown_ranges_are_refused() -> None:
    with pytest.raises(BadDocument, match="three or more of one family"):
        InstrumentsInOrder(("violin", "flute", "tuba"))
    with pytest.raises(BadDocument, match="its own lowest note"):
        InstrumentsInOrder(("flute", "bass flute", "oboe"))


def test_every_rule_of_kinds() -> None:
    keeps_the_rules("instruments-in-order")
