"""How many of one value last as long as another."""

from __future__ import annotations

from random import Random

import msgspec
import music21
import pytest

from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.questions.asking import ask
from stavewright.questions.documents import TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kinds.how_many_in import KIND, HowManyIn
from stavewright.questions.wording import Wording
from stavewright.syllabus.scope import scope_for

GEHRKENS = "Gehrkens, Music Notation and Terminology (1914)"
AMERICAN = {"breve": "breve", "semibreve": "whole", "minim": "half", "crotchet": "quarter", "quaver": "eighth"}
AMERICAN |= {"semiquaver": "16th", "demisemiquaver": "32nd"}


@pytest.mark.parametrize(
    "facts, count, source",
    [
        (HowManyIn("crotchet", "minim"), 2, f"{GEHRKENS} §1: each value is half of the one before"),
        (HowManyIn("quaver", "semibreve"), 8, f"{GEHRKENS} §1"),
        (HowManyIn("semiquaver", "crotchet"), 4, f"{GEHRKENS} §1"),
        (HowManyIn("crotchet", "minim", 0, 1), 3, f"{GEHRKENS} §49: a dotted minim is three crotchets"),
        (HowManyIn("quaver", "minim", 0, 1), 6, f"{GEHRKENS} §49"),
        (HowManyIn("semiquaver", "crotchet", 0, 2), 7, f"{GEHRKENS} §51: two dots, seven quarters"),
        (HowManyIn("crotchet", "minim", 1, 1), 2, "common practice: both dotted alike"),
        (HowManyIn("quaver", "minim", 1, 1), 4, "common practice"),
        (HowManyIn("quaver", "semibreve", 1, 1), 8, "common practice"),
        (HowManyIn("crotchet", "breve", 1, 1), 8, "common practice"),
    ],
)
def test_published_counts(facts: HowManyIn, count: int, source: str) -> None:
    assert texts("how-many-in", facts) == [str(count)], source


def test_slips() -> None:
    """Worked by hand: quavers in a dotted minim, six; in a semibreve, eight."""
    assert slip_texts("how-many-in", HowManyIn("quaver", "minim", 0, 1)) == {
        "dot ignored": "4",
        "dot taken as one more": "5",
        "dot doubled the note": "8",
        "counted the steps": "2",
        "added two for each step": "4",
        "one step too few": "3",
        "one step too many": "12",
    }
    plain = slip_texts("how-many-in", HowManyIn("quaver", "semibreve"))
    assert "dot ignored" not in plain
    assert plain["counted the steps"] == "3"


def test_counts_that_do_not_come_out_even_are_refused() -> None:
    for facts in (
        ("minim", "crotchet"),
        ("crotchet", "crotchet"),
        ("minim", "minim", 0, 1),
        ("crotchet", "minim", 1, 0),
    ):
        with pytest.raises(BadDocument, match="not an exact number"):
            HowManyIn(*facts)


def test_dots_are_asked_in_training_only() -> None:
    """The catalogue keeps dots out of papers: only a scope whose teacher says so asks them."""
    for grade in (1, 3, 5):
        assert not any(KIND.set(scope_for(grade), Random(s), None, None).facts.whole_dots for s in range(200))
    training = msgspec.structs.replace(scope_for(1), dotted_counts=True)
    drafts = [KIND.set(training, Random(seed), None, None) for seed in range(300)]
    assert {draft.facts.whole_dots for draft in drafts} == {0, 1}
    for draft in drafts:
        assert ask(KIND, draft, id="q", grade=1, edition="on-screen", seed=1) is not None
    assert KIND.pool(training) == len({draft.facts for draft in drafts})


def test_american_words() -> None:
    block = KIND.pose(HowManyIn("quaver", "minim", 0, 1), Wording("number", "us")).blocks[0]
    assert isinstance(block, TextBlock)
    assert block.text == "How many eighth notes last as long as one dotted half note?"


def test_the_working_counts_step_by_step() -> None:
    said = [step.text for step in KIND.work(HowManyIn("quaver", "minim", 0, 1), "usual")]
    assert said[:2] == ["1 minim = 2 crotchets = 4 quavers.", "The dot adds half of that: 2 more, 6 in all."]
    said = [step.text for step in KIND.work(HowManyIn("quaver", "semibreve", 1, 1), "usual")]
    assert said[1] == "1 semibreve = 2 minims = 4 crotchets = 8 quavers."
    said = [step.text for step in KIND.work(HowManyIn("crotchet", "breve", 1, 1), "usual")]
    assert said[-1].startswith("Check: play or tap 8 dotted crotchets")
    assert KIND.work(HowManyIn("quaver", "minim", 1, 1), "usual")


def test_an_outside_library_divides_alike() -> None:
    training = msgspec.structs.replace(scope_for(4), dotted_counts=True)
    for seed in range(200):
        facts = KIND.set(training, Random(seed), None, None).facts
        part = music21.duration.Duration(type=AMERICAN[facts.part], dots=facts.part_dots)
        whole = music21.duration.Duration(type=AMERICAN[facts.whole], dots=facts.whole_dots)
        assert texts("how-many-in", facts) == [str(int(whole.quarterLength / part.quarterLength))]


def test_every_rule_of_kinds() -> None:
    keeps_the_rules("how-many-in")
