"""Music in phrases: the closing half of a melody as phrase A, its opening half as phrase B, put together by a form."""

from __future__ import annotations

from dataclasses import replace
from random import Random

from stavewright.questions.melodies import Melodies
from stavewright.questions.setting.rewritable import plain_melody
from stavewright.score.event import Note
from stavewright.score.stave import Bar, Score
from stavewright.score.writing import with_accidentals, with_ids
from stavewright.syllabus.scope import Scope

_TRIES = 12
_LONG_SHARE = 0.3
_FEWEST = 2


def music_in_phrases(form: str, scope: Scope, rng: Random, melodies: Melodies) -> tuple[Score, str, int] | None:
    """Music in that form ("AABA"), its credit, and how many bars a phrase has; None where no melody is fit.

    Phrase A closes on the tonic and B is left open; the two differ in every bar.
    """
    length = 4 if rng.random() < _LONG_SHARE else 2
    for _ in range(_TRIES):
        made = plain_melody(melodies, scope, rng, bars=2 * length)
        if made is None or made.score.anacrusis:
            continue
        stave = made.score.staves[0]
        halves = {"A": stave.bars[length:], "B": stave.bars[:length]}
        if any(_notes(a) == _notes(b) for a, b in zip(halves["A"], halves["B"], strict=True)):
            continue
        if any(_open(half) or len(_notes(half[0])) < _FEWEST for half in halves.values()):
            continue
        bars: list[Bar] = []
        for letter in form:
            for bar in halves[letter]:
                bars.append(replace(bar, voices=(tuple(replace(event, id="") for event in bar.events),), line="single"))
        bars[-1] = replace(bars[-1], line="final")
        score = replace(made.score, staves=(replace(stave, bars=tuple(bars)),), numbered=True)
        return with_accidentals(with_ids(score)), made.credit, length
    return None


def _notes(bar: Bar) -> list[tuple[int, str]]:
    return [(event.pitch.midi, event.duration.text) for event in bar.events if isinstance(event, Note)]


def _open(half: tuple[Bar, ...]) -> bool:
    """Whether a tie leads out of the phrase."""
    return bool(getattr(half[-1].events[-1], "tie", False))
