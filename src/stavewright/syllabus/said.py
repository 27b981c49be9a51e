"""What was said: the words of a meaning mended, put into senses, degrees and denials."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from stavewright.syllabus.meanings import Lexicon, fold, lexicon, senses_in_order
from stavewright.syllabus.signs import all_signs
from stavewright.syllabus.spelling import nearest
from stavewright.syllabus.terms import FAMILY_OF, all_terms
from stavewright.syllabus.ways import instead, opposite_of, ways

_NOT = frozenset({"not", "without"})
_FOLLOWING = frozenset({"then", "at once", "followed", "after", "afterwards"})


@dataclass(frozen=True, slots=True)
class Said:
    """A meaning as heard: all its senses, those that say what (`core`), how much, and what is denied.

    `turns` are opposites it holds, in order, and `follows` says that they come one after the other ("loud, then soft").
    `mended` are the spellings forgiven.
    """

    all: frozenset[str]
    core: frozenset[str]
    degrees: frozenset[str]
    denied: frozenset[str]
    turns: tuple[str, ...]
    follows: bool
    mended: tuple[tuple[str, str], ...]


@lru_cache(maxsize=1)
def _vocabulary() -> dict[str, str]:
    """Every word that meanings are said in, with what it says alone."""
    table = lexicon()
    words: dict[str, str] = {}
    for phrase, sense in table.phrases.items():
        for word in phrase:
            words.setdefault(word, word)
        if len(phrase) == 1:
            words[phrase[0]] = sense or phrase[0]
    for said in _meanings():
        for word in fold(said):
            words.setdefault(word, word)
    for piece in instead()[0]:
        if len(piece) > 1:
            for word in piece:
                words.setdefault(word, word)
    return words


@lru_cache(maxsize=1)
def _meanings() -> tuple[str, ...]:
    terms = [said for term in all_terms() for said in term.meanings]
    return (*terms, *(said for sign in all_signs().values() for said in sign.right("meaning")))


@lru_cache(maxsize=16384)
def _word(word: str) -> str:
    """A word as it is known: itself, with another ending, or mended; an unknown one stays."""
    known, table = _vocabulary(), ways()
    plain = word in table.own or word in table.padding or word in table.loose
    if plain or word in known or (word,) in instead()[0] or word.isdigit():
        return word
    for other in _endings(word):
        if other in known and (other,) in lexicon().phrases:
            return other
    return nearest(word, known) or word


def _endings(word: str) -> tuple[str, ...]:
    pairs = (
        ("ily", "y"), ("ically", "ic"), ("ally", "al"), ("ly", ""), ("ly", "e"), ("ness", ""), ("iness", "y"),
        ("ing", ""), ("ing", "e"), ("ed", ""), ("ed", "e"), ("s", ""), ("", "ly"), ("", "ed"), ("e", "ed"),
    )  # fmt: skip
    return tuple(
        word[: len(word) - len(old)] + new for old, new in pairs if word.endswith(old) and len(word) - len(old) > 2
    )


@lru_cache(maxsize=16384)
def hear(text: str) -> Said:
    """Hear a meaning: mend its words, say them the plain way, find the senses.

    Raises:
        BadSyllabus: a data file is broken.

    >>> said = hear("Not realy lound")
    >>> sorted(said.denied), sorted(said.degrees), said.mended
    (['loud'], ['not', 'very'], (('realy', 'really'), ('lound', 'loud')))
    """
    table, small = lexicon(), ways()
    first = fold(text)
    words = tuple(_word(word) for word in first)
    mended = tuple((one, other) for one, other in zip(first, words, strict=True) if one != other)
    senses = senses_in_order(" ".join(_plain(words)))
    kept = tuple(sense for sense in senses if sense not in small.padding) or senses
    if "as possible" in kept:
        kept = tuple(sense for sense in kept if sense != "like") or kept
    core, degrees, denied = _sorted(_in_step(kept), table)
    turns = tuple(sense for sense in kept if sense in core and opposite_of(sense) & core)
    follows = bool(turns) and not _FOLLOWING.isdisjoint(senses)
    return Said(core | degrees | denied, core, degrees, denied, turns, follows, mended)


def _plain(words: tuple[str, ...]) -> tuple[str, ...]:
    """The words said the plain way; a phrase that has a sense of its own stays as it is."""
    (table, longest), phrases = instead(), lexicon()
    found: list[str] = []
    place = 0
    while place < len(words):
        for size in range(min(max(longest, phrases.longest), len(words) - place), 0, -1):
            piece = words[place : place + size]
            plain = table.get(piece)
            if plain is None and size > 1 and phrases.phrases.get(piece) is not None:
                plain = piece
            if plain is not None:
                found += plain
                place += size
                break
        else:
            found.append(words[place])
            place += 1
    return tuple(found) or words


_GROWING = {than: f"getting {than}" for than in ("slower", "faster", "louder", "softer")}
_AT_ONCE = {growing: than for than, growing in _GROWING.items()}


def _in_step(senses: tuple[str, ...]) -> tuple[str, ...]:
    """Changes in one way: "softer and slower" is getting both, and a change by degrees needs no "little by little"."""
    senses = tuple("little by little" if sense == "gradually" else sense for sense in senses)
    if "more and more" in senses and len(set(senses)) > 1:
        senses = tuple("more" if sense == "more and more" else sense for sense in senses)
    if "at once" in senses:
        senses = tuple(_AT_ONCE.get(sense, sense) for sense in senses)
    changing = [sense for sense in senses if sense in _GROWING or sense in _GROWING.values()]
    if len(changing) > 1 or (changing and "little by little" in senses):
        senses = tuple(_GROWING.get(sense, sense) for sense in senses)
        if "at once" not in senses:
            senses = tuple(sense for sense in senses if sense != "little by little")
    return senses


def _sorted(senses: tuple[str, ...], table: Lexicon) -> tuple[frozenset[str], frozenset[str], frozenset[str]]:
    """What is said, how much, and what is denied: "not" denies the next sense; "not loud" is the opposite, soft."""
    core: set[str] = set()
    degrees: set[str] = set()
    denied: set[str] = set()
    denying = False
    if len(senses) == 1 and senses[0] in _NOT:
        return frozenset(senses), frozenset(), frozenset()
    for sense in senses:
        if sense in _NOT:
            denying = True
            degrees.add("not")
        elif sense in table.degrees:
            degrees.add(sense)
        elif denying:
            denied.add(sense)
            denying = False
        else:
            core.add(sense)
    if {"not", "too"} <= degrees:
        core, denied = core or denied, denied - (core or denied)
    for sense in tuple(denied):
        if opposite_of(sense) & core:
            denied.discard(sense)
            degrees -= set() if denied else {"not"}
    if len(denied) == 1 and degrees <= {"not"} and not core:
        turned = table.opposites.get(next(iter(denied)))
        if turned is not None:
            return frozenset({turned}), frozenset(), frozenset()
    return frozenset(core), frozenset(degrees), frozenset(denied)


def is_known(sense: str) -> bool:
    """Whether a sense is one of the table's, or a word that meanings are said in, or a plain word of other things."""
    return sense in _senses() or sense in _vocabulary() or sense in ways().own


