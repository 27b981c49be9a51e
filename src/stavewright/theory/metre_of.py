"""The time signatures a bar can have: by its length, its values and its beams."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from stavewright.theory.beaming import Event, is_silent_bar
from stavewright.theory.duration import total_ticks
from stavewright.theory.errors import StavewrightError
from stavewright.theory.grouping import accepted_beamings, is_accepted
from stavewright.theory.metre import ALL_TIMES, COMMON, CUT, TimeSignature
from stavewright.theory.value_faults import liberties, value_faults

_RARELY_MET = 2
"""Liberties that a rare metre counts for: 2/8 and 4/8, and all in sixteenths."""


class MetreOfError(StavewrightError):
    """A bar that no known time signature fits."""


@dataclass(frozen=True, slots=True)
class FittingTime:
    """A time signature a bar can have, and why.

    ``strength``: 0 when the bar is written exactly as that metre prefers, more for each liberty it takes, and for a
    metre that is rarely met.
    """

    time: TimeSignature
    reason: str
    strength: int


def of_length(ticks: int, times: Sequence[TimeSignature] = ALL_TIMES) -> tuple[TimeSignature, ...]:
    """The signatures whose bar is this long.

    >>> [time.text for time in of_length(TimeSignature(3, 4).ticks)]
    ['3/4', '6/8', '12/16']
    """
    return tuple(time for time in times if time.ticks == ticks)


def fitting_times(
    events: Sequence[Event], beams: Sequence[int | None] | None = None, times: Sequence[TimeSignature] = ALL_TIMES
) -> tuple[FittingTime, ...]:
    """Every signature one full bar can have, best fit first.

    ``events``: notes and rests; ``beams``: a group number for each as printed, or None when beams tell nothing;
    ``times``: the signatures that may be answered. Length decides first, then the beams, then values and rests that
    would be wrong in that metre: so 3/4 and 6/8 are told apart by grouping. Raises: MetreOfError when none fits.
    Source: Open Music Theory (version 1), meter; The Open University, An introduction to music theory (2016) §3.9.

    >>> from stavewright.theory.duration import Duration
    >>> quavers = [(Duration("quaver"), False)] * 6
    >>> [fit.time.text for fit in fitting_times(quavers, [0, 0, 0, 1, 1, 1])]
    ['6/8']
    >>> [fit.time.text for fit in fitting_times(quavers, [0, 0, 1, 1, 2, 2])]
    ['3/4']
    """
    if not events or is_silent_bar(events):
        raise MetreOfError("a silent or empty bar shows no metre; give notes")
    ticks = total_ticks([duration for duration, _ in events])
    found = [fit for time in of_length(ticks, times) if (fit := _fit(events, beams, time)) is not None]
    if not found:
        sums = ", ".join(time.text for time in of_length(ticks)) or "none"
        raise MetreOfError(f"no time signature fits this bar of {ticks} ticks; by length alone: {sums}")
    return tuple(sorted(found, key=_order))


def _fit(events: Sequence[Event], beams: Sequence[int | None] | None, time: TimeSignature) -> FittingTime | None:
    faults = value_faults(events, time)
    if any(fault.always for fault in faults):
        return None
    reason = f"{time.meaning()}: the values add up to a bar"
    rare = time.unit == 16 or ((time.kind, time.unit) == ("simple", 8) and time.count != 3)
    strength = len(faults) + liberties(events, time) + _RARELY_MET * rare
    if beams is not None:
        verdict = is_accepted(beams, events, time)
        if not verdict.accepted:
            return None
        if any(group is not None for group in beams):
            reason += f", and the beams show them ({verdict.reason})"
        strength += 0 if verdict.reason == accepted_beamings(events, time)[0].reason else 1
    return FittingTime(time, reason, strength)


def _order(fit: FittingTime) -> tuple[int, bool]:
    """The better written first; of two alike, 4/4 and the others before 2/2 (common practice)."""
    return fit.strength, (fit.time.beats, fit.time.unit) == (2, 2)


def fitting_all(
    rows: Sequence[tuple[Sequence[Event], Sequence[int | None] | None]], times: Sequence[TimeSignature] = ALL_TIMES
) -> tuple[FittingTime, ...]:
    """Every signature that fits all of several full bars, best first; each bar with its beams.

    Raises: MetreOfError when one bar fits none, or no signature fits them all.

    >>> from stavewright.theory.duration import Duration
    >>> minims, quavers = [(Duration("minim"), False)] * 2, [(Duration("quaver"), False)] * 8
    >>> [fit.time.text for fit in fitting_all([(minims, None), (quavers, [0, 0, 1, 1, 2, 2, 3, 3])])]
    ['4/4']
    """
    per_bar = [{fit.time: fit for fit in fitting_times(events, beams, times)} for events, beams in rows]
    shared = [time for time in times if per_bar and all(time in fits for fits in per_bar)]
    if not shared:
        raise MetreOfError("no one time signature fits all the bars")
    totals = [
        FittingTime(time, per_bar[-1][time].reason, sum(fits[time].strength for fits in per_bar)) for time in shared
    ]
    return tuple(sorted(totals, key=_order))


def also_written(time: TimeSignature) -> tuple[TimeSignature, ...]:
    """The same signature in its other print: C for 4/4, cut C for 2/2, and back.

    Source: Gehrkens, Music Notation and Terminology (1914) §103.

    >>> [other.text for other in also_written(TimeSignature(4, 4))]
    ['C']
    """
    if time.symbol is not None:
        return (time.plain,)
    return tuple(sign for sign in (COMMON, CUT) if sign.plain == time)
