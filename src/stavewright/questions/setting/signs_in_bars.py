"""Two bars in which one note is decided by a signature, an earlier sign, a bar line, an octave or a tie."""

from __future__ import annotations

from collections.abc import Sequence
from random import Random

from stavewright.questions.written import Written
from stavewright.syllabus.scope import Scope
from stavewright.theory.accidental import sign_name
from stavewright.theory.clef import CLEFS
from stavewright.theory.key import signature_alter
from stavewright.theory.pitch import NoteName, Pitch

SITUATIONS = ("signature", "earlier", "bar-line", "octave", "tie", "after-tie", "changed")
_RARE = frozenset({("E", 1), ("B", 1), ("C", -1), ("F", -1)})
_IN_A_BAR = 4

TwoBars = tuple[tuple[tuple[Written, ...], ...], int, int, NoteName]


def two_bars(scope: Scope, rng: Random, clef: str, fifths: int, situation: str) -> TwoBars | None:
    """Bars, the bar and note asked for (from 1), and the name it has by construction; None where it cannot be made."""
    low, high = scope.range_of(clef)
    bottom = CLEFS[clef].bottom_line.diatonic
    place = rng.randint(low.diatonic, high.diatonic) - bottom
    step = Pitch.from_diatonic(bottom + place).step
    plain = signature_alter(fifths, step)
    if situation == "signature" and not plain:
        altered = [
            at for at in range(low.diatonic, high.diatonic + 1) if signature_alter(fifths, Pitch.from_diatonic(at).step)
        ]
        if not altered:
            return None
        place = rng.choice(altered) - bottom
        step = Pitch.from_diatonic(bottom + place).step
        plain = signature_alter(fifths, step)
    alter = _foreign(scope, rng, step, plain)
    if alter is None:
        return None
    sign = sign_name(alter)
    bars = [
        [_filler(rng, place, low.diatonic - bottom, high.diatonic - bottom) for _ in range(_IN_A_BAR)] for _ in (0, 1)
    ]
    early, late = sorted(rng.sample(range(_IN_A_BAR), 2))
    bar = rng.choice((0, 1))
    if situation == "signature":
        name, bar = plain, 1
    elif situation == "earlier":
        bars[bar][early] = Written(place, sign)
        name = alter
    elif situation == "bar-line":
        bars[0][early] = Written(place, sign)
        name, bar = plain, 1
    elif situation == "octave":
        others = [other for other in (place - 7, place + 7) if low.diatonic <= other + bottom <= high.diatonic]
        if not others:
            return None
        bars[bar][early] = Written(rng.choice(others), sign)
        name = plain
    elif situation == "changed":
        bars[bar][0], bars[bar][1], late = Written(place, sign), Written(place, sign_name(plain)), rng.choice((2, 3))
        name = plain
    else:
        bars[0][-1], bars[1][0], bar = Written(place, sign, tie=True), Written(place), 1
        name, late = (alter, 0) if situation == "tie" else (plain, max(late, 1))
    bars[bar][late] = Written(place)
    return tuple(tuple(row) for row in bars), bar + 1, late + 1, NoteName(step, name)


def _foreign(scope: Scope, rng: Random, step: str, plain: int) -> int | None:
    """An alteration that the signature does not give the letter, one semitone away and within the scope."""
    near: Sequence[int] = [
        alter
        for alter in (plain - 1, plain + 1)
        if alter in scope.alters and (2 in scope.alters or (step, alter) not in _RARE)
    ]
    return rng.choice(near) if near else None


def _filler(rng: Random, place: int, low: int, high: int) -> Written:
    """A note on another letter, near the one asked for."""
    near = [other for other in range(max(low, place - 4), min(high, place + 4) + 1) if other != place]
    return Written(rng.choice(near))
