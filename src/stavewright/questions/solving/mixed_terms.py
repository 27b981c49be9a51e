"""The terms that one term is mixed up with, no two of them with nearly one meaning."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from stavewright.questions.solving.terms import look_alikes, neighbours, opposites, strangers
from stavewright.syllabus.meanings import too_near
from stavewright.syllabus.terms import Term


def mixed_up(
    term: Term, level: int, *, near: int = 2, fair: Callable[[Term], bool] = lambda other: True
) -> list[tuple[str, Term]]:
    """The slips with the term that each takes: opposite, look-alike, then `near` neighbours; only `fair` ones.

    >>> from stavewright.syllabus.terms import term_of
    >>> [(name, other.term) for name, other in mixed_up(term_of("Forte|Italian"), 1)][:2]
    [('took it for its opposite', 'Piano'), ('took it for a word that looks like it', 'Mezzo forte')]
    """
    found: list[tuple[str, Term]] = []
    for name, others, count in (
        ("took it for its opposite", opposites(term, level), 1),
        ("took it for a word that looks like it", look_alikes(term, level), 1),
        ("took it for a neighbour", neighbours(term, level), near),
    ):
        left = count
        for other in others:
            if left and fair(other) and not any(too_near(other.meaning, one.meaning) for _, one in found):
                found.append((name, other))
                left -= 1
    return found


def further_meanings(term: Term, level: int, said: Sequence[str]) -> list[str]:
    """More wrong meanings, of neighbours and look-alikes, none of them near one that is `said` already.

    >>> from stavewright.syllabus.terms import term_of
    >>> further_meanings(term_of("Forte|Italian"), 1, ["soft", "moderately loud"])[0]
    'gradually getting louder'
    """
    near = [*neighbours(term, level)[2:6], *look_alikes(term, level)[1:3]]
    apart: list[str] = []
    for other in (*near, *(strangers(term, level) if len(near) < 3 else ())):
        if not any(too_near(other.meaning, one) for one in (*said, *apart)):
            apart.append(other.meaning)
    return apart
