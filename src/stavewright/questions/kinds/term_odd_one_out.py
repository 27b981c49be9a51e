"""Four terms, three of them about one thing: the odd one out by meaning."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from functools import lru_cache
from itertools import combinations
from random import Random

from stavewright.questions.documents import Answer, Slip, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.setting.picking import pick
from stavewright.questions.solving.terms import likeness
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording, us_words
from stavewright.syllabus.meanings import read_meaning
from stavewright.syllabus.scope import Scope
from stavewright.syllabus.terms import Term, core_terms, term_of

_GROUPS = (
    ("tempo slow", "tempo fast", "medium and other speeds"),
    ("getting slower", "getting faster"),
    ("loud", "soft"),
    ("getting louder", "getting softer"),
    ("articulation",),
    ("sad",),
    ("happy and playful",),
    ("gentle and tender",),
    ("strong and fiery",),
    ("technique and players",),
    ("how much and how",),
)
_OPPOSED = (
    ("tempo slow", "tempo fast"), ("getting slower", "getting faster"), ("loud", "soft"),
    ("getting louder", "getting softer"), ("sad", "happy and playful"), ("gentle and tender", "strong and fiery"),
)  # fmt: skip
# Terms whose meaning is no plain case of their theme: a speed that is a mood as well, a loudness that is a stress, a
# sound that fades and slows down, a way of bowing that is a touch as well. Either of two could be called the odd one.
_LEFT_OUT = (
    "Kräftig", "Con forza", "Sforzando", "Rinforzando", "Calando", "Morendo", "Smorzando", "Perdendosi", "Allargando",
    "Allegro con brio", "Allegro con fuoco", "Animando", "Poco a poco animato", "Spiccato", "Martellato", "Portamento",
    "Glissando", "Arpeggio", "Leggiero", "Léger", "Leicht", "Doux", "Con spirito", "Spiritoso", "Con brio", "Volante",
)  # fmt: skip
_ABOUT = {
    "tempo slow": "a slow speed", "tempo fast": "a fast speed", "getting slower": "slowing down",
    "getting faster": "getting faster", "loud": "loud playing", "soft": "soft playing",
    "getting louder": "a sound that grows", "getting softer": "a sound that fades", "articulation": "how notes are "
    "joined, parted or stressed", "sad": "a sad mood", "happy and playful": "a happy mood", "gentle and tender":
    "a gentle mood", "strong and fiery": "a strong mood", "technique and players": "what a player does",
    "how much and how": "how much or how",
    "speed": "speed", "sound": "loudness", "touch": "how notes are joined, parted or stressed", "mood": "mood",
    "words": "small words that go with others", "playing": "what a player does",
}  # fmt: skip


class TermOddOneOut(Facts, frozen=True, forbid_unknown_fields=True):
    """Four terms by their keys, in the order they are printed.

    Raises:
        BadDocument: there are not four of them, or no three belong together and leave one out.
    """

    among: tuple[str, ...]

    def __post_init__(self) -> None:
        if len(set(self.among)) != 4 or _odd(tuple(term_of(key) for key in self.among)) is None:
            raise BadDocument("four terms are needed, three of one theme or family and one of another")


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    languages = sorted({term.language for group in _terms(scope.terms) for term in group})
    language = pick(rng, ["Italian"] * 3 + languages)
    groups = [[term for term in group if term.language == language] for group in _terms(scope.terms)]
    whole = [group for group in groups if len(group) >= 3]
    if not whole:
        return None
    group = rng.choice(whole)
    together: Sequence[Term] = group
    others = [term for other in groups for term in other if term.family != group[0].family]
    narrow = [pair for left, right in _OPPOSED for pair in ((left, right), (right, left)) if _enough(groups, *pair)]
    if narrow and rng.random() < 0.5:
        theme, opposite = rng.choice(narrow)
        together, others = _of(groups, theme), _of(groups, opposite)
    three = rng.sample(together, 3)
    fair = [term for term in others if not any(_senses(term) & _senses(one) for one in three)]
    if not fair:
        return None
    odd = rng.choice(fair)
    among = [*three, odd]
    rng.shuffle(among)
    return Draft(TermOddOneOut(tuple(term.key for term in among)), odd.term)


def _of(groups: Sequence[Sequence[Term]], theme: str) -> list[Term]:
    return [term for group in groups for term in group if term.theme == theme]


def _enough(groups: Sequence[Sequence[Term]], theme: str, opposite: str) -> bool:
    return len(_of(groups, theme)) >= 3 and bool(_of(groups, opposite))


@lru_cache(maxsize=8)
def _terms(level: int) -> tuple[tuple[Term, ...], ...]:
    """The terms that may be used up to a level, group by group."""
    plain = [term for term in core_terms(level) if term.term not in _LEFT_OUT and us_words(term.term) == term.term]
    return tuple(tuple(term for term in plain if term.theme in themes) for themes in _GROUPS)


@lru_cache(maxsize=1024)
def _senses(term: Term) -> frozenset[str]:
    return frozenset().union(*(read_meaning(meaning) for meaning in term.meanings))


def _pose(facts: TermOddOneOut, wording: Wording) -> Posed:
    text = "Three of these terms are about the same thing. Which one is about something else?"
    return Posed((TextBlock(text),))


def _odd(terms: Sequence[Term]) -> tuple[Term, str] | None:
    """The term that the other three leave out, and the theme or family that those share."""
    for shared in ([term.theme for term in terms], [term.family for term in terms]):
        most, count = Counter(shared).most_common(1)[0]
        if count == 3:
            return next(term for term, one in zip(terms, shared, strict=True) if one != most), most
    return None


def _found(facts: TermOddOneOut) -> tuple[Term, str, tuple[Term, ...]]:
    terms = tuple(term_of(key) for key in facts.among)
    found = _odd(terms)
    if found is None:
        raise BadDocument("no three of the terms belong together")
    odd, shared = found
    return odd, shared, tuple(term for term in terms if term is not odd)


def _solve(facts: TermOddOneOut) -> tuple[Answer, ...]:
    odd, shared, three = _found(facts)
    names = f"{three[0].term}, {three[1].term} and {three[2].term}"
    reason = f"{odd.term} means “{odd.meaning}”. {names} are about {_ABOUT[shared]}."
    return (answer(Value(words=odd.term), odd.term, reason),)


def _slips(facts: TermOddOneOut) -> tuple[Slip, ...]:
    odd, shared, three = _found(facts)
    terms = (*three, odd)
    newest = max(three, key=lambda term: (term.level, len(term.term), term.key))
    strange = min(terms, key=lambda term: sum(likeness(term, other) for other in terms if other is not term))
    found = []
    for name, term in (("went by the look of the words", strange), ("picked the least known word", newest)):
        if term is not odd:
            found.append(slip(name, Value(words=term.term), term.term, _remedy(term, shared)))
    for term in three:
        if all(term.term != one.text for one in found):
            found.append(slip("mixed up a meaning", Value(words=term.term), term.term, _remedy(term, shared)))
    return tuple(found)


def _remedy(term: Term, shared: str) -> str:
    return f"{term.term} means “{term.meaning}”, so it is about {_ABOUT[shared]} too. Say what each of the four means."


def _work(facts: TermOddOneOut, method: str) -> tuple[Step, ...]:
    odd, shared, three = _found(facts)
    meanings = [f"{term.term} is “{term.meaning}”" for term in map(term_of, facts.among)]
    pairs = [f"{one.term} with {other.term}" for one, other in combinations(three, 2)]
    return (
        Step(f"Say what each one means: {'; '.join(meanings)}."),
        Step(f"See which go together: {', '.join(pairs)}. All three are about {_ABOUT[shared]}.", (), _ABOUT[shared]),
        Step(f"The one left over is {odd.term}.", (), odd.term),
        Step(f"Check: is {odd.term} about {_ABOUT[shared]}? No, it means “{odd.meaning}”."),
    )


def _difficulty(facts: TermOddOneOut) -> float:
    """Four meanings to know; late terms, another language and an odd one of the same family are harder."""
    odd, _, three = _found(facts)
    terms = (*three, odd)
    level = sum(term.level for term in terms) / len(terms)
    near = 0.3 if three[0].family == odd.family else 0.0
    return -1.1 + 0.2 * level + near + (0.4 if odd.language != "Italian" else 0.0)


def _tokens(facts: TermOddOneOut) -> frozenset[str]:
    return frozenset(f"term:{term_of(key).term.casefold()}" for key in facts.among)


KIND = Kind(
    id="term-odd-one-out",
    topic="terms",
    since=1,
    title="The odd one out",
    facts=TermOddOneOut,
    forms={"written": "choice", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"term-odd-one-out/{_found(facts)[1]}",
    pool=lambda scope: None,
    seconds=25,
    marking=Marking("all-or-nothing"),
    options=lambda facts: tuple(Value(words=term_of(key).term) for key in facts.among),
    asks=_tokens,
    shows=_tokens,
)
