"""Picking one note or rest of a scope: its value, its dots, and whether it is a rest."""

from __future__ import annotations

from random import Random

from stavewright.questions.setting.picking import pick
from stavewright.syllabus.scope import Scope
from stavewright.theory.duration import VALUES

_DOTTED_SHARE = 0.3


def one_value(scope: Scope, rng: Random) -> tuple[str, int, bool]:
    """A value of the grade, the newest favoured, with its dots and whether it is a rest.

    >>> from stavewright.syllabus.scope import scope_for
    >>> one_value(scope_for(1), Random(4))[0] in scope_for(1).values
    True
    """
    rest = rng.random() < 0.5
    value = pick(rng, scope.values, scope.fresh.get("values", ()))
    dots = 0
    if rng.random() < _DOTTED_SHARE and value in _dotted(scope, rest=rest):
        dots = rng.randint(1, 1 if rest else scope.dots)
    return value, dots, rest


def how_many_values(scope: Scope) -> int:
    """How many different notes and rests `one_value` can pick."""
    return 2 * len(scope.values) + scope.dots * len(_dotted(scope, rest=False)) + len(_dotted(scope, rest=True))


def _dotted(scope: Scope, *, rest: bool) -> tuple[str, ...]:
    """The values shown with a dot: neither the longest nor the shortest; rests only where compound time is in use."""
    if rest and all(time.kind != "compound" for time in scope.time_signatures):
        return ()
    ordered = [value for value in VALUES if value in scope.values]
    return tuple(value for value in ordered[:-1] if value != "breve")
