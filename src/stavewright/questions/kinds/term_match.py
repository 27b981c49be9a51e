"""Terms and meanings to be paired, each term with one meaning."""

from __future__ import annotations

from functools import lru_cache
from itertools import combinations
from random import Random
from string import ascii_lowercase

from stavewright.questions.documents import Answer, Option, PairsForm, Slip, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.setting.picking import pick
from stavewright.questions.solving.terms import likeness, look_alike
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.syllabus.meanings import fold, opposed, same_meaning, too_near
from stavewright.syllabus.scope import Scope
from stavewright.syllabus.terms import Term, core_terms, term_of

_PAIRS = 4
_TRIES = 30


class TermMatch(Facts, frozen=True, forbid_unknown_fields=True):
    """Terms by their keys, as they stand on the left, and the meanings as they stand on the right.

    Raises:
        BadDocument: not one meaning for each term, or fewer than three of them.
    """

    terms: tuple[str, ...]
    meanings: tuple[str, ...]

    def __post_init__(self) -> None:
        if not 3 <= len(set(self.terms)) <= 10 or len(set(self.meanings)) != len(self.terms):
            raise BadDocument(
                f"terms to match: {len(self.terms)} terms and {len(self.meanings)} meanings; each term needs one of "
                "its own, and there must be three or more"
            )


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    known, fresh = _asked(scope.terms)
    chosen = [pick(rng, known, fresh)]
    near = [term for term in known if term.family == chosen[0].family]
    for _ in range(_TRIES):
        other = rng.choice(near if rng.random() < 0.7 else known)
        if all(_clear(other, one) for one in chosen):
            chosen.append(other)
        if len(chosen) == _PAIRS:
            break
    else:
        return None
    rng.shuffle(chosen)
    right = chosen[:]
    while right == chosen:
        rng.shuffle(right)
    pairs = tuple((ascii_lowercase[i], ascii_lowercase[right.index(term)]) for i, term in enumerate(chosen))
    facts = TermMatch(tuple(term.key for term in chosen), tuple(term.meaning for term in right))
    return Draft(facts, Value(pairs=pairs))


@lru_cache(maxsize=8)
def _asked(level: int) -> tuple[tuple[Term, ...], tuple[Term, ...]]:
    """The terms that may be asked up to a level, and those it has just added: none that says its own meaning."""
    known = tuple(term for term in core_terms(level) if not set(fold(term.term)) <= set(fold(term.meaning)))
    return known, tuple(term for term in known if term.level == level)


@lru_cache(maxsize=65536)
def _clear(one: Term, other: Term) -> bool:
    """Whether neither of two terms could go with the other's meaning, and no meaning names the other term."""
    if one.term == other.term or any(too_near(left, right) for left in one.meanings for right in other.meanings):
        return False
    return not (set(fold(one.term)) <= set(fold(other.meaning)) or set(fold(other.term)) <= set(fold(one.meaning)))


def _pose(facts: TermMatch, wording: Wording) -> Posed:
    left = tuple(Option(ascii_lowercase[i], text=term_of(key).term) for i, key in enumerate(facts.terms))
    right = tuple(Option(ascii_lowercase[i], text=wording.say(said)) for i, said in enumerate(facts.meanings))
    return Posed((TextBlock("Join each term to its meaning. Use each meaning once."),), PairsForm(left, right))


def _pairs(facts: TermMatch) -> tuple[tuple[str, str], ...] | None:
    """Each term with the one printed meaning that is its own; None where a term has none or two."""
    found = []
    for at, key in enumerate(facts.terms):
        own = [
            place
            for place, said in enumerate(facts.meanings)
            if any(same_meaning(said, meaning) for meaning in term_of(key).meanings)
        ]
        if len(own) != 1:
            return None
        found.append((ascii_lowercase[at], ascii_lowercase[own[0]]))
    return tuple(found)


