"""The examiner's chair: a perfect marker gets everything, a careless one what was found, and nothing is given away."""

from __future__ import annotations

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from stavewright.marking.chair import Chair, Findings, Judged, assess, plant, set_chair
from stavewright.marking.errors import BadScript, WrongPaper
from stavewright.marking.whole_script import mark_script
from stavewright.papers.documents import Paper, Script, Section
from stavewright.questions.asking import full
from stavewright.services.set_questions import set_questions
from stavewright.wiring import composed_melodies

KINDS = ("degree-number", "name-the-note", "time-signature-meaning", "write-the-scale")


def _paper() -> Paper:
    made = [
        full(one)
        for kind in KINDS
        for one in set_questions(
            kind=kind, grade=3, edition="written", count=3, seed=70, melodies=composed_melodies()
        )
    ]
    total = sum(one.marks for one in made)
    return Paper(
        id="mixed", grade=3, edition="written", seed=70, words="uk", total=total, time_minutes=15,
        sections=(Section(None, "Mixed", tuple(made)),),
    )  # fmt: skip


PAPER = _paper()
SCRIPT = plant(PAPER, share=0.5, seed=2)
CHAIR = set_chair(PAPER, SCRIPT, seed=2)
REPORT = {one.id: one for one in mark_script(PAPER, SCRIPT).questions}
WRONG = [id_ for id_, one in REPORT.items() if one.marks < one.of]


def _letter(id_: str) -> str:
    """The letter of the slip that the marker recognises."""
    names = next(one.names for one in CHAIR.questions if one.id == id_)
    return next(letter for letter, name in names.items() if name == REPORT[id_].slip)


def _perfect() -> dict[str, Judged]:
    return {id_: Judged(right=False, slip=_letter(id_)) if id_ in WRONG else Judged(right=True) for id_ in REPORT}


def test_every_wrong_answer_of_the_script_comes_from_a_named_slip() -> None:
    assert 2 <= len(WRONG) <= 10
    assert all(REPORT[id_].slip for id_ in WRONG)


def test_a_perfect_marker_gets_full_marks() -> None:
    found = assess(PAPER, CHAIR, Findings(CHAIR.id, _perfect()))
    assert (found.total, found.of) == (2 * len(WRONG), 2 * len(WRONG))
    assert found.found == found.named == found.wrong == len(WRONG)


def test_passing_everything_gets_nothing_and_is_told_what_was_missed() -> None:
    found = assess(PAPER, CHAIR, Findings(CHAIR.id, {}))
    assert found.total == 0
    missed = [one for one in found.questions if one.outcome == "missed"]
    assert [one.id for one in missed] == WRONG
    assert all(REPORT[one.id].right in one.note and str(REPORT[one.id].slip) in one.note for one in missed)


def test_calling_everything_wrong_earns_less_than_marking_well() -> None:
    """A false alarm takes one mark back, so that calling all answers wrong is no way to marks."""
    all_wrong = {id_: Judged(right=False) for id_ in REPORT}
    found = assess(PAPER, CHAIR, Findings(CHAIR.id, all_wrong))
    assert found.false_alarms == len(REPORT) - len(WRONG)
    assert found.total == max(0, len(WRONG) - found.false_alarms)


@given(st.sampled_from(WRONG))
def test_a_slip_wrongly_named_earns_the_finding_alone(id_: str) -> None:
    """One mark for finding, one more for the name."""
    names = next(one.names for one in CHAIR.questions if one.id == id_)
    other = next(letter for letter in names if letter != _letter(id_))
    found = assess(PAPER, CHAIR, Findings(CHAIR.id, _perfect() | {id_: Judged(right=False, slip=other)}))
    assert found.total == 2 * len(WRONG) - 1


def test_what_is_offered_does_not_say_what_is_wrong() -> None:
    """Right and wrong answers alike are offered names, as many of each; the document has no verdicts."""
    counts = {len(one.names) for one in CHAIR.questions}
    assert counts == {4}
    stored = msgspec.json.decode(msgspec.json.encode(CHAIR), type=Chair)
    assert set(msgspec.to_builtins(stored)) == {"id", "script", "seed", "questions"}
    assert all(set(one) == {"id", "names"} for one in msgspec.to_builtins(stored)["questions"])


def test_a_question_or_a_letter_that_was_not_offered_is_refused_all_at_once() -> None:
    strange = Findings(CHAIR.id, {"q-99": Judged(right=False), WRONG[0]: Judged(right=False, slip="z")})
    with pytest.raises(BadScript, match=r"q-99[\s\S]*no slip 'z'"):
        assess(PAPER, CHAIR, strange)
    with pytest.raises(WrongPaper):
        assess(PAPER, CHAIR, Findings("another", {}))


def test_an_empty_script_has_nothing_to_mark() -> None:
    with pytest.raises(BadScript, match="empty"):
        set_chair(PAPER, Script("mixed", {}))


def test_a_share_of_nothing_still_hides_one_slip() -> None:
    report = mark_script(PAPER, plant(PAPER, share=0.0))
    assert sum(one.marks < one.of for one in report.questions) == 1
