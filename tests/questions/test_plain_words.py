"""What is said to pupils is plain English: counts agree with their nouns, articles with their words."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from questions.asking_many import drafts
from stavewright.questions.catalogue import kind as kind_of
from stavewright.questions.catalogue import kinds
from stavewright.questions.documents import TextBlock
from stavewright.questions.wording import Wording
from stavewright.tunes.composed import ComposedMelodies

TOPICS = ("keys", "scales", "intervals", "chords")
CLUMSY = {
    "a count and its noun": r"\b1 (semitones|notes|sharps|flats|letters|bars|marks|quavers|crotchets|minims)\b",
    "a verb for several": r"\bare (1|one) semitone\b",
    "a before a vowel": r"\ba [aeio][a-z]+(?<!\ba one)|\ba (8|11|18)(th)?\b",
    "an before a consonant": r"\b[Aa]n [bcdfgjklmnpqrstvwxz][a-z]+",
    "a word twice": r"\b(the|a|is|of|to|and) \1\b",
    "no full sentence end": r"\.\.|,\.|\s\.|;\.",
}


def said_in(kind_id: str, count: int) -> Iterator[str]:
    """All sentences of a kind's questions: prompts in both editions, reasons, remedies, steps by every method."""
    kind = kind_of(kind_id)
    if kind.extract:
        return
    for _, draft in drafts(kind_id, count, melodies=ComposedMelodies()):
        facts = draft.facts
        for form in dict.fromkeys(kind.forms.values()):
            yield from (b.text for b in kind.pose(facts, Wording(form)).blocks if isinstance(b, TextBlock))
        yield from (one.reason for one in kind.solve(facts))
        yield from (one.remedy for one in kind.slips(facts))
        for method in kind.methods:
            yield from (step.text for step in kind.work(facts, method))


@pytest.mark.parametrize("kind_id", sorted(one for one in kinds() if kind_of(one).topic in TOPICS))
def test_every_sentence_is_plain_english(kind_id: str) -> None:
    """No "1 semitones", no "a augmented 4th"."""
    american = Wording("words", "us")
    for text in said_in(kind_id, 25):
        for said in {text, american.say(text)}:
            for fault, pattern in CLUMSY.items():
                assert not re.search(pattern, said), f"{fault}: {said}"
