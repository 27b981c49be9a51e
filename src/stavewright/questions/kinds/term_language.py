"""The language of a term."""

from __future__ import annotations

from functools import lru_cache
from random import Random

from stavewright.questions.documents import Answer, Slip, Step, TextBlock
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording, us_words
from stavewright.syllabus.meanings import fold
from stavewright.syllabus.scope import Scope
from stavewright.syllabus.terms import Term, all_terms, core_terms, term_of

_CHOICES = ("Italian", "French", "German")
_LETTERS_OF = {"French": "éèêçàù", "German": "äöüß"}
# Little words of each language, from the table of terms: what a longer direction is mostly built with.
# Groups of letters that no term of the other two languages has (a test goes through all of them); "-" is a word's end.
_GROUPS_OF = {
    "French": ("eux", "ou", "ez-", "if-", "oin"),
    "German": ("cht", "ck", "ei", "hr", "w", "ch-", "ig-"),
}
_LITTLE = {
    "Italian": "con (with), senza (without), molto (very)",
    "French": "avec (with), sans (without), très (very)",
    "German": "mit (with), ohne (without), sehr (very)",
}


class TermLanguage(Facts, frozen=True, forbid_unknown_fields=True):
    """A term by its key (the term and its language)."""

    term: str


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    by_language = _asked(scope.terms)
    language = rng.choice(tuple(by_language))
    return Draft(TermLanguage(rng.choice(by_language[language]).key), language)


@lru_cache(maxsize=8)
def _asked(level: int) -> dict[str, tuple[Term, ...]]:
    """The terms that may be asked up to a level, by language: those that stand in one language only."""
    spelt: dict[tuple[str, ...], set[str]] = {}
    for term in all_terms():
        for name in (term.term, *term.other):
            spelt.setdefault(fold(name), set()).add(term.language)
    found: dict[str, tuple[Term, ...]] = {}
    for language in _CHOICES:
        terms = tuple(
            term
            for term in core_terms(level)
            if term.language == language and len(spelt[fold(term.term)]) == 1 and us_words(term.term) == term.term
        )
        if terms:
            found[language] = terms
    return found


def _pose(facts: TermLanguage, wording: Wording) -> Posed:
    return Posed((TextBlock(f"Which language is the term “{term_of(facts.term).term}” in?"),))


def _solve(facts: TermLanguage) -> tuple[Answer, ...]:
    term = term_of(facts.term)
    reason = f"“{term.term}” is {term.language} for “{term.meaning}”."
    return (answer(Value(words=term.language), term.language, reason),)


def _slips(facts: TermLanguage) -> tuple[Slip, ...]:
    term = term_of(facts.term)
    little = _LITTLE.get(term.language, "")
    remedy = f"Look for letters and little words of the language. {term.language} has {little}."
    wrong = {
        "Italian": (("took it for French, which sounds near", "French"), ("guessed", "German")),
        "French": (("took every term for Italian", "Italian"), ("mixed up French and German", "German")),
        "German": (("mixed up French and German", "French"), ("took every term for Italian", "Italian")),
    }
    return tuple(slip(name, Value(words=said), said, remedy) for name, said in wrong.get(term.language, ()))


def _work(facts: TermLanguage, method: str) -> tuple[Step, ...]:
    term = term_of(facts.term)
    name = term.term.lower()
    steps: list[Step] = []
    signs = [letter for letter in _LETTERS_OF.get(term.language, "") if letter in name]
    if signs:
        steps.append(Step(f"Look for letters of {term.language} alone: {' and '.join(signs)}.", (), signs[0]))
    elif name[-1] in "oaei" and term.language == "Italian":
        steps.append(Step(f"Look at the end: “-{name[-1]}”. Most Italian words end in a, e, i or o.", (), name[-1]))
    elif group := _group(term):
        said = f"Look at the letters: {term.language} has “{group}”, the other languages of music have not."
        steps.append(Step(said, (), group))
    else:
        steps.append(Step("Say the word aloud: does it sound like one you know?"))
    steps.append(Step(f"“{term.term}” is {term.language} for “{term.meaning}”.", (), term.language))
    little = _LITTLE.get(term.language, "")
    steps.append(Step(f"Check: think of little words of the same language: {little}."))
    return tuple(steps)


def _group(term: Term) -> str:
    """The first group of letters in a term that gives its language away, or nothing."""
    words = "".join(f"{word}-" for word in term.term.lower().split())
    found = next((one for one in _GROUPS_OF.get(term.language, ()) if one in words), "")
    return f"-{found[:-1]}" if found.endswith("-") else found


def _difficulty(facts: TermLanguage) -> float:
    """Italian is known longest; a word with an accent or ß is easier than one without (common practice)."""
    term = term_of(facts.term)
    name = term.term.lower()
    plain = not any(letter in name for letter in _LETTERS_OF.get(term.language, ""))
    return -1.2 + (0.4 if term.language != "Italian" else 0.0) + (0.3 if plain else 0.0)


def _token(facts: TermLanguage) -> frozenset[str]:
    return frozenset({f"term:{term_of(facts.term).term.casefold()}"})


KIND = Kind(
    id="term-language",
    topic="terms",
    since=4,
    title="The language of a term",
    facts=TermLanguage,
    forms={"written": "choice", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"term-language/{term_of(facts.term).language}",
    pool=lambda scope: sum(len(terms) for terms in _asked(scope.terms).values()),
    seconds=10,
    marking=Marking("all-or-nothing"),
    options=lambda facts: tuple(Value(words=language) for language in _CHOICES),
    asks=_token,
    shows=_token,
)
