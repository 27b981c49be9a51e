"""A bar with rests or a tie where one longer sign would hide a beat, and its usual beams."""

from __future__ import annotations

from random import Random

from stavewright.questions.setting.bars import pick_time
from stavewright.questions.setting.beaming import ToBeam, busy_bar
from stavewright.questions.values import WrittenValue
from stavewright.syllabus.scope import Scope
from stavewright.theory.duration import Duration, total_ticks
from stavewright.theory.grouping import accepted_beamings
from stavewright.theory.metre import TimeSignature
from stavewright.theory.regroup import in_bar
from stavewright.theory.rests import fill
from stavewright.theory.value_faults import value_faults

_TRIES = 24
_LONGEST = 12
_REST_SHARE = 0.6
_PLAIN_SHARE = 0.25

Signs = list[tuple[Duration, bool, bool]]
"""Values in a row: length, whether it is a rest, whether a tie leads on."""


def grouped_bar(scope: Scope, rng: Random) -> ToBeam | None:
    """A bar with its signs apart, and the same under its usual beams."""
    for _ in range(_TRIES):
        time = pick_time(scope, rng)
        signs: Signs = [(one, False, False) for one in busy_bar(scope, rng, time)]
        chance = rng.random()
        if chance > _PLAIN_SHARE:
            signs = _with_rests(signs, rng, time) if rng.random() < _REST_SHARE else _with_tie(signs, rng, time)
        events = [(one, rest) for one, rest, _ in signs]
        tails = sum(not rest and one.tails > 0 for one, rest in events)
        if tails < min(3, time.beats) or len(signs) > _LONGEST:
            continue
        if all(value_faults(events, time, grouping=way) for way in time.groupings or (None,)):
            continue
        groups = accepted_beamings(events, time)[0].groups
        if all(group is None for group in groups):
            continue
        bare = tuple(WrittenValue.of(one, rest=rest, tie=tie) for one, rest, tie in signs)
        meant = tuple(
            WrittenValue.of(one, rest=rest, tie=tie, beam=group)
            for (one, rest, tie), group in zip(signs, groups, strict=True)
        )
        return ToBeam(time, bare, meant)
    return None


def _with_rests(signs: Signs, rng: Random, time: TimeSignature) -> Signs:
    """Two or three notes in a row given up for the usual rests in their place, where these are more than one."""
    size = rng.choice((2, 2, 3))
    places = [
        at for at in range(len(signs) - size + 1) if all(one.tuplet is None for one, _, _ in signs[at : at + size])
    ]
    rng.shuffle(places)
    for at in places:
        start = total_ticks([one for one, _, _ in signs[:at]])
        length = total_ticks([one for one, _, _ in signs[at : at + size]])
        if length == time.ticks:
            continue
        rests = fill(start, length, time)[0].rests
        if len(rests) > 1:
            return [*signs[:at], *((one, True, False) for one in rests), *signs[at + size :]]
    return signs


def _with_tie(signs: Signs, rng: Random, time: TimeSignature) -> Signs:
    """Two notes tied over a beat that one note would hide."""
    places = [at for at in range(len(signs) - 1) if signs[at][0].tuplet is None is signs[at + 1][0].tuplet]
    rng.shuffle(places)
    for at in places:
        start = total_ticks([one for one, _, _ in signs[:at]])
        pair = (signs[at][0], signs[at + 1][0])
        if start and in_bar(start, total_ticks(pair), time) == pair:
            return [*signs[:at], (pair[0], False, True), *signs[at + 1 :]]
    return signs
