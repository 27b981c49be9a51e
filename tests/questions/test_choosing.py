"""Options to choose from: no pattern of them tells which is right."""

from __future__ import annotations

from random import Random

from stavewright.questions.catalogue import kind
from stavewright.questions.choosing import choice
from stavewright.questions.kinds.name_the_signature import NameTheSignature
from stavewright.questions.wording import Wording


def test_the_right_one_is_not_always_between_its_neighbours() -> None:
    """One sign fewer and one more do not always stand beside the right key: else its place would tell it."""
    made = kind("name-the-signature")
    facts = NameTheSignature("treble", 2, "major")
    sets = set()
    for seed in range(20):
        form = choice(made, facts, made.solve(facts), made.slips(facts), Random(seed), Wording("choice"))
        assert form is not None
        sets.add(frozenset(option.text for option in form.options))
    between = {"G major", "D major", "A major"}
    assert any(not between <= one for one in sets)
    assert all("D major" in one for one in sets)
