"""What is said to pupils is plain English: counts agree with their nouns, articles with their words."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest

from questions.asking_many import drafts
from stavewright.questions.asking import full
from stavewright.questions.catalogue import kind as kind_of
from stavewright.questions.catalogue import kinds
from stavewright.questions.documents import ChoiceForm, TextBlock
from stavewright.questions.wording import Wording
from stavewright.services.set_questions import set_questions
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


def said_in(kind_id: str, count: int, grades: tuple[int, ...] = (1, 2, 3, 4, 5)) -> Iterator[str]:
    """All sentences of a kind's questions: prompts in both editions, reasons, remedies, steps by every method."""
    kind = kind_of(kind_id)
    if kind.extract:
        return
    for _, draft in drafts(kind_id, count, grades=grades, melodies=ComposedMelodies()):
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


@pytest.mark.parametrize(
    "kind_id", sorted(one for one in kinds() if kind_of(one).topic in TOPICS and kind_of(one).since == 1)
)
def test_nothing_is_said_of_minor_keys_before_they_are_taught(kind_id: str) -> None:
    """Grade 1 knows major keys only: no prompt, option or step of the working speaks of minor ones."""
    minor = re.compile(r"\bminor\b|\bmelodic\b|\bharmonic\b|raised 7th")
    for question in set_questions(
        kind=kind_id, grade=1, edition="on-screen", count=25, seed=1, melodies=ComposedMelodies()
    ):
        form = question.response[0]
        options = [option.text for option in form.options] if isinstance(form, ChoiceForm) else []
        prompt = [block.text for block in question.prompt if isinstance(block, TextBlock)]
        steps = [step.text for step in full(question).working]
        for text in (*options, *prompt, *steps):
            assert not minor.search(text), text
