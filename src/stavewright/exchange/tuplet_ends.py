"""Where each tuplet begins and ends, worked out from the values of a voice."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from stavewright.score.event import Event
from stavewright.theory.duration import TICKS

__all__ = ["tuplet_ends"]

_START: Final = '<tuplet type="start"/>'
_STOP: Final = '<tuplet type="stop"/>'
_PLAIN: Final = frozenset(TICKS.values())


def tuplet_ends(events: Sequence[Event], beat_ticks: int) -> Mapping[int, str]:
    """The ``tuplet`` sign of each event that begins or ends a group, by its index.

    A group is complete when its written values fill the figure with one plain value, and either all its notes are
    alike or it ends on a beat of ``beat_ticks``.

    >>> from stavewright.score.event import Note
    >>> from stavewright.theory.duration import Duration, Tuplet
    >>> from stavewright.theory.pitch import Pitch
    >>> third = Note(Pitch("G", 0, 4), Duration("quaver", tuplet=Tuplet(3, 2)))
    >>> sorted(tuplet_ends((third,) * 6, 161280))
    [0, 2, 3, 5]
    """
    if all(event.duration.tuplet is None for event in events):
        return {}
    signs: dict[int, str] = {}
    position = 0
    members: list[int] = []
    for index, event in enumerate(events):
        group = event.duration.tuplet
        if members and (group is None or group != events[members[0]].duration.tuplet):
            _close(members, signs)
        position += event.ticks
        if group is not None and event.ticks:
            members.append(index)
            if _complete(events, members, group.actual, position % beat_ticks == 0):
                _close(members, signs)
    if members:
        _close(members, signs)
    return signs


def _complete(events: Sequence[Event], members: list[int], actual: int, on_beat: bool) -> bool:
    written = sum(events[index].duration.plain.ticks for index in members)
    unit, left = divmod(written, actual)
    kinds = [events[index].duration for index in members]
    if left or unit not in _PLAIN or unit < min(TICKS[kind.type] for kind in kinds):
        return False
    return on_beat or all(TICKS[kind.type] == unit and not kind.dots for kind in kinds)


def _close(members: list[int], signs: dict[int, str]) -> None:
    if len(members) > 1:
        signs[members[0]] = _START
        signs[members[-1]] = _STOP
    else:
        signs[members[0]] = _START + _STOP
    members.clear()
