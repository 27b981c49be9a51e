"""Name the key of a signature."""

from __future__ import annotations

import music21
import pytest

from questions.asking_many import answer_words, asked, drafts, slip_words
from questions.rules_of_kinds import keeps_the_rules
from stavewright.questions.catalogue import kind
from stavewright.questions.kinds.name_the_signature import KIND, NameTheSignature
from stavewright.syllabus.scope import scope_for

# Gehrkens, Music Notation and Terminology (1914) §83 (majors) and §88-89 (relative minors).
PLATES = [
    (0, "major", "C major"), (1, "major", "G major"), (4, "major", "E major"), (6, "major", "F sharp major"),
    (-1, "major", "F major"), (-3, "major", "E flat major"), (-5, "major", "D flat major"),
    (-6, "major", "G flat major"),
    (0, "minor", "A minor"), (2, "minor", "B minor"), (4, "minor", "C sharp minor"), (5, "minor", "G sharp minor"),
    (-2, "minor", "G minor"), (-4, "minor", "F minor"), (-5, "minor", "B flat minor"),
]  # fmt: skip


@pytest.mark.parametrize("fifths, mode, text", PLATES)
def test_the_plates(fifths, mode, text):
    assert answer_words("name-the-signature", NameTheSignature("treble", fifths, mode))[0] == text


def test_the_letter_alone_is_enough():
    assert answer_words("name-the-signature", NameTheSignature("bass", 3, "minor")) == ["F sharp minor", "F sharp"]


def test_every_slip():
    # Common practice: the mistakes are those of the catalogue row, worked by hand for B minor (two sharps).
    assert slip_words("name-the-signature", NameTheSignature("treble", 2, "minor")) == {
        "named the major tonic": "D minor",
        "one sign too few": "E minor",
        "one sign too many": "F sharp minor",
        "named the last sign": "C sharp minor",
        "sharps and flats mixed": "G minor",
        "relative swapped": "D major",
    }


def test_a_signature_of_nothing_has_words_of_its_own():
    """With no signs there are none to miscount or to say in order (common practice)."""
    slips = slip_words("name-the-signature", NameTheSignature("treble", 0, "major"))
    assert slips["took it for one flat"] == "F major"
    assert slips["took it for one sharp"] == "G major"
    assert "one sign too few" not in slips
    assert "white keys" in KIND.work(NameTheSignature("treble", 0, "minor"), "usual")[-1].text


def test_no_key_beyond_seven_signs_is_offered():
    assert "one sign too many" not in slip_words("name-the-signature", NameTheSignature("bass", -7, "major"))


@pytest.mark.parametrize("method", KIND.methods)
def test_both_methods_reach_the_key(method):
    for fifths in range(-7, 8):
        for mode in ("major", "minor"):
            facts = NameTheSignature("alto", fifths, mode)
            text = answer_words("name-the-signature", facts)[0]
            steps = KIND.work(facts, method)
            assert 2 <= len(steps) <= 6
            tonic = text.rsplit(" ", 1)[0]
            assert any(tonic in step.text for step in steps[1:-1]), (fifths, mode, method)


def test_music21_names_the_same_keys():
    for _, draft in drafts("name-the-signature", 60):
        facts = draft.facts
        named = music21.key.KeySignature(facts.fifths).asKey(facts.mode)
        letter, sign = named.tonic.step, {-1: " flat", 0: "", 1: " sharp"}[int(named.tonic.alter)]
        assert answer_words("name-the-signature", facts)[0] == f"{letter}{sign} {facts.mode}"


def test_questions_are_fair_and_stay_in_scope():
    count = 0
    for _, draft, question in asked("name-the-signature"):
        count += 1
        keys = {(key.fifths, key.mode) for key in scope_for(question.grade).keys}
        assert (draft.facts.fifths, draft.facts.mode) in keys
    assert count == 40 * 5 * 2


def test_the_pool_counts_what_can_be_set():
    scope = scope_for(2)
    found = {repr(draft.facts) for _, draft in drafts("name-the-signature", 800, grades=(2,))}
    assert kind("name-the-signature").pool(scope) == len(found)


def test_the_rules_of_all_kinds():
    keeps_the_rules("name-the-signature")
