"""The odd one out by meaning: one answer, and none that the words would allow as well."""

from __future__ import annotations

from random import Random

import pytest

from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.questions.errors import BadDocument
from stavewright.questions.kinds.term_odd_one_out import KIND, TermOddOneOut
from stavewright.syllabus.meanings import read_meaning
from stavewright.syllabus.scope import scope_for
from stavewright.syllabus.terms import term_of

GEHRKENS = "Gehrkens, Music Notation and Terminology (1914)"

# fmt: off
# the four (all Italian), the odd one, source
CASES = [
    (("Adagio", "Largo", "Presto", "Lento"), "Presto", f"{GEHRKENS} §109: three slow speeds"),
    (("Forte", "Pianissimo", "Fortissimo", "Mezzo forte"), "Pianissimo", f"{GEHRKENS} §120"),
    (("Rallentando", "Ritenuto", "Accelerando", "Ritardando"), "Accelerando", f"{GEHRKENS} §111"),
    (("Adagio", "Allegro", "Forte", "Andante"), "Forte", f"{GEHRKENS} §§109, 120: speeds and a loudness"),
    (("Crescendo", "Diminuendo", "Decrescendo", "Legato"), "Legato", f"{GEHRKENS} §§57, 124, 126"),
    (("Pizzicato", "Con sordino", "Arco", "Giocoso"), "Giocoso", "LilyPond Music Glossary, pizzicato"),
]
# fmt: on


def facts_of(*names: str) -> TermOddOneOut:
    return TermOddOneOut(tuple(f"{name}|Italian" for name in names))


@pytest.mark.parametrize("names, odd, source", CASES)
def test_published_meanings(names: tuple[str, ...], odd: str, source: str) -> None:
    assert texts("term-odd-one-out", facts_of(*names)) == [odd], source


def test_slips_by_hand() -> None:
    """Allegro looks least like the others; allegretto is the longest of the newest words."""
    found = slip_texts("term-odd-one-out", facts_of("Rallentando", "Ritenuto", "Accelerando", "Ritardando"))
    assert found["picked the least known word"] == "Ritenuto"
    assert found["mixed up a meaning"] in ("Rallentando", "Ritardando")
    found = slip_texts("term-odd-one-out", facts_of("Forte", "Fortissimo", "Mezzo piano", "Adagio"))
    assert found["picked the least known word"] == "Mezzo piano"
    found = slip_texts("term-odd-one-out", facts_of("Crescendo", "Decrescendo", "Diminuendo", "Rallentando"))
    assert found["went by the look of the words"] == "Diminuendo"


@pytest.mark.parametrize("level", [1, 2, 3, 4, 5])
def test_the_odd_one_shares_no_sense_and_no_language_tells(level: int) -> None:
    """All four are in one language, and no meaning of the odd one says what another of the four says."""
    for seed in range(300):
        draft = KIND.set(scope_for(level), Random(seed), None, None)
        if draft is None:
            continue
        terms = [term_of(key) for key in draft.facts.among]
        assert len({term.language for term in terms}) == 1
        odd = next(term for term in terms if term.term == draft.expected)
        for term in terms:
            if term is odd:
                continue
            for one in odd.meanings:
                assert not any(read_meaning(one) & read_meaning(other) for other in term.meanings)


def test_a_steady_speed_and_a_change_of_speed_never_stand_together() -> None:
    """Of adagio, lento, allegro and rallentando either of the last two could be called odd."""
    for seed in range(400):
        draft = KIND.set(scope_for(3), Random(seed), None, None)
        if draft is not None:
            themes = {term_of(key).theme for key in draft.facts.among}
            assert not (themes & {"tempo slow", "tempo fast"} and themes & {"getting slower", "getting faster"})


@pytest.mark.parametrize(
    "crossing",
    [
        "Calando",  # softer and slower: Gehrkens (1914) §127
        "Morendo",  # softer and slower: Gehrkens (1914) §127
        "Allargando",  # slower and louder: Gehrkens (1914) §111
        "Sforzando",  # an accent on one note: Gehrkens (1914) §122
        "Spiccato",  # a touch, and what a player does with the bow: common practice
        "Portamento",  # joined, and what a player does: Gehrkens (1914) §56
        "Con brio",  # vigour, and faster: Gehrkens (1914) §118
    ],
)
def test_a_term_that_belongs_to_two_families_is_never_asked(crossing: str) -> None:
    """Of presto, largo, moderato and calando, calando is about speed too."""
    for seed in range(500):
        draft = KIND.set(scope_for(5), Random(seed), None, None)
        if draft is not None:
            assert f"{crossing}|Italian" not in draft.facts.among


def test_a_set_without_an_odd_one_is_refused() -> None:
    with pytest.raises(BadDocument, match="three of one theme"):
        facts_of("Adagio", "Presto", "Forte", "Piano")
    with pytest.raises(BadDocument, match="three of one theme"):
        facts_of("Adagio", "Lento", "Largo", "Grave")


def test_every_rule_of_kinds() -> None:
    keeps_the_rules("term-odd-one-out")
