"""Ornaments named from their signs; every usual second name is right (D16: the sign decides, not the word)."""

from __future__ import annotations

import pytest

from questions.asking_many import drafts
from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.questions.comparing import compare
from stavewright.questions.documents import StaveBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kinds.ornament_name import KIND, OrnamentName
from stavewright.questions.score_mirror import score_of
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording

GEHRKENS = "Gehrkens, Music Notation and Terminology (1914)"
ROW = ("G4", "A4", "B4")

# fmt: off
# sign, name, right or wrong, source
CASES = [
    ("trill", "trill", True, f"{GEHRKENS} §64"),
    ("trill", "shake", True, f"{GEHRKENS} §64"),
    ("mordent", "mordent", True, f"{GEHRKENS} §66: the sign with a stroke"),
    ("mordent", "lower mordent", True, "common practice"),
    ("mordent", "inverted mordent", False, f"{GEHRKENS} §67: the sign without a stroke"),
    ("upper-mordent", "inverted mordent", True, f"{GEHRKENS} §67"),
    ("upper-mordent", "upper mordent", True, "common practice"),
    ("upper-mordent", "Pralltriller", True, "common practice"),
    ("upper-mordent", "lower mordent", False, f"{GEHRKENS} §66"),
    ("turn", "turn", True, f"{GEHRKENS} §69"),
    ("turn", "gruppetto", True, "common practice"),
    ("turn", "inverted turn", False, f"{GEHRKENS} §72"),
    ("inverted-turn", "inverted turn", True, f"{GEHRKENS} §72"),
    ("acciaccatura", "acciaccatura", True, f"{GEHRKENS} §75: the stroke"),
    ("acciaccatura", "appoggiatura", False, f"{GEHRKENS} §74"),
    ("appoggiatura", "appoggiatura", True, f"{GEHRKENS} §74"),
]
# fmt: on


@pytest.mark.parametrize("sign, name, right, source", CASES)
def test_published_names(sign: str, name: str, right: bool, source: str) -> None:
    answers = KIND.solve(OrnamentName(sign, ROW))
    assert any(compare(Value(words=name), one.value[0], KIND.marking).same for one in answers) is right, source


def test_slips_of_the_catalogue() -> None:
    """Upper and lower mordent swapped; the stroke of the small note overlooked."""
    swapped = "upper and lower mordent swapped"
    assert slip_texts("ornament-name", OrnamentName("mordent", ROW))[swapped] == "upper mordent"
    assert slip_texts("ornament-name", OrnamentName("upper-mordent", ROW))[swapped] == "lower mordent"
    assert slip_texts("ornament-name", OrnamentName("acciaccatura", ROW))["stroke overlooked"] == "appoggiatura"


def test_no_slip_names_what_the_level_has_not_met() -> None:
    """The inverted turn is met at level 5."""
    assert "inverted turn" in slip_texts("ornament-name", OrnamentName("turn", ROW, "treble", 5)).values()
    assert "inverted turn" not in slip_texts("ornament-name", OrnamentName("turn", ROW, "treble", 4)).values()


@pytest.mark.parametrize("sign, name, right, source", CASES[:3])
def test_the_sign_is_printed_on_the_note(sign: str, name: str, right: bool, source: str) -> None:
    block = KIND.pose(OrnamentName(sign, ROW), Wording("words")).blocks[1]
    assert isinstance(block, StaveBlock)
    assert [note.marks for note in score_of(block.score).notes()] == [(), (sign,), ()]


def test_every_ornament_of_a_level_is_asked() -> None:
    asked = {grade: {draft.facts.sign for g, draft in drafts("ornament-name", 150) if g == grade} for grade in (4, 5)}
    assert asked[5] - asked[4] == {"inverted-turn"}
    assert len(asked[5]) == 7
    assert texts("ornament-name", OrnamentName("turn", ROW))[0] == "turn"


def test_a_sign_that_is_no_ornament_is_refused() -> None:
    with pytest.raises(BadDocument, match="no sign of an ornament"):
        OrnamentName("staccato", ROW)


def test_every_rule_of_kinds() -> None:
    keeps_the_rules("ornament-name")
