"""Voices: their order, clefs in open and short score, and ranges."""

from __future__ import annotations

import pytest

from questions.asking_many import asked
from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.questions.documents import ChoiceForm, OrderForm
from stavewright.questions.errors import BadDocument
from stavewright.questions.kinds.voices import KIND, VoicesFacts

GEHRKENS = "Gehrkens, Music Notation and Terminology (1914), Appendix B"


def test_published_orders() -> None:
    """Gehrkens, Music Notation and Terminology (1914), Appendix B: six voices by their ranges."""
    six = ("tenor", "mezzo-soprano", "bass", "soprano", "baritone", "alto")
    assert texts("voices", VoicesFacts("order", among=six)) == ["soprano, mezzo-soprano, alto, tenor, baritone, bass"]
    assert texts("voices", VoicesFacts("order", among=("alto", "bass", "soprano", "tenor"), rising=True)) == [
        "bass, tenor, alto, soprano"
    ]


# fmt: off
# voice, up?, the next one, source
NEXT = [
    ("soprano", False, "mezzo-soprano", GEHRKENS),
    ("mezzo-soprano", False, "alto", GEHRKENS),
    ("tenor", True, "alto", GEHRKENS),
    ("bass", True, "baritone", GEHRKENS),
]
# voice, score, clef
CLEFS = [
    ("soprano", "open", "treble clef"), ("alto", "open", "treble clef"), ("tenor", "open", "treble clef"),
    ("bass", "open", "bass clef"), ("tenor", "short", "bass clef"), ("alto", "short", "treble clef"),
]
# lowest and highest note, voice
RANGES = [("C4", "A5", "soprano"), ("F3", "D5", "alto"), ("C3", "A4", "tenor"), ("E2", "C4", "bass")]
# fmt: on


@pytest.mark.parametrize("name, rising, right, source", NEXT)
def test_the_next_voice(name: str, rising: bool, right: str, source: str) -> None:
    assert texts("voices", VoicesFacts("next", name, rising=rising)) == [right], source


@pytest.mark.parametrize("name, score, clef", CLEFS)
def test_clefs_in_a_score(name: str, score: str, clef: str) -> None:
    """Common practice: the tenor reads the treble clef on a stave of its own, the bass clef on two staves."""
    assert texts("voices", VoicesFacts("clef", name, score=score)) == [clef]


@pytest.mark.parametrize("low, high, name", RANGES)
def test_ranges_as_taught(low: str, high: str, name: str) -> None:
    """Common practice (within Gehrkens, Appendix B, by a third at the ends)."""
    assert texts("voices", VoicesFacts("range", notes=(low, high))) == [name]


def test_slips_of_the_catalogue() -> None:
    """Mezzo and alto swapped."""
    three = VoicesFacts("order", among=("alto", "soprano", "mezzo-soprano"))
    assert slip_texts("voices", three) == {
        "mezzo-soprano and alto swapped": "soprano, alto, mezzo-soprano",
        "neighbours swapped": "mezzo-soprano, soprano, alto",
        "began at the wrong end": "alto, mezzo-soprano, soprano",
    }
    assert slip_texts("voices", VoicesFacts("next", "alto", rising=True)) == {
        "mixed up two neighbours": "soprano",
        "went the other way": "tenor",
        "forgot one of the voices between": "baritone",
    }
    assert slip_texts("voices", VoicesFacts("clef", "tenor", score="open"))["took the other score for it"] == (
        "bass clef"
    )
    assert slip_texts("voices", VoicesFacts("range", notes=("C3", "A4")))["mixed up two neighbours"] == "alto"


def test_orders_are_written_and_picked() -> None:
    """On paper the voices are put in order; on screen whole orders are offered, one of them right."""
    forms = {}
    for _, draft, question in asked("voices", 60):
        if draft.facts.ask == "order":
            forms[question.edition] = type(question.response[0])
            if isinstance(question.response[0], ChoiceForm):
                right = texts("voices", draft.facts)[0]
                assert sum(option.text == right for option in question.response[0].options) == 1
    assert forms == {"written": OrderForm, "on-screen": ChoiceForm}


def test_questions_without_an_answer_are_refused() -> None:
    for broken in ({"ask": "next", "name": "bass"}, {"ask": "order", "among": ("alto", "contralto", "bass")}):
        with pytest.raises(BadDocument, match="no such question"):
            VoicesFacts(**broken)
    with pytest.raises(BadDocument, match="no such question"):
        VoicesFacts("range", notes=("C4", "C6"))
    with pytest.raises(BadDocument, match="no such question"):
        VoicesFacts("clef", "tenor", score="long")


def test_every_rule_of_kinds() -> None:
    assert KIND.topic == "instruments"
    keeps_the_rules("voices")
