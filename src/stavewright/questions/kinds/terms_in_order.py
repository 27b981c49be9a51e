"""Putting terms in order, from slow to fast or from soft to loud, where all books agree on the order."""

from __future__ import annotations

from functools import lru_cache
from itertools import combinations, pairwise
from math import prod
from random import Random
from string import ascii_lowercase

from stavewright.questions.documents import Answer, Option, OrderForm, Slip, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.syllabus.scope import Scope
from stavewright.syllabus.terms import Term, core_terms, term_of

# The scales that terms are drawn from, step by step; the slow words are one step, since the books do not order them.
# Source: Gehrkens, Music Notation and Terminology (1914) §§109, 120.
_LADDERS: dict[tuple[str, str], tuple[tuple[str, ...], ...]] = {
    ("speed", "Italian"): (
        ("Grave", "Largo", "Lento", "Adagio"), ("Andante",), ("Moderato",), ("Allegretto",), ("Allegro",), ("Vivace",),
        ("Presto",), ("Prestissimo",),
    ),
    ("speed", "French"): (("Lent",), (), ("Modéré",), (), ("Vite",)),
    ("speed", "German"): (("Langsam",), (), ("Mäßig",), (), ("Schnell",)),
    ("loudness", "Italian"): (
        ("Pianissimo",), ("Piano",), ("Mezzo piano",), ("Mezzo forte",), ("Forte",), ("Fortissimo",),
    ),
}  # fmt: skip
_APART = 2
# How far along its scale a meaning stands: what the solver goes by.
_RANKS = {
    "speed": {
        "very slow and solemn": 0, "slow and broad": 0, "slow": 0, "slow, unhurried": 0, "at a walking pace": 2,
        "at a medium speed": 3, "at a moderate speed": 3, "moderate": 3, "fairly fast": 4, "fast": 5,
        "fast and lively": 5, "quick and lively": 6, "very fast": 7, "as fast as possible": 8,
    },
    "loudness": {
        "very soft": 1, "soft": 2, "moderately soft": 3, "moderately loud": 4, "loud": 5, "very loud": 6,
    },
}  # fmt: skip
_ENDS = {
    ("speed", True): "slowest", ("speed", False): "fastest",
    ("loudness", True): "softest", ("loudness", False): "loudest",
}  # fmt: skip


class TermsInOrder(Facts, frozen=True, forbid_unknown_fields=True):
    """Terms by their keys in the order they are printed, the scale ("speed" or "loudness"), and which end comes first.

    Raises:
        BadDocument: fewer than three terms, no such scale, or a term that has no place of its own on it.
    """

    scale: str
    among: tuple[str, ...]
    rising: bool = True

    def __post_init__(self) -> None:
        ranks = _RANKS.get(self.scale, {})
        places = [ranks.get(term_of(key).meaning) for key in self.among]
        if None in places or len(set(places)) != len(places) or not 3 <= len(places) <= 8:
            raise BadDocument(
                f"terms in order of {self.scale}: three to eight are needed, each with its own place on the scale; "
                f"got {', '.join(self.among)}"
            )


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    scale, steps = rng.choice(_known(scope.terms))
    by_size = _spaced(steps)
    chosen = rng.choice(by_size[rng.choice(tuple(by_size))])
    rising = rng.random() < 0.5
    ordered = [rng.choice(steps[place]) for place in chosen]
    among = ordered[:]
    while among in (ordered, ordered[::-1]):
        rng.shuffle(among)
    facts = TermsInOrder(scale, tuple(term.key for term in among), rising)
    meant = tuple(ascii_lowercase[among.index(term)] for term in (ordered if rising else ordered[::-1]))
    return Draft(facts, Value(order=meant))


@lru_cache(maxsize=8)
def _known(level: int) -> tuple[tuple[str, tuple[tuple[Term, ...], ...]], ...]:
    """The scales of a level that hold three terms far enough apart, each step with its terms."""
    found = []
    for (scale, language), steps in _LADDERS.items():
        placed = [term for term in core_terms(level) if term.language == language and term.meaning in _RANKS[scale]]
        known = tuple(tuple(term for term in placed if term.term in step) for step in steps)
        if _spaced(known):
            found.append((scale, known))
    return tuple(found)


@lru_cache(maxsize=64)
def _spaced(steps: tuple[tuple[Term, ...], ...]) -> dict[int, tuple[tuple[int, ...], ...]]:
    """Every choice of three or four steps of a scale that lie two or more apart, by how many they are."""
    places = [place for place, terms in enumerate(steps) if terms]
    found = {}
    for count in (3, 4):
        fair = tuple(
            chosen
            for chosen in combinations(places, count)
            if all(high - low >= _APART for low, high in pairwise(chosen))
        )
        if fair:
            found[count] = fair
    return found


