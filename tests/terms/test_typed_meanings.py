"""Meanings as pupils type them: the rules one by one, and the figures on the labelled answers kept apart."""

from __future__ import annotations

import importlib.util
import sys
from pathlib import Path
from types import ModuleType

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from stavewright.syllabus.meanings import fold, opposed, same_meaning
from stavewright.syllabus.said import hear
from stavewright.syllabus.signs import all_signs
from stavewright.syllabus.spelling import nearest
from stavewright.syllabus.terms import all_terms, term_of
from stavewright.syllabus.typed_meanings import read_typed, says
from stavewright.syllabus.ways import opposite_of

SCRIPT = Path(__file__).parents[2] / "scripts" / "measure_meanings.py"


def _measuring() -> ModuleType:
    spec = importlib.util.spec_from_file_location("measure_meanings", SCRIPT)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules["measure_meanings"] = module
    spec.loader.exec_module(module)
    return module


MEASURING = _measuring()


def _mark(term: str, said: str) -> str:
    known = term_of(term if "|" in term else f"{term}|Italian")
    return read_typed(said, known.meanings, (known.term, *known.other)).mark


# Musical knowledge, from memory of pupils' papers; not lines of the labelled answers.
RULES = [
    ("Forte", "lound", "right", "one letter too many, one word near"),
    ("Forte", "load", "right", "a word, but no meaning of any term"),
    ("Adagio", "slowley", "right", "an ending spelt by ear"),
    ("Piano", "never loud", "right", "denying the opposite"),
    ("Arco", "with bow, not plucked", "right", "denying the opposite beside the meaning"),
    ("Agitato", "not calm", "right", "denying the opposite"),
    ("Forte", "not very loud", "wrong", "denying the meaning"),
    ("Vivace", "lively and slow", "wrong", "half of it is the opposite"),
    ("Rallentando", "becoming faster and slower", "wrong", "both ways"),
    ("Dolce", "sweet and loud", "wrong", "the opposite of softly, which dolce may say"),
    ("Dolce", "sweet and gentle", "right", "a mood of the same theme does no harm"),
    ("Allegro", "fast and happy", "right", "allegro is the word for cheerful too"),
    ("Allegro", "fast and sad", "unsure", "a mood that another theme has"),
    ("Mezzo forte", "medium soft", "wrong", "the degree is right, the thing is not"),
    ("Adagio", "very slow", "part", "another degree"),
    ("Crescendo", "loud", "part", "where it leads, not that it changes"),
    ("Adagio", "slowing down", "wrong", "a change where a state is meant"),
    ("Sempre", "not always", "wrong", "denied"),
    ("Allegro ma non troppo", "quick but not to much", "right", "too much, spelt as it is heard"),
    ("Allegro ma non troppo", "quickly", "part", "without the limit"),
    ("Ma non troppo", "too much", "wrong", "the word not is missing"),
    ("Fortepiano", "loud and soft", "part", "not said to follow"),
    ("Fortepiano", "soft, then suddenly loud", "wrong", "the wrong way round"),
    ("Legato", "Legato", "wrong", "the term itself"),
    ("Legato", "  ?! ", "wrong", "nothing is written"),
    ("Legato", "qwxzzk", "unsure", "nobody knows"),
]


@pytest.mark.parametrize("term, said, mark, why", RULES)
def test_the_rules_of_reading(term: str, said: str, mark: str, why: str) -> None:
    assert _mark(term, said) == mark, why


def test_every_right_meaning_is_right_for_its_own_term() -> None:
    for term in all_terms():
        for meaning in term.meanings:
            assert read_typed(meaning, term.meanings).mark == "right", (term.key, meaning)
    for sign in all_signs().values():
        for meaning in sign.right("meaning"):
            assert says(meaning, meaning), (sign.id, meaning)


def test_an_opposite_is_never_right() -> None:
    """No term's meaning is right for a term that means the opposite, unless the table lets both say it."""
    terms = [term for term in all_terms() if term.core]
    for one in terms:
        for other in terms:
            if one.key == other.key or not opposed(one.meaning, other.meaning):
                continue
            if any(same_meaning(other.meaning, meaning) for meaning in one.meanings):
                continue
            assert read_typed(other.meaning, one.meanings).mark != "right", (one.key, other.meaning)


def test_a_word_that_could_be_two_is_not_mended() -> None:
    """A slip is forgiven where it can be one word only: "load" is loud, "farst" is fast or first."""
    known = {"loud": "loud", "slower": "slower", "lower": "lower", "sad": "sad", "fast": "fast", "first": "first"}
    assert nearest("load", known) == "loud"
    assert nearest("farst", known) is None
    assert nearest("sd", known) is None
    assert nearest("banana", known) is None


def test_real_words_are_never_taken_for_slips() -> None:
    for term, word in (("Triste", "said"), ("Vivace", "lovely"), ("Più lento", "lower"), ("Leggiero", "right")):
        assert _mark(term, word) != "right"


def test_what_was_mended_is_told() -> None:
    assert read_typed("gradualy louder", ["gradually getting louder"]).mended == (("gradualy", "gradually"),)


@given(st.text(max_size=60))
@settings(max_examples=60, deadline=None)
def test_any_text_is_read(text: str) -> None:
    """Whatever is typed gets one of the four marks and a reason; a blank is wrong."""
    got = read_typed(text, ("fast and lively", "fast"))
    assert got.mark in ("right", "part", "unsure", "wrong")
    assert got.why
    if not fold(text):
        assert got.mark == "wrong"


@given(st.sampled_from(["fast", "quick", "and", "lively", "very", "not", "slow", "loud", "getting", "banana"]).map(str))
@settings(max_examples=10, deadline=None)
def test_opposites_face_each_other(word: str) -> None:
    """What a sense is opposed to is opposed to it."""
    for sense in hear(word).core:
        assert all(sense in opposite_of(other) for other in opposite_of(sense))


def test_the_labelled_answers_are_spread_as_they_should_be() -> None:
    lines = MEASURING.labelled()
    assert len(lines) == len({(one.key, one.typed) for one in lines}) == 1598
    share = {label: sum(one.label == label for one in lines) / len(lines) for label in MEASURING.LABELS}
    assert 0.4 <= share["right"] <= 0.5
    assert 0.1 <= share["part"] <= 0.2
    assert 0.35 <= share["wrong"] <= 0.45
    themes = {term_of(one.key).theme for one in lines if not one.key.endswith("|sign")}
    assert themes == {term.theme for term in all_terms()}


def test_the_kept_half_is_marked_well() -> None:
    """Of 100 answers marked right at least 97 are; of 100 right ones at least 93 are marked so."""
    found = MEASURING.figures([one for one in MEASURING.labelled() if one.kept])
    assert found.count == 789
    assert found.precision >= 0.97
    assert found.recall >= 0.93


def test_fresh_answers_are_not_guessed() -> None:
    """Words the tables were not made for: what is marked right is right; few right answers are called wrong.

    Recall is .68 here, measured, not aimed at; docs/terms.md says why.
    """
    lines = MEASURING.fresh()
    old = {(one.key, one.typed) for one in MEASURING.labelled()}
    assert not old & {(one.key, one.typed) for one in lines}
    found = MEASURING.figures(lines)
    assert found.precision >= 0.97
    assert found.recall >= 0.65
    right = sum(found.table["right", mark] for mark in MEASURING.MARKS)
    assert found.table["right", "wrong"] <= right * 0.06


def test_the_page_has_the_figures_as_measured() -> None:
    assert MEASURING.page_part() in MEASURING.PAGE.read_text("utf-8"), "run scripts/measure_meanings.py"
