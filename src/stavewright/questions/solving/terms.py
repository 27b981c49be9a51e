"""Terms that are mixed up with a term: its opposite, its look-alike, its neighbours of one theme; words inside it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from difflib import SequenceMatcher
from functools import lru_cache

from stavewright.syllabus.meanings import fold, opposed, too_near
from stavewright.syllabus.terms import Term, all_terms, core_terms

_ALIKE = 0.62
_ENDINGS = {"issimo": "very", "etto": "a little, less", "ino": "a little, less", "mente": "in that manner"}


@lru_cache(maxsize=65536)
def apart(term: Term, other: Term) -> bool:
    """Whether another term's meaning is surely wrong for this one, and does not give it away by naming it.

    >>> from stavewright.syllabus.terms import term_of
    >>> apart(term_of("Rallentando|Italian"), term_of("Ritardando|Italian"))
    False
    """
    near = (too_near(right, wrong) for right in term.meanings for wrong in other.meanings)
    return term.key != other.key and not any(near) and not _names(other.meaning, term)


def _names(meaning: str, term: Term) -> bool:
    words = fold(term.term)
    said = fold(meaning)
    return any(said[at : at + len(words)] == words for at in range(len(said)))


def _nearest(term: Term, level: int, wanted: Callable[[Term], bool]) -> tuple[Term, ...]:
    found = [other for other in core_terms(level) if apart(term, other) and wanted(other)]
    return tuple(
        sorted(
            found,
            key=lambda other: (
                other.language != term.language,
                len(fold(other.term)) != len(fold(term.term)),
                abs(other.level - term.level),
                -likeness(term, other),
                other.key,
            ),
        )
    )


@lru_cache(maxsize=65536)
def likeness(one: Term, other: Term) -> float:
    """How alike two terms look, 0 to 1.

    >>> from stavewright.syllabus.terms import term_of
    >>> likeness(term_of("Largo|Italian"), term_of("Larghetto|Italian")) > 0.5
    True
    """
    return SequenceMatcher(None, " ".join(fold(one.term)), " ".join(fold(other.term))).ratio()


@lru_cache(maxsize=1024)
def opposites(term: Term, level: int) -> tuple[Term, ...]:
    """Terms up to a level that say the opposite, the nearest first.

    >>> from stavewright.syllabus.terms import term_of
    >>> opposites(term_of("Forte|Italian"), 1)[0].term
    'Piano'
    """
    return _nearest(term, level, lambda other: opposed(term.meaning, other.meaning))


def look_alike(one: Term, other: Term) -> bool:
    """Whether two terms look enough alike to be read for each other.

    >>> from stavewright.syllabus.terms import term_of
    >>> look_alike(term_of("Largo|Italian"), term_of("Larghetto|Italian"))
    True
    """
    return likeness(one, other) >= _ALIKE


@lru_cache(maxsize=1024)
def look_alikes(term: Term, level: int) -> tuple[Term, ...]:
    """Terms up to a level that look like this one, the most alike first.

    >>> from stavewright.syllabus.terms import term_of
    >>> look_alikes(term_of("Allegretto|Italian"), 1)[0].term
    'Allegro'
    """
    found = [other for other in core_terms(level) if apart(term, other) and look_alike(term, other)]
    return tuple(sorted(found, key=lambda other: (-likeness(term, other), other.key)))


@lru_cache(maxsize=1024)
def neighbours(term: Term, level: int) -> tuple[Term, ...]:
    """Terms up to a level of the same family with another meaning, those of the same theme first.

    >>> from stavewright.syllabus.terms import term_of
    >>> [other.theme for other in neighbours(term_of("Forte|Italian"), 1)][:2]
    ['loud', 'loud']
    """
    found = _nearest(term, level, lambda other: other.family == term.family)
    return tuple(sorted(found, key=lambda other: other.theme != term.theme))


@lru_cache(maxsize=1024)
def strangers(term: Term, level: int) -> tuple[Term, ...]:
    """A few terms up to a level of other themes, always the same for one term: for a family with too few.

    >>> from stavewright.syllabus.terms import term_of
    >>> len(strangers(term_of("Piano|Italian"), 1))
    3
    """
    others = [other for other in core_terms(level) if other.family != term.family and apart(term, other)]
    start = sum(map(ord, term.term)) % max(1, len(others))
    return tuple((others[start:] + others[:start])[::7][:3])


@lru_cache(maxsize=1024)
def words_inside(term: Term) -> tuple[str, ...]:
    """The known words a term is made of, each with its meaning; nothing where it is one plain word.

    >>> from stavewright.syllabus.terms import term_of
    >>> words_inside(term_of("Prestissimo|Italian"))
    ('presto: very fast', '-issimo: very')
    """
    pieces = fold(term.term)
    known = {fold(other.term)[0]: other for other in all_terms() if _one_word(other, term.language)}
    if len(pieces) > 1:
        return tuple(f"{piece}: {known[piece].meaning}" for piece in pieces if piece in known)
    for ending, sense in _ENDINGS.items():
        stem = pieces[0].removesuffix(ending)
        if term.language != "Italian" or stem == pieces[0] or len(stem) < 4:
            continue
        root = _root(stem, known)
        if root is not None and root.key != term.key:
            return (f"{root.term.lower()}: {root.meaning}", f"-{ending}: {sense}")
    return ()


def _one_word(term: Term, language: str) -> bool:
    return term.language == language and len(fold(term.term)) == 1 and not term.term.startswith("-")


def _root(stem: str, known: dict[str, Term]) -> Term | None:
    tries: Sequence[str] = (f"{stem}o", f"{stem}e", stem, f"{stem.removesuffix('h')}o", f"{stem.removesuffix('i')}o")
    return next((known[one] for one in tries if one in known), None)
