"""Terms in order of speed or loudness, two steps apart, never two slow words together."""

from __future__ import annotations

from itertools import pairwise, permutations
from random import Random

import pytest
from msgspec.structs import replace

from questions.asking_many import asked
from questions.rules_of_kinds import keeps_the_rules, slip_texts, texts
from stavewright.questions.errors import BadDocument
from stavewright.questions.kinds import terms_in_order
from stavewright.questions.kinds.terms_in_order import KIND, TermsInOrder
from stavewright.syllabus.scope import scope_for
from stavewright.syllabus.terms import core_terms, term_of

GEHRKENS = "Gehrkens, Music Notation and Terminology (1914)"

# fmt: off
# scale, terms (all Italian), from the low end, the order, source
CASES = [
    ("speed", ("Presto", "Adagio", "Moderato"), True, "Adagio, Moderato, Presto", f"{GEHRKENS} §109"),
    ("speed", ("Allegretto", "Prestissimo", "Andante", "Vivace"), False,
     "Prestissimo, Vivace, Allegretto, Andante", f"{GEHRKENS} §109"),
    ("loudness", ("Forte", "Pianissimo", "Mezzo piano"), True, "Pianissimo, Mezzo piano, Forte", f"{GEHRKENS} §120"),
    ("loudness", ("Piano", "Fortissimo", "Mezzo forte"), False, "Fortissimo, Mezzo forte, Piano", f"{GEHRKENS} §120"),
]
# fmt: on


def facts_of(scale: str, names: tuple[str, ...], rising: bool = True, language: str = "Italian") -> TermsInOrder:
    return TermsInOrder(scale, tuple(f"{name}|{language}" for name in names), rising)


@pytest.mark.parametrize("scale, names, rising, order, source", CASES)
def test_published_orders(scale: str, names: tuple[str, ...], rising: bool, order: str, source: str) -> None:
    for some in permutations(names):
        assert texts("terms-in-order", facts_of(scale, some, rising)) == [order], source


def test_french_and_german_terms_in_order() -> None:
    """LilyPond Music Glossary, lento; common practice."""
    assert texts("terms-in-order", facts_of("speed", ("Vite", "Lent", "Modéré"), True, "French")) == [
        "Lent, Modéré, Vite"
    ]
    assert texts("terms-in-order", facts_of("speed", ("Schnell", "Mäßig", "Langsam"), True, "German")) == [
        "Langsam, Mäßig, Schnell"
    ]


def test_slips_by_hand() -> None:
    found = slip_texts("terms-in-order", facts_of("speed", ("Presto", "Adagio", "Moderato")))
    assert found == {
        "neighbours swapped": "Moderato, Adagio, Presto",
        "began at the wrong end": "Presto, Moderato, Adagio",
        "left them as they stood": "Presto, Adagio, Moderato",
    }


SLOW = {"Grave", "Largo", "Lento", "Adagio", "Larghetto", "Andantino"}


@pytest.mark.parametrize("level", [1, 2, 3, 4, 5])
def test_only_terms_two_steps_apart(level: int) -> None:
    """No order among the slow words, and no two neighbours of a scale."""
    speed = ["slow", "Andante", "Moderato", "Allegretto", "Allegro", "Vivace", "Presto", "Prestissimo"]
    loudness = ["Pianissimo", "Piano", "Mezzo piano", "Mezzo forte", "Forte", "Fortissimo"]
    for seed in range(200):
        draft = KIND.set(scope_for(level), Random(seed), None, None)
        assert draft is not None
        names = [term_of(key).term for key in draft.facts.among]
        if term_of(draft.facts.among[0]).language != "Italian":
            continue
        scale = speed if draft.facts.scale == "speed" else loudness
        places = sorted(scale.index("slow" if name in SLOW else name) for name in names)
        assert all(high - low >= 2 for low, high in pairwise(places)), names


def test_two_slow_words_are_refused() -> None:
    with pytest.raises(BadDocument, match="its own place"):
        facts_of("speed", ("Largo", "Adagio", "Presto"))
    with pytest.raises(BadDocument, match="its own place"):
        facts_of("speed", ("Andantino", "Adagio", "Presto"))


def test_the_terms_never_stand_in_order_already() -> None:
    for _, draft, _ in asked("terms-in-order", 30, grades=(1, 5)):
        letters = draft.expected.order
        assert letters not in (tuple(sorted(letters)), tuple(sorted(letters, reverse=True)))


def test_a_meaning_that_has_no_place_is_never_drawn(monkeypatch: pytest.MonkeyPatch) -> None:
    """A teacher may say a meaning in other words: what the solver cannot place, the setter leaves out."""
    changed = tuple(replace(t, meaning="in high spirits") if t.term == "Forte" else t for t in core_terms(1))
    monkeypatch.setattr(terms_in_order, "core_terms", lambda level: changed)
    terms_in_order._known.cache_clear()
    try:
        drafts = [KIND.set(scope_for(1), Random(seed), None, None) for seed in range(100)]
    finally:
        terms_in_order._known.cache_clear()
    assert not [one for one in drafts if one is not None and "Forte|Italian" in one.facts.among]


def test_the_pool_is_counted() -> None:
    """By hand at level 1: speed: slow, moderato, allegro is the one way; loudness: four threes; both ends."""
    assert KIND.pool(scope_for(1)) == 2 * (1 + 4)


def test_every_rule_of_kinds() -> None:
    keeps_the_rules("terms-in-order")
