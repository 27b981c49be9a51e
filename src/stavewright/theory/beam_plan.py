"""Where beams may run in each metre: the cells, the beats and the wider spans of a bar."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from stavewright.theory.duration import Duration
from stavewright.theory.metre import TimeSignature

Span = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Wide:
    """A span of several beats that plain quavers may share under one beam.

    ``whole_beats``: only when each beat is full, so that triple time never looks compound.
    ``usual``: the beam a good copyist writes when it is allowed.
    """

    start: int
    end: int
    name: str
    whole_beats: bool
    usual: bool


@dataclass(frozen=True, slots=True)
class BeamPlan:
    """The rules of one bar, all in ticks from its start.

    ``cells``: the smallest parts that are always kept together; ``beats``: what is kept together unless it holds
    shorter notes than ``long_note``; ``wides``: what may be joined further; ``loose``: beats may be broken at any cell;
    ``parts``: a cell with shorter notes may stand alone in its beat, whatever the other cell holds;
    ``held``: what the beats of the plan are in words, where it is more than one beat of the metre.
    """

    cells: tuple[Span, ...]
    beats: tuple[Span, ...]
    wides: tuple[Wide, ...]
    long_note: Duration
    loose: bool = False
    parts: bool = False
    held: str = ""

    def beat_of(self, position: int) -> Span:
        """The beat (start, end) that holds this tick.

        >>> plan = beam_plan(TimeSignature(2, 4), None)
        >>> plan.beat_of(0) == (0, Duration("crotchet").ticks)
        True
        """
        return next(span for span in self.beats if span[0] <= position < span[1])

    def cell_of(self, position: int) -> Span:
        """The cell (start, end) that holds this tick."""
        return next(span for span in self.cells if span[0] <= position < span[1])


@lru_cache(maxsize=256)
def beam_plan(time: TimeSignature, grouping: tuple[int, ...] | None) -> BeamPlan:
    """The beaming rules of a metre; ``grouping`` is that of an irregular bar (its first when None).

    Sources: The Open University, An introduction to music theory (2016) §3.6, 3.9; LilyPond default beaming
    table; Open Music Theory (version 1), beams; minim and dotted-minim beats from memory.
    Raises: TimeSignatureError for a grouping the metre does not have.

    >>> [wide.name for wide in beam_plan(TimeSignature(4, 4), None).wides]
    ['half bar', 'half bar']
    """
    quaver, bar = Duration("quaver"), time.ticks
    if time.kind == "irregular":
        return _irregular(time, time.groupings[0] if grouping is None else grouping)
    beats = _ends(time.spans())
    if time.kind == "compound":
        if time.unit == 4:
            return BeamPlan(_cut(bar, time.unit_value.ticks), beats, (), quaver, loose=True)
        return BeamPlan(beats, beats, (), quaver)
    if time.unit == 2:
        return BeamPlan(_cut(bar, time.beat.ticks // 2), beats, (), quaver, parts=True)
    if time.unit == 4:
        return BeamPlan(beats, beats, _wides(0, time.count, time.beat.ticks, "bar"), quaver)
    if time.count == 4:
        halves = _cut(bar, bar // 2)
        return BeamPlan(beats, halves, (Wide(0, bar, "bar", True, False),), quaver, held="half bar")
    return BeamPlan(beats, ((0, bar),), (), time.beat, held="bar")


def _irregular(time: TimeSignature, grouping: tuple[int, ...]) -> BeamPlan:
    unit, quaver = time.unit_value.ticks, Duration("quaver")
    cells = _cut(time.ticks, unit)
    groups = time.spans(grouping)
    if time.unit == 4:
        wides = [wide for start, size in groups for wide in _wides(start, size // unit, unit, "group")]
        return BeamPlan(cells, cells, tuple(wides), quaver)
    beats: list[Span] = []
    wides = []
    for start, size in groups:
        if size == 4 * unit:
            beats += [(start, start + size // 2), (start + size // 2, start + size)]
            wides.append(Wide(start, start + size, "group", True, True))
        else:
            beats.append((start, start + size))
    return BeamPlan(cells, tuple(beats), tuple(wides), quaver)


def _wides(start: int, count: int, beat: int, name: str) -> tuple[Wide, ...]:
    """Two beats: their span; three: any of it in whole beats; four: each half."""
    end = start + count * beat
    if count == 4:
        middle = start + 2 * beat
        half = f"half {name}"
        return (Wide(start, middle, half, False, True), Wide(middle, end, half, False, True))
    return (Wide(start, end, name, count == 3, True),)


def _cut(length: int, size: int) -> tuple[Span, ...]:
    return tuple((start, start + size) for start in range(0, length, size))


def _ends(spans: tuple[Span, ...]) -> tuple[Span, ...]:
    return tuple((start, start + length) for start, length in spans)
