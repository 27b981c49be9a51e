"""Beaming a bar: the preferred beams, and every accepted way with its reason."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise, product

from stavewright.theory.beam_groups import Groups, numbered
from stavewright.theory.beam_plan import BeamPlan, Wide, beam_plan
from stavewright.theory.duration import Duration
from stavewright.theory.errors import StavewrightError
from stavewright.theory.half_beats import by_half_beats
from stavewright.theory.metre import TimeSignature
from stavewright.theory.tuplet import runs

Event = tuple[Duration, bool]
"""A value and whether it is a rest."""

class GroupingError(StavewrightError):
    """A bar that cannot be beamed: too long, or beams that do not fit its events."""


@dataclass(frozen=True, slots=True)
class Beaming:
    """One accepted way to beam a bar, and why it is right."""

    groups: Groups
    reason: str
    preferred: bool = False


@dataclass(frozen=True, slots=True)
class Placed:
    """An event of a bar with its tick from the bar's start and the irregular group that holds it, if any."""

    index: int
    start: int
    duration: Duration
    rest: bool
    tuplet_run: range | None

    @property
    def end(self) -> int:
        """Tick where the event stops."""
        return self.start + self.duration.ticks

    @property
    def beamable(self) -> bool:
        """Whether it is a note with a tail."""
        return not self.rest and self.duration.tails > 0


Cell = tuple[Placed, ...]


def place(events: Sequence[Event], time: TimeSignature, start: int = 0) -> tuple[Placed, ...]:
    """Each event with its place in the bar.

    ``start``: tick where the first event stands, for a bar that begins with a pick-up. A whole-bar rest fits any bar.
    Raises: GroupingError when there is more than the bar holds.

    >>> [placed.start for placed in place([(Duration("minim"), False)] * 2, TimeSignature(4, 4))]
    [0, 322560]
    """
    if is_silent_bar(events):
        return (Placed(0, 0, events[0][0], True, None),)
    durations = tuple(duration for duration, _ in events)
    starts = tuple(start + sum(duration.ticks for duration in durations[:index]) for index in range(len(durations)))
    end = starts[-1] + durations[-1].ticks if durations else start
    if start < 0 or end > time.ticks:
        raise GroupingError(f"a {time.text} bar holds {time.ticks} ticks, but the events end at {end}")
    beats = tuple(begin + length for begin, length in time.spans())
    run_of = {index: run for run in runs(durations, starts, beats) for index in run}
    return tuple(
        Placed(index, starts[index], duration, rest, run_of.get(index)) for index, (duration, rest) in enumerate(events)
    )


def is_silent_bar(events: Sequence[Event]) -> bool:
    """Whether one semibreve or breve rest stands alone, meaning the whole bar whatever its length.

    >>> is_silent_bar([(Duration("semibreve"), True)])
    True
    """
    return len(events) == 1 and events[0][1] and events[0][0] in (Duration("semibreve"), Duration("breve"))


def accepted_beamings(
    events: Sequence[Event], time: TimeSignature, *, grouping: tuple[int, ...] | None = None, start: int = 0
) -> tuple[Beaming, ...]:
    """Every accepted way to beam a bar, the preferred one first, each with its reason.

    ``events``: the bar's notes and rests in order; ``grouping``: that of an irregular bar when it is given;
    ``start``: tick of the first event in a pick-up bar. Raises: GroupingError when the bar is overfull.
    Sources: The Open University, An introduction to music theory (2016) §3.6, 3.9; LilyPond default beaming table.

    >>> q = (Duration("quaver"), False)
    >>> [beaming.groups for beaming in accepted_beamings([q] * 4, TimeSignature(2, 4))]
    [(0, 0, 0, 0), (0, 0, 1, 1)]
    """
    return _accepted(tuple(events), time, grouping, start)


