"""Melodies composed by rule for a paper: always there, in any key and clef of the grade."""

from __future__ import annotations

from random import Random
from typing import Final

from stavewright.composing.errors import CannotCompose
from stavewright.composing.melody import compose_melody
from stavewright.composing.performance import perform
from stavewright.questions.melodies import Extract
from stavewright.syllabus.scope import Scope
from stavewright.theory.key import Key
from stavewright.theory.metre import TimeSignature

CREDIT: Final = "composed by Stavewright for this paper"
TEMPI: Final = ("Andante", "Moderato", "Allegro", "Allegretto", "Adagio")
"""Tempo words of the first grade, safe in every paper."""
_TRIES: Final = 6
_WANTS: Final = ((), (), (), ("sequence",), ("scale-run",), ("syncopation",))
"""What a melody of four bars or more is sometimes asked to hold, for questions that look for it."""
_FRESH: Final = 3
_RARE: Final = ("2/8", "4/2", "9/4", "9/16", "12/16", "6/16")


class ComposedMelodies:
    """A source of melodies that never runs dry: each is composed afresh from the chance it is given.

    >>> from stavewright.syllabus.scope import scope_for
    >>> found = ComposedMelodies().melody(scope_for(1), Random(1))
    >>> found.credit, len(found.score.staves[0].bars)
    ('composed by Stavewright for this paper', 4)
    """

    def melody(
        self,
        scope: Scope,
        rng: Random,
        *,
        bars: int = 4,
        clef: str | None = None,
        key: Key | None = None,
        provable: bool = True,
    ) -> Extract | None:
        """Compose one melody of so many bars in the scope; its key is always provable.

        None when the clef is not one of the grade, or the key leaves no room in its range.
        """
        if clef is not None and clef not in scope.ranges:
            return None
        for turn in range(_TRIES):
            one_clef = clef or rng.choice(scope.clefs)
            low, high = scope.range_of(one_clef)
            try:
                made = compose_melody(
                    rng,
                    key=key or rng.choice(scope.keys),
                    time=_time(scope, rng),
                    clef=one_clef,
                    low=low,
                    high=high,
                    bars=bars,
                    values=scope.values,
                    dots=scope.dots,
                    anacrusis=scope.anacrusis and rng.random() < 0.35,
                    tuplets=scope.tuplets,
                    rests=rng.random() < 0.6,
                    wanted=rng.choice(_WANTS) if bars > 3 and turn < 2 else (),
                    numbered=bars > 4,
                )
            except CannotCompose:
                continue
            score = perform(made.score, rng, tempo=rng.choice(TEMPI), staccato=rng.random() < 0.3)
            return Extract(score, made.key, CREDIT)
        return None


def _time(scope: Scope, rng: Random) -> TimeSignature:
    """A time signature of the grade: those it adds come oftener, those seldom met come seldom."""
    fresh = scope.fresh.get("times", ())
    weights = [(1 if text in _RARE else 2) * (_FRESH if text in fresh else 1) for text in scope.times]
    return rng.choices(scope.time_signatures, weights)[0]