def _pose(facts: TermsInOrder, wording: Wording) -> Posed:
    terms = [term_of(key) for key in facts.among]
    first = _ENDS[facts.scale, facts.rising]
    options = tuple(Option(letter, text=term.term) for letter, term in zip(ascii_lowercase, terms, strict=False))
    return Posed((TextBlock(f"Put these terms in order, the {first} first."),), OrderForm(options))


def _rank(facts: TermsInOrder, letter: str) -> int:
    return _RANKS[facts.scale][term_of(facts.among[ascii_lowercase.index(letter)]).meaning]


def _order(facts: TermsInOrder) -> tuple[str, ...]:
    letters = ascii_lowercase[: len(facts.among)]
    return tuple(sorted(letters, key=lambda letter: _rank(facts, letter), reverse=not facts.rising))


def _text(facts: TermsInOrder, order: tuple[str, ...]) -> str:
    return ", ".join(term_of(facts.among[ascii_lowercase.index(letter)]).term for letter in order)


def _solve(facts: TermsInOrder) -> tuple[Answer, ...]:
    order = _order(facts)
    terms = [term_of(facts.among[ascii_lowercase.index(letter)]) for letter in order]
    reason = f"From the {_ENDS[facts.scale, facts.rising]} on: " + "; ".join(f"{t.term}, {t.meaning}" for t in terms)
    return (answer(Value(order=order), _text(facts, order), f"{reason}."),)


def _slips(facts: TermsInOrder) -> tuple[Slip, ...]:
    order = _order(facts)
    found = []
    for at in range(len(order) - 1):
        swapped = (*order[:at], order[at + 1], order[at], *order[at + 2 :])
        one, other = (term_of(facts.among[ascii_lowercase.index(letter)]) for letter in order[at : at + 2])
        remedy = f"Say both: {one.term} is “{one.meaning}”, {other.term} is “{other.meaning}”."
        found.append(slip("neighbours swapped", Value(order=swapped), _text(facts, swapped), remedy))
    turned = order[::-1]
    remedy = f"Read the question again: the {_ENDS[facts.scale, facts.rising]} comes first."
    found.append(slip("began at the wrong end", Value(order=turned), _text(facts, turned), remedy))
    as_printed = tuple(ascii_lowercase[: len(order)])
    if as_printed not in (order, *(one.value[0].order for one in found)):
        remedy = "Say what each word means first, then look for the two ends."
        found.append(slip("left them as they stood", Value(order=as_printed), _text(facts, as_printed), remedy))
    return tuple(found)


def _work(facts: TermsInOrder, method: str) -> tuple[Step, ...]:
    order = _order(facts)
    terms = [term_of(key) for key in facts.among]
    names = _text(facts, order).split(", ")
    first, last = _ENDS[facts.scale, facts.rising], _ENDS[facts.scale, not facts.rising]
    return (
        Step(f"Say what each one means: {'; '.join(f'{term.term}, {term.meaning}' for term in terms)}."),
        Step(f"Find the two ends: {names[0]} is the {first}, {names[-1]} the {last}.", (), f"1 {names[0]}"),
        Step(f"Put the rest between them: {', '.join(names)}.", (), ", ".join(names)),
        Step(f"Check: go back from the {last} to the {first}, saying the meanings."),
    )


def _difficulty(facts: TermsInOrder) -> float:
    """More terms, and terms that stand nearer to each other, are harder to put in order (common practice)."""
    ranks = sorted(_rank(facts, letter) for letter in ascii_lowercase[: len(facts.among)])
    spread = (ranks[-1] - ranks[0]) / (len(ranks) - 1)
    late = 0.3 if term_of(facts.among[0]).language != "Italian" else 0.0
    return -1.0 + 0.4 * (len(ranks) - 3) + (0.3 if spread < 2.5 else 0.0) + late


def _tokens(facts: TermsInOrder) -> frozenset[str]:
    return frozenset(f"term:{term_of(key).term.casefold()}" for key in facts.among)


def _pool(scope: Scope) -> int:
    """Every choice of terms two steps apart, three or four of them, from either end."""
    return 2 * sum(
        prod(len(steps[place]) for place in chosen)
        for _, steps in _known(scope.terms)
        for choices in _spaced(steps).values()
        for chosen in choices
    )


KIND = Kind(
    id="terms-in-order",
    topic="terms",
    since=1,
    title="Terms in order",
    facts=TermsInOrder,
    forms={"written": "order", "on-screen": "order"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"terms-in-order/{facts.scale}",
    pool=_pool,
    seconds=25,
    marking=Marking("all-or-nothing"),
    asks=_tokens,
    shows=_tokens,
)
