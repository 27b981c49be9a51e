"""Beam groups turned into the beam signs each note carries in MusicXML."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from stavewright.score.event import Chord, Event, Gap, Note

__all__ = ["beam_signs"]


def beam_signs(events: Sequence[Event]) -> Mapping[int, str]:
    """The ``beam`` elements of each note of a voice, by its index; notes outside a group of two have none.

    Every beam level has its own element. A short note between longer ones gets a stub that points into its beat:
    backwards, unless it opens the group or the next note is the dotted one.
    Source: MusicXML 4.0, beam-value.

    >>> from stavewright.theory.duration import Duration
    >>> from stavewright.theory.pitch import Pitch
    >>> pair = tuple(Note(Pitch("G", 0, 4), Duration("quaver"), beam=1) for _ in range(2))
    >>> beam_signs(pair)[1]
    '<beam number="1">end</beam>'
    """
    groups: dict[tuple[int, bool], list[int]] = {}
    for index, event in enumerate(events):
        if isinstance(event, Note | Chord):
            beam = event.beam
            if beam is not None and event.duration.tails:
                groups.setdefault((beam, isinstance(event, Note) and event.grace is not None), []).append(index)
    signs: dict[int, str] = {}
    for members in groups.values():
        if len(members) > 1:
            _group(events, members, signs)
    return signs


def _group(events: Sequence[Event], members: list[int], signs: dict[int, str]) -> None:
    tails = [events[index].duration.tails for index in members]
    last = len(members) - 1
    for place, index in enumerate(members):
        before = tails[place - 1] if place else 0
        after = tails[place + 1] if place < last else 0
        row: list[str] = []
        for level in range(1, tails[place] + 1):
            if before >= level:
                kind = "continue" if after >= level else "end"
            elif after >= level:
                kind = "begin"
            else:
                kind = "forward hook" if _points_on(events, members, place) else "backward hook"
            row.append(f'<beam number="{level}">{kind}</beam>')
        signs[index] = "".join(row)


def _points_on(events: Sequence[Event], members: list[int], place: int) -> bool:
    if place == 0:
        return True
    if place == len(members) - 1:
        return False
    before, after = events[members[place - 1]], events[members[place + 1]]
    return not isinstance(after, Gap) and after.duration.dots > 0 and before.duration.dots == 0
