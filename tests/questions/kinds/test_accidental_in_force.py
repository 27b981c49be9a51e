"""What a note sounds after signature, earlier signs, bar lines and ties."""

from __future__ import annotations

from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.questions.asking import agree
from stavewright.questions.errors import BadDocument, Disagreement
from stavewright.questions.kinds.accidental_in_force import KIND, AccidentalInForce
from stavewright.questions.setting.signs_in_bars import SITUATIONS, two_bars
from stavewright.questions.solving.in_force import misread
from stavewright.questions.written import Written
from stavewright.syllabus.scope import scope_for
from stavewright.theory.accidental import WrittenNote, sounding
from stavewright.theory.key import ALL_KEYS

GEHRKENS = "Gehrkens, Music Notation and Terminology (1914)"
F4, F5, G4, B4, A4 = 1, 8, 2, 4, 3  # places under the treble clef


def w(place: int, sign: str | None = None, *, tie: bool = False) -> Written:
    return Written(place, sign, tie)


# fmt: off
# fifths, bars, (bar, note), name, source
CASES = [
    (0, ((w(F4, "sharp"), w(G4), w(F4)),), (1, 3), "F sharp", f"{GEHRKENS} §24: a sign holds to the end of its bar"),
    (0, ((w(F4, "sharp"), w(G4)), (w(F4),)), (2, 1), "F", f"{GEHRKENS} §24: and no further"),
    (0, ((w(F4, "sharp"), w(F5)),), (1, 2), "F", f"{GEHRKENS} §24: on its own place only; D19"),
    (0, ((w(F4, "sharp", tie=True),), (w(F4), w(F4))), (2, 1), "F sharp", f"{GEHRKENS} §25: a tie carries it over"),
    (0, ((w(F4, "sharp", tie=True),), (w(F4), w(F4))), (2, 2), "F", f"{GEHRKENS} §25: into the tied note only"),
    (2, ((w(G4), w(F5)),), (1, 2), "F sharp", f"{GEHRKENS} §83: D major has F sharp and C sharp, in every octave"),
    (-1, ((w(B4), w(A4)),), (1, 1), "B flat", f"{GEHRKENS} §83: F major has B flat"),
    (-1, ((w(B4, "natural"), w(B4)), (w(B4),)), (1, 2), "B", f"{GEHRKENS} §24: the natural cancels, to the bar line"),
    (-1, ((w(B4, "natural"), w(B4)), (w(B4),)), (2, 1), "B flat", f"{GEHRKENS} §24: then the signature is back"),
    (4, ((w(F4, "double-sharp"), w(F4)),), (1, 2), "F double sharp", f"{GEHRKENS} §26: a double sharp"),
    (-5, ((w(B4, "flat-flat"), w(A4), w(B4)),), (1, 3), "B double flat", f"{GEHRKENS} §26: a double flat"),
]
# fmt: on


@pytest.mark.parametrize("fifths, bars, asked, name, source", CASES)
def test_published_rules(
    fifths: int, bars: tuple[tuple[Written, ...], ...], asked: tuple[int, int], name: str, source: str
) -> None:
    assert texts("accidental-in-force", AccidentalInForce("treble", fifths, bars, *asked))[0] == name, source


def test_a_natural_may_be_named_in_full() -> None:
    """Common practice."""
    facts = AccidentalInForce("treble", 1, ((w(F4, "natural"),),), 1, 1)
    assert texts("accidental-in-force", facts) == ["F", "F natural"]


def test_every_slip_is_its_own_wrong_rule() -> None:
    """Worked by hand in D major: F natural tied over, then F4 again (F sharp by the signature)."""
    facts = AccidentalInForce("treble", 2, ((w(F4, "natural", tie=True),), (w(F4), w(F4))), 2, 2)
    assert texts("accidental-in-force", facts) == ["F sharp"]
    assert slip_texts("accidental-in-force", facts) == {
        "forgot the signature": "F",
        "carried past the bar line": "F",
        "carried to another octave": "F sharp",
        "forgot the earlier sign": "F sharp",
        "let the bar line cut the tie": "F sharp",
        "carried on after the tie": "F",
        "named the letter alone": "F",
    }
    tied = AccidentalInForce("treble", 2, ((w(F4, "natural", tie=True),), (w(F4),)), 2, 1)
    assert slip_texts("accidental-in-force", tied)["let the bar line cut the tie"] == "F sharp"
    apart = AccidentalInForce("treble", 0, ((w(F4, "sharp"), w(F5)),), 1, 2)
    assert slip_texts("accidental-in-force", apart)["carried to another octave"] == "F sharp"
    again = AccidentalInForce("treble", 0, ((w(F4, "sharp"), w(F4)),), 1, 2)
    assert slip_texts("accidental-in-force", again)["forgot the earlier sign"] == "F"


