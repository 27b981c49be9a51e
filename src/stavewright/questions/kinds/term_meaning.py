"""What a term means, in the pupil's own words or picked from its neighbours, look-alikes and opposites."""

from __future__ import annotations

from functools import lru_cache
from random import Random

from stavewright.questions.documents import Answer, Slip, Step, TextBlock, WordsForm
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.setting.picking import pick
from stavewright.questions.solving.mixed_terms import further_meanings, mixed_up
from stavewright.questions.solving.terms import look_alikes, neighbours, opposites, words_inside
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.syllabus.scope import Scope
from stavewright.syllabus.terms import Term, core_terms, term_of

_THEME_WORDS = {
    "tempo slow": "a slow speed",
    "tempo fast": "a fast speed",
    "medium and other speeds": "a speed",
    "getting slower": "a speed that goes down",
    "getting faster": "a speed that goes up",
    "back to a speed": "coming back to a speed",
    "free and strict time": "how strictly the time is kept",
    "loud": "loud playing",
    "soft": "soft playing",
    "getting louder": "a sound that grows",
    "getting softer": "a sound that fades",
    "sad": "a sad mood",
    "happy and playful": "a happy mood",
    "gentle and tender": "a gentle mood",
    "calm and simple": "a calm mood",
    "strong and fiery": "a strong mood",
    "grand and solemn": "a grand mood",
    "singing and other manners": "the manner of playing",
    "articulation": "how notes are joined, parted or stressed",
    "how much and how": "how much",
    "technique and players": "what a player does",
    "repeats and form": "where to go in the music",
    "little words": "how words are joined",
    "musical nouns": "a thing in music",
}


class TermMeaning(Facts, frozen=True, forbid_unknown_fields=True):
    """A term by its key (the term and its language), and the level of terms that the pupil has met."""

    term: str
    level: int


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    known, fresh = _asked(scope.terms)
    chosen = pick(rng, known, fresh)
    return Draft(TermMeaning(chosen.key, scope.terms), chosen.meaning)


@lru_cache(maxsize=8)
def _asked(level: int) -> tuple[tuple[Term, ...], tuple[Term, ...]]:
    """The terms that may be asked up to a level, and those that the level has just added."""
    known = tuple(term for term in core_terms(level) if not _told(term))
    return known, tuple(term for term in known if term.level == level)


def _told(term: Term) -> bool:
    """Whether the term as printed says its own meaning (a word that English uses too)."""
    said = f" {term.term.casefold()} "
    return any(f" {meaning.casefold()} " in said for meaning in term.meanings)


def _printed(term: Term) -> str:
    short = next((other for other in term.other if "." in other), None)
    return f"{term.term} ({short})" if short else term.term


def _pose(facts: TermMeaning, wording: Wording) -> Posed:
    term = term_of(facts.term)
    shared = f" ({term.language})" if term.language != "Italian" else ""
    ask = "Which is the meaning of" if wording.choosing else "Write the meaning of"
    text = TextBlock(f"{ask} “{_printed(term)}”{shared}{'?' if wording.choosing else '.'}")
    return Posed((text,), None if wording.choosing else WordsForm("phrase"))


def _solve(facts: TermMeaning) -> tuple[Answer, ...]:
    term = term_of(facts.term)
    first = f"{term.term} is {term.language} for “{term.meaning}”."
    found = [answer(Value(words=term.meaning), term.meaning, first)]
    for other in term.accepted:
        found.append(answer(Value(words=other), other, f"Another way to say what {term.term} means."))
    return tuple(found)


def _slips(facts: TermMeaning) -> tuple[Slip, ...]:
    found: list[Slip] = []
    for name, other in mixed_up(term_of(facts.term), facts.level):
        remedy = f"That is {other.term}. Say the two words with their meanings, one after the other."
        found.append(slip(name, Value(words=other.meaning), other.meaning, remedy))
    return tuple(found)


def _neighbours(facts: TermMeaning) -> tuple[Value, ...]:
    said = [one.text for one in _slips(facts)]
    return tuple(Value(words=one) for one in further_meanings(term_of(facts.term), facts.level, said))


def _work(facts: TermMeaning, method: str) -> tuple[Step, ...]:
    term = term_of(facts.term)
    family = _THEME_WORDS[term.theme]
    steps = [Step(f"{term.term} is {term.language}. It is about {family}.", (), family)]
    inside = words_inside(term)
    if inside:
        steps.append(Step(f"Look for words you know inside it: {'; '.join(inside)}."))
    steps.append(Step(f"It means “{term.meaning}”.", (), term.meaning))
    far = opposites(term, facts.level) or neighbours(term, facts.level)
    if far:
        steps.append(Step(f"Check: it is not {far[0].term}, which means “{far[0].meaning}”."))
    else:
        steps.append(Step("Check: say the term and its meaning once more, with the paper turned over."))
    return tuple(steps)


def _difficulty(facts: TermMeaning) -> float:
    """A level more than the first, a language met late, a phrase and a close look-alike add up (common practice)."""
    term = term_of(facts.term)
    late = 0.4 if term.language != "Italian" else 0.0
    fresh = 0.4 if term.level == facts.level else 0.0
    alike = 0.3 if look_alikes(term, facts.level) else 0.0
    return -1.4 + 0.1 * term.level + late + fresh + alike + (0.2 if " " in term.term else 0.0)


def _token(facts: TermMeaning) -> frozenset[str]:
    return frozenset({f"term:{term_of(facts.term).term.casefold()}"})


KIND = Kind(
    id="term-meaning",
    topic="terms",
    since=1,
    title="What a term means",
    facts=TermMeaning,
    forms={"written": "words", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"term-meaning/{facts.term}",
    pool=lambda scope: sum(not _told(term) for term in core_terms(scope.terms)),
    seconds=15,
    marking=Marking("all-or-nothing", meaning=True),
    neighbours=_neighbours,
    asks=_token,
    shows=_token,
)
