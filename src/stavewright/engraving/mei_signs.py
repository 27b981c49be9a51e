"""What is written around the stave: ties, slurs, ornaments, directions, labels and brackets, as MEI."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

from stavewright.engraving.errors import EngravingError
from stavewright.engraving.mei_events import Placed
from stavewright.engraving.mei_marks import ORNAMENTS, tempo_words, words
from stavewright.score.event import Chord, Note
from stavewright.score.stave import Bar, Direction

# Signs with one group number stand on one level: all labels, all dynamics of a system.
_LABEL_LEVEL, _DYNAMIC_LEVEL = 90, 10
_JUMPS = {
    "segno": ("segno", ""),
    "coda": ("coda", ""),
    "fine": ("fine", "Fine"),
    "da-capo": ("daCapo", "D.C."),
    "dal-segno": ("dalSegno", "D.S."),
}


@dataclass(slots=True)
class Slurs:
    """Slurs that are open while the bars of one voice are written, first note to last."""

    started: str | None = None
    named: dict[str, list[str]] = field(default_factory=dict)
    done: list[tuple[str, str]] = field(default_factory=list)

    def meet(self, placed: Placed) -> None:
        """Take in one event: "start", "stop" and "both" open and close; any other word names the slur of its notes.

        Raises:
            EngravingError: a stop with no start before it.
        """
        event = placed.event
        if not isinstance(event, Note | Chord) or not event.slur:
            return
        if event.slur not in ("start", "stop", "both"):
            self.named.setdefault(event.slur, []).append(placed.id)
            return
        if event.slur in ("stop", "both"):
            if self.started is None:
                raise EngravingError(f"a slur stops at {event.id or placed.id} and none has started")
            self.done.append((self.started, placed.id))
            self.started = None
        if event.slur in ("start", "both"):
            self.started = placed.id

    def finished(self) -> list[tuple[str, str]]:
        """All slurs, as (first, last) ids.

        Raises:
            EngravingError: a slur that never stops.
        """
        if self.started is not None:
            raise EngravingError(f"the slur that starts at {self.started} never stops")
        return self.done + [(ids[0], ids[-1]) for ids in self.named.values() if len(ids) > 1]


def ornaments(voice: Sequence[Placed], staff: int) -> str:
    """Trills, turns, mordents, pauses and the like, each tied to its note."""
    out: list[str] = []
    for placed in voice:
        if not isinstance(placed.event, Note | Chord):
            continue
        for mark in placed.event.marks:
            if mark in ORNAMENTS:
                above = "" if mark in ("arpeggio", "breath") else ' place="above"'
                out.append(f'<{ORNAMENTS[mark]} staff="{staff}" startid="#{placed.id}"{above}/>')
    return "".join(out)


def loose_ties(voice: Sequence[Placed], staff: int, unit: int) -> str:
    """Ties that lead to no note: a short curve as long as the note; `unit` is the lower figure's value in ticks."""
    out: list[str] = []
    now = 0
    for placed in voice:
        event = placed.event
        now += event.ticks
        if isinstance(event, Note | Chord) and event.tie and not placed.ties:
            end = f"0m+{1 + now / unit:.4f}"
            out.append(f'<lv staff="{staff}" startid="#{placed.id}" tstamp2="{end}"/>')
    return "".join(out)


def labels(voice: Sequence[Placed], staff: int) -> str:
    """Words under notes, rests and gaps; the picture centres them under their event afterwards."""
    return "".join(
        f'<dir xml:id="{placed.id}.label" staff="{staff}" place="below" vgrp="{_LABEL_LEVEL}" startid="#{placed.id}">'
        f"{words(placed.event.label)}</dir>"
        for placed in voice
        if placed.event.label
    )


def directions(bar: Bar, staff: int, ids: Sequence[Sequence[str]], index: int, level: int) -> str:
    """Tempo, dynamics, hairpins and words of one bar; `ids` are the first voice's ids, bar by bar.

    Raises:
        EngravingError: a direction at an event that is not there.
    """
    return "".join(_direction(one, staff, ids, index, level) for one in bar.directions)


def _at(ids: Sequence[Sequence[str]], bar: int, event: int, kind: str) -> str:
    if not (0 <= bar < len(ids) and 0 <= event < len(ids[bar])):
        raise EngravingError(f"the direction {kind!r} stands at event {event} of bar {bar + 1}, which is not there")
    return ids[bar][event]


def _direction(one: Direction, staff: int, ids: Sequence[Sequence[str]], index: int, level: int) -> str:
    start = f'staff="{staff}" startid="#{_at(ids, index, one.at, one.kind)}"'
    place = "above" if one.above else "below"
    if one.kind == "tempo":
        return f'<tempo {start} place="above">{tempo_words(one.text)}</tempo>'
    if one.kind == "dynamic":
        return f'<dynam {start} place="{place}" vgrp="{_DYNAMIC_LEVEL + level}">{words(one.text)}</dynam>'
    if one.kind == "text":
        return f'<dir {start} place="{place}">{tempo_words(one.text)}</dir>'
    if one.kind in _JUMPS:
        func, usual = _JUMPS[one.kind]
        return f'<repeatMark func="{func}" {start} place="above">{words(one.text or usual)}</repeatMark>'
    if one.until is None:
        raise EngravingError(f"the direction {one.kind!r} of bar {index + 1} needs `until`, the event it runs to")
    end = f'endid="#{_at(ids, index + one.until_bar, one.until, one.kind)}"'
    if one.kind == "octave-up":
        return f'<octave {start} {end} dis="8" dis.place="above"/>'
    form = "cres" if one.kind == "crescendo" else "dim"
    return f'<hairpin {start} {end} form="{form}" place="{place}" vgrp="{_DYNAMIC_LEVEL + level}"/>'
