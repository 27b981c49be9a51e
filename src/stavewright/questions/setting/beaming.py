"""A bar worth beaming, within a scope, and its usual beams."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from random import Random

from stavewright.questions.setting.bars import Row, pick_time, rhythm_bar
from stavewright.questions.setting.silence import silence
from stavewright.questions.values import WrittenValue
from stavewright.syllabus.scope import Scope
from stavewright.theory.grouping import accepted_beamings
from stavewright.theory.metre import TimeSignature

_TRIES = 16
_MOST_WAYS = 30
_REST_SHARE = 0.3
_BUSY_SHARE = 0.5
_LONGEST = 14


@dataclass(frozen=True, slots=True)
class ToBeam:
    """A bar with its notes apart, and the same under its usual beams."""

    time: TimeSignature
    bare: tuple[WrittenValue, ...]
    meant: tuple[WrittenValue, ...]


def bar_to_beam(scope: Scope, rng: Random) -> ToBeam | None:
    """A bar of several beams or of one long one, with at most a few accepted ways."""
    time = pick_time(scope, rng)
    for left in reversed(range(_TRIES)):
        events = [(one, False) for one in busy_bar(scope, rng, time)]
        if rng.random() < _REST_SHARE:
            silence(events, rng, time, tails=True)
        tails = sum(not rest and one.tails > 0 for one, rest in events)
        if tails < min(4, time.beats) or len(events) > _LONGEST:
            continue
        ways = accepted_beamings(events, time)
        under = Counter(group for group in ways[0].groups if group is not None)
        if len(ways) > _MOST_WAYS or (len(under) < 2 and (left > _TRIES // 2 or max(under.values(), default=0) < 3)):
            continue
        bare = tuple(WrittenValue.of(one, rest=rest) for one, rest in events)
        meant = tuple(
            WrittenValue.of(one, rest=rest, beam=group)
            for (one, rest), group in zip(events, ways[0].groups, strict=True)
        )
        return ToBeam(time, bare, meant)
    return None


def busy_bar(scope: Scope, rng: Random, time: TimeSignature) -> Row:
    """A bar with many tails; the beats of a slow metre are filled as if they were bars of crotchets."""
    if time.beat.type != "minim":
        grouping = rng.choice(time.groupings) if time.groupings else None
        return rhythm_bar(scope, rng, time, grouping=grouping, busy=True)
    inner = TimeSignature(3 if time.kind == "compound" else 2, 4)
    row: Row = ()
    for _ in range(time.count):
        busy = time.count == 2 or rng.random() < _BUSY_SHARE
        row += rhythm_bar(scope, rng, inner, tuplets=time.count == 2, busy=busy)
    return row
