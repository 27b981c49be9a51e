"""Beaming a bar: the accepted ways, what pupils do instead, and how it is worked."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from msgspec.structs import replace

from stavewright.questions.documents import Answer, Slip, Step
from stavewright.questions.kind import answer, slip
from stavewright.questions.showing.beams import drawable
from stavewright.questions.values import Value, WrittenValue
from stavewright.theory import grouping as beams
from stavewright.theory.beam_groups import numbered
from stavewright.theory.duration import total_ticks
from stavewright.theory.grouping import accepted_beamings, wrong_beamings
from stavewright.theory.metre import TimeSignature

Row = Sequence[WrittenValue]


def events_of(row: Row) -> tuple[beams.Event, ...]:
    """The bar as the theory of beams reads it."""
    return tuple((one.duration, one.rest) for one in row)


def under_beams(row: Row, groups: beams.Groups) -> Value:
    """The bar under these beams."""
    return Value(
        rhythm=tuple(
            replace(one, beam=None if group is None else group + 1) for one, group in zip(row, groups, strict=True)
        )
    )


def members(groups: beams.Groups) -> list[list[int]]:
    """The notes under each beam, by their place in the bar (rests have a place too)."""
    found: dict[int, list[int]] = {}
    for place, group in enumerate(groups):
        if group is not None:
            found.setdefault(group, []).append(place)
    return list(found.values())


def beams_said(row: Row, groups: beams.Groups) -> str:
    """The beams by the numbers of the notes under them, rests not counted: "beams over notes 1 to 4, 5 and 6"."""
    notes = [place for place, one in enumerate(row) if not one.rest]
    parts = [
        f"{notes.index(run[0]) + 1} {'to' if len(run) > 2 else 'and'} {notes.index(run[-1]) + 1}"
        for run in members(groups)
    ]
    return f"beams over notes {', '.join(parts)}" if parts else "no beams at all"


def beam_answers(row: Row, time: TimeSignature) -> tuple[Answer, ...]:
    """Every accepted way to beam the bar, the usual one first."""
    return tuple(
        answer(under_beams(row, way.groups), beams_said(row, way.groups), f"{way.reason[0].upper()}{way.reason[1:]}.")
        for way in accepted_beamings(events_of(row), time)
    )


_FORGOTTEN = "one beam forgotten"
_LEFT_OFF = "note left off the beam"
_LAST = 99
_REMEDIES = {
    _FORGOTTEN: "Go through the bar beat by beat. One beat still has its separate tails.",
    _LEFT_OFF: "Look at both ends of every beam. A note that belongs to the beat is left outside.",
    beams.IMPOSSIBLE: "A beam joins notes with tails that stand side by side. A rest or a longer note stops it.",
    beams.NOTHING: "Look for notes with tails inside one beat. Join them with a beam.",
    beams.COMPOUND_AS_SIMPLE: "The beat here is a dotted note. Its short notes go in threes, not in twos.",
    beams.SIMPLE_AS_COMPOUND: "Count the beats again. Two halves of three would look like another time signature.",
    beams.ACROSS_MIDDLE: "Draw a line at the middle of the bar. No beam may cross it.",
    beams.RUN_TOGETHER: "Mark every beat. A beam as long as this hides where the next beat begins.",
    beams.ACROSS_BEAT: "Mark where each beat begins. A beam may not run from inside one beat into the next.",
    beams.BROKEN: "Look at each beat as a whole. Notes that make up one beat stay together.",
}


def beam_slips(row: Row, time: TimeSignature) -> tuple[Slip, ...]:
    """The wrong ways of grouping, each fault once before any fault twice; a bar left as it was comes last."""
    wrong = [(one.fault, one.groups) for one in wrong_beamings(events_of(row), time)]
    found: list[tuple[int, Slip]] = []
    seen: Counter[str] = Counter()
    for fault, groups in [*wrong, *_lapses(accepted_beamings(events_of(row), time)[0].groups)]:
        value = under_beams(row, groups)
        if drawable(value.rhythm or ()) == value.rhythm:
            seen[fault] += 1
            turn = _LAST if fault == beams.NOTHING else 2 * seen[fault] + (fault not in beams.FAULTS)
            found.append((turn, slip(fault, value, beams_said(row, groups), _REMEDIES[fault])))
    return tuple(one for _, one in sorted(found, key=lambda pair: pair[0]))


def _lapses(groups: beams.Groups) -> list[tuple[str, beams.Groups]]:
    """The model with one of its beams forgotten, or with an outer note of a longer beam left alone."""
    runs = members(groups)
    found: list[tuple[str, beams.Groups]] = []
    if len(runs) > 1:
        found += [(_FORGOTTEN, _without(groups, run)) for run in (runs[-1], runs[0])]
    for run in runs:
        if len(run) > 2:
            found += [(_LEFT_OFF, _without(groups, [place])) for place in (run[-1], run[0])]
    return found


def _without(groups: beams.Groups, places: list[int]) -> beams.Groups:
    """The beams without these notes, numbered from 0."""
    kept = [[place for place in run if place not in places] for run in members(groups)]
    return numbered([run for run in kept if run], len(groups))


def beam_steps(row: Row, time: TimeSignature, *, alone: bool = False) -> tuple[Step, ...]:
    """How a teacher beams the bar, beat by beat; points at notes n1, n2, ...

    `alone`: no other right way is named, because it cannot be picked.
    """
    model, *others = accepted_beamings(events_of(row), time)
    starts = [total_ticks([one.duration for one in row[:place]]) for place in range(len(row))]
    spans = _spans(time, model.reason)
    begins = {start for start, _ in spans}
    on_beats = tuple(f"n{place}" for place, start in enumerate(starts, 1) if start in begins)
    if time.kind == "irregular":
        sizes = "+".join(str(length // time.unit_value.ticks) for _, length in spans)
        first = f"A bar of {time.text} has groups of unequal length. Here {time.unit_value.text}s go {sizes}."
    else:
        first = f"A bar of {time.text} has {time.count} {time.beat.text} beats. Mark where each one begins."
    steps = [Step(first, on_beats, " ".join(str(n) for n in range(1, len(spans) + 1)))]
    bare = [place for place, one in enumerate(row, 1) if one.rest or one.duration.tails == 0]
    if bare:
        rests = [row[place - 1].rest for place in bare]
        what = "A rest" if all(rests) else "A rest or a note without a tail" if any(rests) else "A note without a tail"
        steps.append(Step(f"{what} stays as it is, and no beam passes it.", tuple(f"n{place}" for place in bare)))
    under = tuple(f"n{place + 1}" for run in members(model.groups) for place in run)
    said = beams_said(row, model.groups)
    steps.append(Step(f"Join what belongs together: {said}.", under, said.removeprefix("beams over notes ")))
    steps.append(Step(f"Why so: {model.reason}."))
    if others and not alone:
        steps.append(Step(f"Also right: {beams_said(row, others[0].groups)}. Why: {others[0].reason}."))
    part = "group" if time.kind == "irregular" else "beat"
    middle = " No beam may cross the middle of the bar." if time.count == 4 and time.unit != 8 else ""
    steps.append(Step(f"Check: point at the place where each {part} begins.{middle}"))
    return tuple(steps)


def _spans(time: TimeSignature, reason: str) -> tuple[tuple[int, int], ...]:
    """The beats of the bar, or the groups of an irregular one as the reason of its beaming names them."""
    for one in time.groupings:
        if reason.endswith(f"grouped {'+'.join(map(str, one))}"):
            return time.spans(one)
    return time.spans()