@lru_cache(maxsize=2048)
def _accepted(
    events: tuple[Event, ...], time: TimeSignature, grouping: tuple[int, ...] | None, start: int
) -> tuple[Beaming, ...]:
    placed = place(events, time, start)
    found: dict[Groups, Beaming] = {}
    for choice in _choices(time, placed, grouping):
        plan = beam_plan(time, choice)
        shown = "" if choice is None else f", grouped {'+'.join(map(str, choice))}"
        for beaming in _ways(placed, plan):
            known = Beaming(beaming.groups, beaming.reason + shown, not found)
            found.setdefault(beaming.groups, known)
    if time.kind == "simple" and time.beat == Duration("crotchet"):
        notes = [(event.start, event.end, event.duration.tails) for event in placed]
        for beaming in tuple(found.values()):
            for beams in by_half_beats(beaming.groups, notes, time.beat.ticks):
                groups = numbered(beams, len(placed))
                found.setdefault(groups, Beaming(groups, "demisemiquavers may go by half beats"))
    return tuple(found.values())


def beam(
    events: Sequence[Event], time: TimeSignature, *, grouping: tuple[int, ...] | None = None, start: int = 0
) -> Groups:
    """The preferred beam group number of each event, None where it has no beam.

    Raises: GroupingError when the bar is overfull.

    >>> beam([(Duration("quaver"), False)] * 6, TimeSignature(6, 8))
    (0, 0, 0, 1, 1, 1)
    """
    return accepted_beamings(events, time, grouping=grouping, start=start)[0].groups


def _choices(
    time: TimeSignature, placed: tuple[Placed, ...], grouping: tuple[int, ...] | None
) -> tuple[tuple[int, ...] | None, ...]:
    """The groupings to try: those of an irregular bar, first the ones whose groups no note runs across."""
    if grouping is not None:
        time.spans(grouping)
        return (grouping,)
    if time.kind != "irregular":
        return (None,)

    def hidden(choice: tuple[int, ...]) -> int:
        starts = [start for start, _ in time.spans(choice)]
        return sum(event.start < begin < event.end for event in placed for begin in starts)

    return tuple(sorted(time.groupings, key=hidden))


def cells(placed: tuple[Placed, ...], plan: BeamPlan) -> Iterator[tuple[Cell, ...]]:
    """Runs of neighbouring tailed notes, each cut into the cells that are never broken."""
    run: list[Cell] = []
    for event in placed:
        if not event.beamable:
            if run:
                yield tuple(run)
            run = []
        elif run and _same_cell(run[-1][-1], event, plan):
            run[-1] = (*run[-1], event)
        else:
            run.append((event,))
    if run:
        yield tuple(run)


def _same_cell(left: Placed, right: Placed, plan: BeamPlan) -> bool:
    if left.tuplet_run != right.tuplet_run and (_spans_beats(left, plan) or _spans_beats(right, plan)):
        return False
    if left.tuplet_run is not None and left.tuplet_run == right.tuplet_run:
        return True
    return plan.cell_of(left.start) == plan.cell_of(right.start)


def _spans_beats(event: Placed, plan: BeamPlan) -> bool:
    run = event.tuplet_run
    return run is not None and event.duration.ticks * len(run) > plan.beats[0][1] - plan.beats[0][0]


def _ways(placed: tuple[Placed, ...], plan: BeamPlan) -> Iterator[Beaming]:
    each_run = [tuple(_compositions(part, plan)) for run in cells(placed, plan) for part in _apart(run, plan)]
    if not each_run:
        yield Beaming((None,) * len(placed), "no notes with tails stand together")
        return
    for chosen in product(*each_run):
        beams = [[event.index for event in group] for groups, _, _ in chosen for group in groups]
        reasons = dict.fromkeys(reason for _, _, why in chosen for reason in why)
        yield Beaming(numbered(beams, len(placed)), "; ".join(reasons) or "no two tailed notes share a beat")


