"""The plan of a melody: which bars return, where the phrases close, and the harmony they imply."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from random import Random
from typing import Final, Literal

from stavewright.composing.errors import CannotCompose

Role = Literal["open", "free", "half", "approach", "close"]

TONIC, SUPERTONIC, SUBDOMINANT, DOMINANT, SUBMEDIANT = 0, 1, 3, 4, 5
"""Roots of the implied chords, in scale steps above the tonic."""

MOST_BARS: Final = 32


@dataclass(frozen=True, slots=True)
class BarPlan:
    """What one bar does: its role, the bar it takes its rhythm or notes from, and its chords in order.

    `like` is the index of the bar whose rhythm returns here; `exact` says that its notes return as well.
    `shift` says that they return moved by so many scale steps: a sequence.
    `chords` has one root for the whole bar, or two, the second from the bar's last heavy or last beat on.
    """

    role: Role
    chords: tuple[int, ...]
    like: int | None = None
    exact: bool = False
    shift: int | None = None


_MIDDLES: Final = (SUBDOMINANT, SUPERTONIC, DOMINANT, SUBMEDIANT, TONIC)
_LINKS: Final = (1, 1, 1, -2, 3)
"""How far a sequence moves its pattern, in scale steps."""
_TO_HALF: Final = ((DOMINANT,), (TONIC, DOMINANT), (SUBDOMINANT, DOMINANT), (SUPERTONIC, DOMINANT))
_TO_CLOSE: Final = ((SUBDOMINANT, DOMINANT), (SUPERTONIC, DOMINANT), (TONIC, DOMINANT), (DOMINANT,))


@lru_cache(maxsize=64)
def _roles(bars: int) -> tuple[Role, ...]:
    """An opening, a half close at the middle of four bars or more, a dominant before the end, a close."""
    roles: list[Role] = ["free"] * bars
    roles[0] = "open"
    if bars >= 4 and bars % 2 == 0:
        roles[bars // 2 - 1] = "half"
    if bars > 2:
        roles[-2] = "approach"
    roles[-1] = "close"
    return tuple(roles)


def plan_bars(bars: int, rng: Random, *, sequence: bool = False) -> tuple[BarPlan, ...]:
    """Plan a melody of so many whole bars.

    Four bars: a question of two and an answer of two that begins like it. Eight: the answer's first two bars return
    note for note or in rhythm. `sequence` asks for a second bar that is the first one moved.
    The bar before the last leads to the dominant and the last is the tonic.
    Source: common practice (the period of question and answer).

    Raises:
        CannotCompose: fewer than 2 bars or more than 32.

    >>> [bar.role for bar in plan_bars(4, Random(1))]
    ['open', 'half', 'approach', 'close']
    """
    if not 2 <= bars <= MOST_BARS:
        raise CannotCompose(f"a melody of {bars} bars", right=f"ask for 2 to {MOST_BARS} bars")
    plans: list[BarPlan] = []
    half = bars // 2 if bars >= 4 and bars % 2 == 0 else 0
    period = half >= 4 and rng.random() < 0.7
    if sequence and bars < 4:
        raise CannotCompose(f"a sequence in {bars} bars", right="ask for 4 bars or more")
    for index, role in enumerate(_roles(bars)):
        if sequence and index == 1:
            shift = rng.choice(_LINKS)
            plans.append(BarPlan("free", (shift % 7,), like=0, shift=shift))
            continue
        answer = index - half if half and index >= half else None
        if role == "open":
            plans.append(BarPlan(role, (TONIC, DOMINANT) if bars == 2 else (TONIC,)))
        elif role == "half":
            plans.append(BarPlan(role, rng.choice(_TO_HALF), like=0 if half == 2 and rng.random() < 0.3 else None))
        elif role == "close":
            plans.append(BarPlan(role, (TONIC,)))
        elif answer is not None and period and answer < min(2, half - 2):
            plans.append(replace(plans[answer], role="free", like=answer, exact=True))
        elif role == "approach":
            plans.append(BarPlan(role, rng.choice(_TO_CLOSE), like=0 if half == 2 or rng.random() < 0.3 else None))
        elif answer == 0:
            plans.append(BarPlan(role, (rng.choice((TONIC, SUBMEDIANT, SUBDOMINANT)),), like=0))
        else:
            like = index - 1 if rng.random() < 0.4 else 0 if index > 1 and rng.random() < 0.5 else None
            before = plans[-1].chords[-1]
            shift = rng.choice(_LINKS)
            if like == index - 1 and rng.random() < 0.6 and (before + shift) % 7 in _MIDDLES:
                plans.append(BarPlan(role, ((before + shift) % 7,), like=like, shift=shift))
                continue
            plans.append(BarPlan(role, (rng.choice([one for one in _MIDDLES if one != before]),), like=like))
    return tuple(plans)