def _text(facts: TermMatch, pairs: tuple[tuple[str, str], ...]) -> str:
    said = []
    for left, right in pairs:
        term = term_of(facts.terms[ascii_lowercase.index(left)])
        said.append(f"{term.term}: {facts.meanings[ascii_lowercase.index(right)]}")
    return "; ".join(said)


def _solve(facts: TermMatch) -> tuple[Answer, ...]:
    pairs = _pairs(facts)
    if pairs is None:
        return ()
    told = [f"{term.term} is {term.language} for “{term.meaning}”." for term in map(term_of, facts.terms)]
    return (answer(Value(pairs=pairs), _text(facts, pairs), " ".join(told)),)


def _slips(facts: TermMatch) -> tuple[Slip, ...]:
    pairs = _pairs(facts) or ()
    terms = [term_of(key) for key in facts.terms]
    places = range(len(pairs))
    found: list[Slip] = []

    def swap(name: str, one: int, other: int) -> None:
        swapped = list(pairs)
        swapped[one], swapped[other] = (pairs[one][0], pairs[other][1]), (pairs[other][0], pairs[one][1])
        value = Value(pairs=tuple(swapped))
        if any(value == known.value[0] for known in found):
            return
        said = " and ".join(f"{terms[at].term} is “{terms[at].meaning}”" for at in (one, other))
        found.append(slip(name, value, _text(facts, tuple(swapped)), f"{said}: say both, one after the other."))

    for one, other in combinations(places, 2):
        if opposed(terms[one].meaning, terms[other].meaning):
            swap("took two opposites for each other", one, other)
    alike = sorted(combinations(places, 2), key=lambda both: -likeness(terms[both[0]], terms[both[1]]))
    if look_alike(*(terms[at] for at in alike[0])):
        swap("took two words that look alike for each other", *alike[0])
    for one, other in combinations(places, 2):
        if terms[one].family == terms[other].family:
            swap("took two neighbours for each other", one, other)
            break
    if len(pairs) > 2:
        turned = tuple((left, pairs[(at + 1) % len(pairs)][1]) for at, (left, _) in enumerate(pairs))
        remedy = "Begin with the word you are surest of, and cross its meaning out."
        found.append(slip("guessed them all", Value(pairs=turned), _text(facts, turned), remedy))
    return tuple(found)


def _work(facts: TermMatch, method: str) -> tuple[Step, ...]:
    terms = sorted((term_of(key) for key in facts.terms), key=lambda term: (term.level, term.key))
    surest, last = terms[0], terms[-1]
    middle = [f"{term.term}, “{term.meaning}”" for term in terms[1:-1]]
    return (
        Step(f"Begin with the word you know best: {surest.term} is “{surest.meaning}”. Join them.", (), surest.term),
        Step(f"Then the next ones: {'; '.join(middle)}. Cross out each meaning that is used."),
        Step(f"What is left must go together: {last.term}, “{last.meaning}”.", (), last.term),
        Step("Check: read each pair aloud, and see that no meaning is used twice."),
    )


def _difficulty(facts: TermMatch) -> float:
    """Late terms and terms of one family are harder to keep apart (common practice)."""
    terms = [term_of(key) for key in facts.terms]
    level = sum(term.level for term in terms) / len(terms)
    late = sum(term.language != "Italian" for term in terms) / len(terms)
    return -1.2 + 0.2 * level + 0.5 * late + (0.3 if len({term.family for term in terms}) < 3 else 0.0)


def _tokens(facts: TermMatch) -> frozenset[str]:
    return frozenset(f"term:{term_of(key).term.casefold()}" for key in facts.terms)


KIND = Kind(
    id="term-match",
    topic="terms",
    since=1,
    title="Terms and their meanings",
    facts=TermMatch,
    forms={"written": "pairs", "on-screen": "pairs"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"term-match/{term_of(facts.terms[0]).family}",
    pool=lambda scope: None,
    seconds=40,
    marking=Marking("per-item"),
    marks=4,
    asks=_tokens,
    shows=_tokens,
)
