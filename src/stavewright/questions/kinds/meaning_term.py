"""Which term has a meaning: written down, or picked from its neighbours, look-alikes and opposites."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from random import Random

from stavewright.questions.documents import Answer, Slip, Step, TextBlock, WordsForm
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.setting.picking import pick
from stavewright.questions.solving.mixed_terms import mixed_up
from stavewright.questions.solving.terms import apart, look_alikes, neighbours, opposites, words_inside
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording, us_words
from stavewright.syllabus.meanings import fold, same_meaning
from stavewright.syllabus.scope import Scope
from stavewright.syllabus.terms import Term, all_terms, core_terms, term_of

# Short forms that stand for the term in print. Source: common practice.
_SHORT = {
    "Rallentando": ("rall.",),
    "Ritardando": ("rit.", "ritard."),
    "Ritenuto": ("rit.", "riten."),
    "Accelerando": ("accel.",),
    "Crescendo": ("cresc.",),
    "Decrescendo": ("decresc.",),
    "Diminuendo": ("dim.", "dimin."),
    "Stringendo": ("string.",),
    "Pizzicato": ("pizz.",),
    "Staccato": ("stacc.",),
    "Sostenuto": ("sost.",),
    "Espressivo": ("espress.",),
    "Piano": ("p",),
    "Pianissimo": ("pp",),
    "Mezzo piano": ("mp", "mezzopiano"),
    "Mezzo forte": ("mf", "mezzoforte"),
    "Forte": ("f",),
    "Fortissimo": ("ff",),
    "Fortepiano": ("fp",),
    "Sforzando": ("sf", "sfz"),
    "Rinforzando": ("rf", "rfz"),
    "Da capo": ("DC",),
    "Dal segno": ("DS",),
    "Tempo primo": ("Tempo 1",),
    "Con sordino": ("con sord.",),
    "Senza sordino": ("senza sord.",),
    "Ma non troppo": ("non troppo",),
}
_UMLAUTS = str.maketrans({"ä": "ae", "ö": "oe", "ü": "ue", "Ä": "Ae", "Ö": "Oe", "Ü": "Ue", "ß": "ss"})


class MeaningTerm(Facts, frozen=True, forbid_unknown_fields=True):
    """The term whose meaning is printed, by its key, and the level of terms that the pupil has met."""

    term: str
    level: int


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    known, fresh = _asked(scope.terms)
    chosen = pick(rng, known, fresh)
    return Draft(MeaningTerm(chosen.key, scope.terms), chosen.term)


@lru_cache(maxsize=8)
def _asked(level: int) -> tuple[tuple[Term, ...], tuple[Term, ...]]:
    """The terms that may be asked up to a level, and those that the level has just added."""
    known = tuple(term for term in core_terms(level) if _askable(term))
    return known, tuple(term for term in known if term.level == level)


def _askable(term: Term) -> bool:
    """Whether the meaning does not name the term, in a language with enough terms to choose from, in fixed words."""
    said = set(fold(term.meaning))
    names_itself = any(set(fold(name)) <= said for name in (term.term, *term.other))
    return not names_itself and term.language != "Latin" and us_words(term.term) == term.term


def _pose(facts: MeaningTerm, wording: Wording) -> Posed:
    term = term_of(facts.term)
    meaning = wording.say(term.meaning)
    if wording.choosing:
        return Posed((TextBlock(f"Which {term.language} term means “{meaning}”?"),))
    return Posed((TextBlock(f"Write the {term.language} term that means “{meaning}”."),), WordsForm("phrase"))


def _solve(facts: MeaningTerm) -> tuple[Answer, ...]:
    term = term_of(facts.term)
    found = [answer(Value(words=term.term), term.term, f"{term.term} is {term.language} for “{term.meaning}”.")]
    plain = term.term.translate(_UMLAUTS)
    for name in (*term.other, *_SHORT.get(term.term, ()), *((plain,) if plain != term.term else ())):
        found.append(answer(Value(words=name), name, f"“{name}” is another way to write {term.term}."))
    for other in all_terms():
        if other.language != term.language or other.key == term.key:
            continue
        if not any(same_meaning(term.meaning, said) for said in other.meanings):
            continue
        for name in (other.term, *other.other, *_SHORT.get(other.term, ())):
            if all(name != one.text for one in found):
                found.append(answer(Value(words=name), name, f"{other.term} can mean “{term.meaning}” as well."))
    return tuple(found)


def _fair(term: Term, others: Sequence[Term]) -> list[Term]:
    """Terms of the same language that are surely wrong here and print alike in UK and US words."""
    return [
        other
        for other in others
        if other.language == term.language and apart(term, other) and us_words(other.term) == other.term
    ]


def _slips(facts: MeaningTerm) -> tuple[Slip, ...]:
    term = term_of(facts.term)
    found: list[Slip] = []
    for name, other in mixed_up(term, facts.level, fair=lambda other: bool(_fair(term, [other]))):
        remedy = f"{other.term} means “{other.meaning}”. Say both words with their meanings, one after the other."
        found.append(slip(name, Value(words=other.term), other.term, remedy))
    return tuple(found)


def _neighbours(facts: MeaningTerm) -> tuple[Value, ...]:
    term = term_of(facts.term)
    near = _fair(term, neighbours(term, facts.level))[2:6] + _fair(term, look_alikes(term, facts.level))[1:3]
    if len(near) < 3:
        start = sum(map(ord, term.term))
        rest = _fair(term, core_terms(facts.level))
        near += [rest[(start + 7 * step) % len(rest)] for step in range(3)]
    return tuple(Value(words=other.term) for other in near)


def _work(facts: MeaningTerm, method: str) -> tuple[Step, ...]:
    term = term_of(facts.term)
    mates = [other.term for other in core_terms(facts.level) if other.theme == term.theme and other.key != term.key][:3]
    steps = [Step(f"The word is {term.language}. Think of the words that belong to “{term.meaning}”.")]
    if mates:
        steps.append(Step(f"Others of its theme are {', '.join(mates)}.", (), mates[0]))
    steps.append(Step(f"“{term.meaning}” is {term.term}.", (), term.term))
    inside = words_inside(term)
    if inside:
        steps.append(Step(f"The words inside it tell you: {'; '.join(inside)}."))
    far = _fair(term, opposites(term, facts.level)) or _fair(term, neighbours(term, facts.level))
    if far:
        steps.append(Step(f"Check: it is not {far[0].term}, which means “{far[0].meaning}”."))
    else:
        steps.append(Step("Check: say the term and its meaning once more, with the paper turned over."))
    return tuple(steps)


def _difficulty(facts: MeaningTerm) -> float:
    """Recalling the word is harder than knowing it; a new level, a late language and a phrase add (common practice)."""
    term = term_of(facts.term)
    late = 0.4 if term.language != "Italian" else 0.0
    fresh = 0.4 if term.level == facts.level else 0.0
    return -1.1 + 0.1 * term.level + late + fresh + (0.2 if " " in term.term else 0.0)


def _token(facts: MeaningTerm) -> frozenset[str]:
    return frozenset({f"term:{term_of(facts.term).term.casefold()}"})


KIND = Kind(
    id="meaning-term",
    topic="terms",
    since=1,
    title="The term for a meaning",
    facts=MeaningTerm,
    forms={"written": "words", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"meaning-term/{facts.term}",
    pool=lambda scope: len(_asked(scope.terms)[0]),
    seconds=18,
    marking=Marking("all-or-nothing"),
    neighbours=_neighbours,
    asks=_token,
    shows=_token,
)