def _apart(run: tuple[Cell, ...], plan: BeamPlan) -> Iterator[tuple[Cell, ...]]:
    """The run cut wherever no beam may ever cross, so that each part is decided alone."""
    part = run[:1]
    for left, right in pairwise(run):
        if _in_one_beat([left, right], plan) or _wide((left, right), plan) is not None:
            part = (*part, right)
        else:
            yield part
            part = (right,)
    yield part


def _compositions(run: tuple[Cell, ...], plan: BeamPlan) -> Iterator[tuple[tuple[Cell, ...], int, tuple[str, ...]]]:
    """Every accepted way to join the cells of a run, the usual one first."""
    found = []
    for breaks in product((False, True), repeat=len(run) - 1):
        groups: list[list[Cell]] = [[run[0]]]
        for cell, cut in zip(run[1:], breaks, strict=True):
            if cut:
                groups.append([cell])
            else:
                groups[-1].append(cell)
        if not all(may_break(left[-1], right[0], plan) for left, right in pairwise(groups)):
            continue
        reasons = [joined(tuple(group), plan) for group in groups]
        if all(reason is not None for reason in reasons):
            flat = tuple(tuple(event for cell in group for event in cell) for group in groups)
            said = tuple(reason for reason, group in zip(reasons, flat, strict=True) if reason and len(group) > 1)
            found.append((flat, _unusual(groups, plan), said))
    yield from sorted(found, key=lambda way: way[1])


def _unusual(groups: list[list[Cell]], plan: BeamPlan) -> int:
    """How far from a good copyist's beams: unusual joins, and usual joins left undone."""
    cost = 0
    for group in groups:
        if len(group) > 1 and not _in_one_beat(group, plan):
            wide = _wide(tuple(group), plan)
            full = wide is not None and all(_full(cell, plan) for cell in group)
            cost += 0 if wide is not None and wide.usual and full else 5
    for left, right in pairwise(groups):
        if _in_one_beat([left[-1], right[0]], plan):
            cost += -1 if _short(left[-1], plan) and _short(right[0], plan) and not _quaver_cells(plan) else 1
        elif (wide := _wide((left[-1], right[0]), plan)) is not None and wide.usual:
            cost += 1
    return cost


def _quaver_cells(plan: BeamPlan) -> bool:
    return plan.cells[0][1] <= plan.long_note.ticks


def may_break(left: Cell, right: Cell, plan: BeamPlan) -> bool:
    """Whether a beam may stop between two neighbouring cells."""
    if plan.loose or not _in_one_beat([left, right], plan):
        return True
    short = (_short(left, plan), _short(right, plan))
    return any(short) if plan.parts else all(short)


def joined(group: tuple[Cell, ...], plan: BeamPlan) -> str | None:
    """The reason one beam may cover these cells, or None when it may not."""
    if len(group) == 1 or _in_one_beat(list(group), plan):
        wider = len(group) > 1 and plan.held
        return f"the notes of a {plan.held} may share one beam" if wider else "one beam for each beat"
    wide = _wide(group, plan)
    return None if wide is None else f"quavers of a {wide.name} may share one beam"


def _in_one_beat(group: list[Cell], plan: BeamPlan) -> bool:
    first, last = group[0][0], group[-1][-1]
    return plan.beat_of(first.start) == plan.beat_of(last.start)


def _short(cell: Cell, plan: BeamPlan) -> bool:
    return any(event.duration.tails > plan.long_note.tails for event in cell)


def _full(cell: Cell, plan: BeamPlan) -> bool:
    beat = plan.beat_of(cell[0].start)
    return cell[0].start in (beat[0], plan.cell_of(cell[0].start)[0]) and cell[-1].end in (
        beat[1],
        plan.cell_of(cell[0].start)[1],
    )


def _wide(group: tuple[Cell, ...], plan: BeamPlan) -> Wide | None:
    if any(event.duration != plan.long_note for cell in group for event in cell):
        return None
    for wide in plan.wides:
        inside = wide.start <= group[0][0].start and group[-1][-1].end <= wide.end
        if inside and (not wide.whole_beats or all(_full(cell, plan) for cell in group)):
            return wide
    return None