def test_the_reason_says_what_decides() -> None:
    def reason(*bars: tuple[Written, ...], fifths: int = 0, asked: tuple[int, int]) -> str:
        return KIND.solve(AccidentalInForce("treble", fifths, bars, *asked))[0].reason

    assert "tie" in reason((w(F4, "sharp", tie=True),), (w(F4),), asked=(2, 1))
    assert "earlier sign" in reason((w(F4, "sharp"), w(F4)), asked=(1, 2))
    assert "right before" in reason((w(F4, "sharp"),), asked=(1, 1))
    assert "every F is F sharp" in reason((w(F5),), fifths=1, asked=(1, 1))


def test_facts_that_make_no_sense_are_refused() -> None:
    with pytest.raises(BadDocument, match="bar 1 has no note 2"):
        AccidentalInForce("treble", 0, ((w(F4),),), 1, 2)
    with pytest.raises(BadDocument, match="a tie joins"):
        AccidentalInForce("treble", 0, ((w(F4, tie=True), w(G4)),), 1, 1)


written = st.builds(
    Written, st.integers(0, 9), st.none() | st.sampled_from(("sharp", "flat", "natural", "double-sharp", "flat-flat"))
)


@settings(max_examples=100, deadline=None)
@given(st.lists(st.lists(written, min_size=1, max_size=4), min_size=1, max_size=3), st.integers(-7, 7))
def test_with_no_rule_forgotten_the_misreading_reads_right(bars: list[list[Written]], fifths: int) -> None:
    """The slips leave one rule out each; leaving none out is the theory's own reading."""
    right = sounding([[WrittenNote(30 + one.place, one.accidental) for one in bar] for bar in bars], fifths)
    assert misread(bars, "treble", fifths) == tuple(tuple(pitch.alter for pitch in bar) for bar in right)


@pytest.mark.parametrize("situation", SITUATIONS)
def test_the_setter_knows_what_it_makes(situation: str) -> None:
    """Double entry in every situation and key: the name by construction is the one the signs give."""
    made = 0
    for key in ALL_KEYS:
        for seed in range(6):
            rows = two_bars(scope_for(5), Random(seed), "alto", key.fifths, situation)
            if rows is None:
                continue
            made += 1
            bars, bar, note, name = rows
            assert texts("accidental-in-force", AccidentalInForce("alto", key.fifths, bars, bar, note))[0] == name.text
    assert made > 50


def test_a_setter_that_forgets_the_bar_line_is_caught() -> None:
    """A planted fault: the setter believes that the sign of bar 1 still holds."""
    draft = next(
        draft
        for seed in range(200)
        if (draft := KIND.set(scope_for(3), Random(seed), None, None)) is not None
        and slip_texts("accidental-in-force", draft.facts)["carried past the bar line"] != draft.expected
    )
    wrong = slip_texts("accidental-in-force", draft.facts)["carried past the bar line"]
    with pytest.raises(Disagreement):
        agree(KIND, type(draft)(draft.facts, wrong), KIND.solve(draft.facts))


def test_every_rule_of_kinds() -> None:
    keeps_the_rules("accidental-in-force")


@pytest.mark.parametrize(
    "bars, asked, why",
    [
        (((w(F4, "sharp"), w(G4)), (w(F4),)), (2, 1), "The sign on this letter ended at the bar line"),
        (((w(F4, "sharp"), w(F5)),), (1, 2), "The sign on this letter in this bar holds in another octave only"),
        (((w(G4, "sharp"), w(F5)),), (1, 2), "No sign before it is on this letter"),
        (((w(F4, "sharp"),), (w(F4, "flat"), w(F5))), (2, 2), "The signs on this letter are in another bar or octave"),
    ],
)
def test_the_working_says_why_a_sign_does_not_reach(
    bars: tuple[tuple[Written, ...], ...], asked: tuple[int, int], why: str
) -> None:
    """Gehrkens, Music Notation and Terminology (1914) §24; all cases were told by one vague sentence."""
    steps = [step.text for step in KIND.work(AccidentalInForce("treble", 0, bars, *asked), "usual")]
    assert f"{why}, so it stays F." in steps


def test_a_cancelled_sign_is_a_slip_of_its_own() -> None:
    """Gehrkens, Music Notation and Terminology (1914) §24: the natural cancels; a pupil may still hear the flat."""
    facts = AccidentalInForce("treble", 0, ((w(A4, "flat"), w(A4, "natural"), w(A4)),), 1, 3)
    assert slip_texts("accidental-in-force", facts)["went by a cancelled sign"] == "A flat"
    one_sign = AccidentalInForce("treble", 0, ((w(A4, "flat"), w(G4), w(A4)),), 1, 3)
    assert "went by a cancelled sign" not in slip_texts("accidental-in-force", one_sign)
