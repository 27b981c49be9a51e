"""The language of a term, never of one that two languages share."""

from __future__ import annotations

from random import Random

import pytest

from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.questions.kinds.term_language import _GROUPS_OF, KIND, TermLanguage
from stavewright.syllabus.scope import scope_for
from stavewright.syllabus.terms import all_terms, term_of

# fmt: off
# term, language, source
CASES = [
    ("Rallentando|Italian", "Italian", "Gehrkens, Music Notation and Terminology (1914) §111"),
    ("Pizzicato|Italian", "Italian", "LilyPond Music Glossary, pizzicato"),
    ("Très|French", "French", "common practice"),
    ("Cédez|French", "French", "common practice"),
    ("Langsam|German", "German", "LilyPond Music Glossary, lento"),
    ("Ohne|German", "German", "common practice"),
]
# fmt: on


@pytest.mark.parametrize("term, language, source", CASES)
def test_published_languages(term: str, language: str, source: str) -> None:
    assert texts("term-language", TermLanguage(term)) == [language], source


def test_slips_name_another_language() -> None:
    assert slip_texts("term-language", TermLanguage("Mit|German")) == {
        "mixed up French and German": "French",
        "took every term for Italian": "Italian",
    }
    assert slip_texts("term-language", TermLanguage("Avec|French"))["took every term for Italian"] == "Italian"
    assert slip_texts("term-language", TermLanguage("Sempre|Italian")) == {
        "took it for French, which sounds near": "French",
        "guessed": "German",
    }


def test_shared_words_are_never_asked() -> None:
    """“Triste” is Italian and French, “Ad libitum” Latin: neither can be fairly asked."""
    asked = set()
    for seed in range(3000):
        draft = KIND.set(scope_for(5), Random(seed), None, None)
        assert draft is not None
        asked.add(term_of(draft.facts.term).term)
    assert {"Très", "Langsam"} <= asked
    assert not asked & {"Triste", "Ad libitum", "Alla breve"}


def test_the_languages_come_about_equally_often() -> None:
    drafts = [KIND.set(scope_for(5), Random(seed), None, None) for seed in range(600)]
    for language in ("Italian", "French", "German"):
        assert 150 < sum(draft is not None and draft.expected == language for draft in drafts) < 250


def test_the_working_points_at_letters() -> None:
    steps = [step.text for step in KIND.work(TermLanguage("Süß|German"), "usual")]
    assert steps[0] == "Look for letters of German alone: ü and ß."
    for term, group in (("Leicht|German", "cht"), ("Gracieux|French", "eux"), ("Ruhig|German", "-ig")):
        assert f"has “{group}”" in KIND.work(TermLanguage(term), "usual")[0].text


@pytest.mark.parametrize("language", sorted(_GROUPS_OF))
def test_a_group_of_letters_tells_the_language(language: str) -> None:
    """No term of another language has the group that the working points at."""
    for group in _GROUPS_OF[language]:
        others = [t.term for t in all_terms() if t.language != language]
        assert [name for name in others if group in "".join(f"{word}-" for word in name.lower().split())] == [], group


def test_every_rule_of_kinds() -> None:
    keeps_the_rules("term-language")