@lru_cache(maxsize=1)
def _senses() -> frozenset[str]:
    return frozenset(sense for sense in lexicon().phrases.values() if sense is not None)


@lru_cache(maxsize=1)
def _moods() -> dict[str, frozenset[str]]:
    found: dict[str, set[str]] = {}
    for term in all_terms():
        if FAMILY_OF[term.theme] == "mood":
            for said in term.meanings:
                for sense in hear(said).core:
                    found.setdefault(sense, set()).add(term.theme)
    return {sense: frozenset(themes) for sense, themes in found.items()}


def same_mood(sense: str, others: frozenset[str]) -> bool:
    """Whether a sense belongs to a mood that one of the others belongs to: said beside it, it does no harm.

    >>> same_mood("gentle", frozenset({"sweet"})), same_mood("loud", frozenset({"sweet"}))
    (True, False)
    """
    moods = _moods()
    return any(moods.get(sense, frozenset()) & moods.get(other, frozenset()) for other in others)


@lru_cache(maxsize=1)
def _taken() -> dict[frozenset[str], str]:
    found: dict[frozenset[str], str] = {}
    for term in all_terms():
        for said in term.meanings:
            found.setdefault(hear(said).all, term.term)
    return found


def taken(senses: frozenset[str]) -> str | None:
    """The term that means just this, if there is one.

    >>> taken(hear("as soft as possible").all), taken(hear("like a purple cow").all)
    ('Pianississimo', None)
    """
    return _taken().get(senses)


def all_other_things(senses: frozenset[str]) -> bool:
    """Whether every word is a plain word of other things.

    >>> all_other_things(frozenset({"castle"})), all_other_things(frozenset({"castle", "loud"}))
    (True, False)
    """
    return bool(senses) and senses <= ways().own
