"""The relative major or minor of a key."""

from __future__ import annotations

import music21
import pytest

from questions.asking_many import answer_words, asked, drafts, slip_words
from questions.rules_of_kinds import keeps_the_rules
from stavewright.questions.catalogue import kind
from stavewright.questions.comparing import compare
from stavewright.questions.kind import Marking
from stavewright.questions.kinds.relative_key import KIND, RelativeKey
from stavewright.questions.values import Value
from stavewright.syllabus.scope import scope_for

# Gehrkens, Music Notation and Terminology (1914) §88-89: the relative minors.
PAIRS = [
    ("C major", "A minor"), ("G major", "E minor"), ("D major", "B minor"), ("A major", "F sharp minor"),
    ("E major", "C sharp minor"), ("B major", "G sharp minor"), ("F major", "D minor"), ("B flat major", "G minor"),
    ("E flat major", "C minor"), ("A flat major", "F minor"), ("D flat major", "B flat minor"),
]  # fmt: skip


@pytest.mark.parametrize("major, minor", PAIRS)
def test_the_pairs_both_ways(major, minor):
    assert answer_words("relative-key", RelativeKey(major, "key"))[0] == minor
    assert answer_words("relative-key", RelativeKey(minor, "key"))[0] == major


def test_the_signature_may_be_said_in_several_ways():
    facts = RelativeKey("A major", "signature")
    assert answer_words("relative-key", facts)[0] == "3 sharps"
    accepted = [one.value[0] for one in KIND.solve(facts)]
    for words in (
        "three sharps", "F# and C# and G#", "F sharp, C sharp, G sharp", "3 sharps", "F#, C# & G#", "3 sharps: F, C, G",
        "3 sharps (F#, C#, G#)", "three sharps, F, C and G", "F sharp, C sharp and G sharp",
    ):  # fmt: skip
        said = Value(words=words)
        assert any(compare(said, one, Marking()).same for one in accepted), words
    for words in ("3 flats", "F, C, G", "3 sharps: F, C, D", "F# and C#"):
        assert not any(compare(Value(words=words), one, Marking()).same for one in accepted), words
    assert answer_words("relative-key", RelativeKey("A minor", "signature"))[:2] == ["no sharps or flats", "none"]


def test_every_slip():
    # Worked by hand for B flat major, two flats, relative minor G minor.
    assert slip_words("relative-key", RelativeKey("B flat major", "key")) == {
        "parallel for relative": "B flat minor",
        "counted the wrong way": "C sharp minor",
        "a semitone too far": "F sharp minor",
        "signature miscounted": "C minor",
    }
    assert slip_words("relative-key", RelativeKey("G major", "signature")) == {
        "signature of the relative's own parallel": "4 sharps",
        "parallel for relative": "2 flats",
        "sharps and flats mixed": "1 flat",
        "one sign too few": "no sharps or flats",
        "one sign too many": "2 sharps",
    }


def test_music21_finds_the_same_relatives():
    for _, draft in drafts("relative-key", 60):
        if draft.facts.ask == "key":
            tonic, _, mode = draft.facts.key.rpartition(" ")
            letter = tonic.replace(" sharp", "#").replace(" flat", "-")
            other = music21.key.Key(letter, mode).relative
            sign = {-1: " flat", 0: "", 1: " sharp"}[int(other.tonic.alter)]
            assert draft.expected == f"{other.tonic.step}{sign} {other.mode}"


def test_grade_two_asks_three_pairs_only():
    asked_of = {draft.facts.key for _, draft in drafts("relative-key", 200, grades=(2,))}
    assert asked_of == {"C major", "A minor", "G major", "E minor", "F major", "D minor"}


def test_grade_one_asks_none():
    from random import Random

    assert KIND.set(scope_for(1), Random("a"), None, None) is None


@pytest.mark.parametrize("method", KIND.methods)
def test_the_working_ends_in_the_answer(method):
    for major, minor in PAIRS:
        steps = KIND.work(RelativeKey(major, "key"), method)
        assert minor in steps[-2].text
        steps = KIND.work(RelativeKey(minor, "signature"), method)
        assert any(major in step.text for step in steps)


def test_questions_are_fair():
    assert sum(1 for _ in asked("relative-key")) == 40 * 4 * 2


def test_the_pool_counts_what_can_be_set():
    found = {repr(draft.facts) for _, draft in drafts("relative-key", 600, grades=(3,))}
    assert kind("relative-key").pool(scope_for(3)) == len(found)


def test_the_rules_of_all_kinds():
    keeps_the_rules("relative-key")
