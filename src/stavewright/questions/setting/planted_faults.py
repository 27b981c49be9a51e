"""A melody with faults of notation planted in it: bars that do not add up, a stem, the last bar line, the signature."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from random import Random

from stavewright.questions.melodies import Melodies
from stavewright.questions.setting.rewritable import plain_melody
from stavewright.score.event import Event, Note
from stavewright.score.stave import Score, Stave
from stavewright.syllabus.scope import Scope
from stavewright.theory.clef import CLEFS
from stavewright.theory.duration import VALUES, Duration
from stavewright.theory.key import signature_layout

_TRIES = 10
_BARS = 4
_MIDDLE = 4
Planted = tuple[Stave, int]


def planted(scope: Scope, rng: Random, melodies: Melodies, count: int) -> tuple[Score, dict[int, str], str] | None:
    """A melody with so many faults, one a bar; the kind of fault by bar number, and the credit."""
    for _ in range(_TRIES):
        made = plain_melody(melodies, scope, rng, bars=_BARS)
        if made is None or made.score.anacrusis:
            continue
        stave, found = made.score.staves[0], dict[int, str]()
        names = list(_MAKERS)
        rng.shuffle(names)
        for name in names:
            changed = _MAKERS[name](stave, scope, rng, set(found)) if len(found) < count else None
            if changed is not None:
                stave, bar = changed
                found[bar] = name
        if len(found) == count:
            return replace(made.score, staves=(stave,), numbered=True), found, made.credit
    return None


def _places(stave: Stave, taken: set[int], fit: Callable[[Note], bool]) -> list[tuple[int, int, Note]]:
    """Where a note without beam and tie stands that is fit, by bar and event from 0, in bars without a fault."""
    return [
        (at, number, event)
        for at, bar in enumerate(stave.bars)
        if at + 1 not in taken
        for number, event in enumerate(bar.events)
        if isinstance(event, Note)
        and event.beam is None
        and not event.tie
        and event.duration.tuplet is None
        and event.duration.type in ("semibreve", "minim", "crotchet")
        and fit(event)
    ]


def _with(stave: Stave, at: int, number: int, event: Event, *, free: bool) -> Stave:
    bar = stave.bars[at]
    row = (*bar.events[:number], event, *bar.events[number + 1 :])
    bars = (*stave.bars[:at], replace(bar, voices=(row,), free=free or bar.free), *stave.bars[at + 1 :])
    return replace(stave, bars=bars)


def _other_value(stave: Stave, scope: Scope, rng: Random, taken: set[int], step: int) -> Planted | None:
    def other(note: Note) -> str:
        place = VALUES.index(note.duration.type) + step
        return VALUES[place] if VALUES[place] in scope.values and VALUES[place] != "breve" else ""

    found = _places(stave, taken, lambda note: other(note) not in ("", "quaver") and not note.duration.dots)
    if not found:
        return None
    at, number, note = rng.choice(found)
    changed = replace(note, duration=Duration(other(note), note.duration.dots))
    return _with(stave, at, number, changed, free=True), at + 1


def _long(stave: Stave, scope: Scope, rng: Random, taken: set[int]) -> Planted | None:
    return _other_value(stave, scope, rng, taken, -1)


def _short(stave: Stave, scope: Scope, rng: Random, taken: set[int]) -> Planted | None:
    return _other_value(stave, scope, rng, taken, 1)


def _stem(stave: Stave, scope: Scope, rng: Random, taken: set[int]) -> Planted | None:
    clef = CLEFS[stave.clef]
    found = _places(stave, taken, lambda n: n.duration.type != "semibreve" and clef.place(n.pitch) != _MIDDLE)
    if not found:
        return None
    at, number, note = rng.choice(found)
    wrong = "up" if clef.place(note.pitch) > _MIDDLE else "down"
    return _with(stave, at, number, replace(note, stem=wrong), free=False), at + 1


def _line(stave: Stave, scope: Scope, rng: Random, taken: set[int]) -> Planted | None:
    last = len(stave.bars)
    if last in taken:
        return None
    return replace(stave, bars=(*stave.bars[:-1], replace(stave.bars[-1], line="single"))), last


def _signature(stave: Stave, scope: Scope, rng: Random, taken: set[int]) -> Planted | None:
    usual = signature_layout(stave.fifths or 0, CLEFS[stave.clef])
    if len(usual) < 2 or 1 in taken:
        return None
    at = rng.randrange(len(usual) - 1)
    signs = (*usual[:at], usual[at + 1], usual[at], *usual[at + 2 :])
    return replace(stave, signs=signs), 1


_MAKERS: dict[str, Callable[[Stave, Scope, Random, set[int]], Planted | None]] = {
    "too many": _long, "too few": _short, "stem": _stem, "last line": _line, "signature": _signature,
}  # fmt: skip
