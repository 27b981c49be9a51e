"""Which grouping: the one version of a bar whose beams, ties and rests show the beats."""

from __future__ import annotations

from collections.abc import Iterator
from random import Random
from typing import Annotated

from msgspec import Meta

from stavewright.questions.documents import Answer, Slip, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.setting.grouped import grouped_bar
from stavewright.questions.showing.barred import spoken
from stavewright.questions.showing.beams import beamed_score
from stavewright.questions.solving.beaming import (
    beam_answers,
    beam_slips,
    beam_steps,
    beams_said,
    events_of,
    members,
    under_beams,
)
from stavewright.questions.values import Value, WrittenValue
from stavewright.questions.wording import Wording
from stavewright.score.stave import Score
from stavewright.syllabus.scope import Scope
from stavewright.theory.duration import of_ticks, total_ticks
from stavewright.theory.grouping import accepted_beamings
from stavewright.theory.metre import TimeSignature
from stavewright.theory.value_faults import value_faults

Row = tuple[WrittenValue, ...]


class WhichGrouping(Facts, frozen=True, forbid_unknown_fields=True):
    """A full bar of well-chosen values, rests and ties, without its beams.

    Raises:
        BadDocument: there are beams already, the bar is not full, a sign hides a beat, or there is nothing to beam.
    """

    time: Annotated[str, Meta(max_length=5)]
    row: Annotated[Row, Meta(min_length=2, max_length=24)]

    def __post_init__(self) -> None:
        time = TimeSignature.parse(self.time)
        if any(one.beam is not None for one in self.row):
            raise BadDocument("the bar has beams already: leave them out")
        if total_ticks([one.duration for one in self.row]) != time.ticks:
            raise BadDocument(f"the bar is not full: {self.time} asks for {time.ticks} ticks")
        if sum(not one.rest and one.duration.tails > 0 for one in self.row) < 2:
            raise BadDocument("a beam joins notes with tails: the bar needs at least two of them")
        if all(value_faults(events_of(self.row), time, grouping=way) for way in time.groupings or (None,)):
            raise BadDocument("a note or rest of the bar hides a beat: write it as two")


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    made = grouped_bar(scope, rng)
    return None if made is None else Draft(WhichGrouping(made.time.text, made.bare), Value(rhythm=made.meant))


def _time(facts: WhichGrouping) -> TimeSignature:
    return TimeSignature.parse(facts.time)


def _solve(facts: WhichGrouping) -> tuple[Answer, ...]:
    return beam_answers(facts.row, _time(facts))


def _hidden(row: Row, time: TimeSignature, at: int) -> bool:
    """Whether the sign at a place stands over the beginning of a beat and is wrong, however a bar is grouped."""
    start = total_ticks([one.duration for one in row[:at]])
    end = start + row[at].duration.ticks
    for way in time.groupings or (None,):
        over = any(start < begin < end for begin, _ in time.spans(way))
        if not over or all(fault.index != at for fault in value_faults(events_of(row), time, grouping=way)):
            return False
    return True


def _joined(facts: WhichGrouping) -> Iterator[tuple[Row, bool]]:
    """The bar with two tied notes, or two rests, written as one that hides a beat; and whether it is a rest."""
    for at, (one, after) in enumerate(zip(facts.row, facts.row[1:], strict=False)):
        if not (one.tie or (one.rest and after.rest)):
            continue
        whole = of_ticks(total_ticks([one.duration, after.duration]), max_dots=1)
        if whole is not None and one.tuplet is None is after.tuplet:
            row = (*facts.row[:at], WrittenValue.of(whole, rest=one.rest, tie=after.tie), *facts.row[at + 2 :])
            if _hidden(row, _time(facts), at):
                yield row, one.rest


def _slips(facts: WhichGrouping) -> tuple[Slip, ...]:
    """A sign that hides a beat first, then the wrong ways of beaming; all sound the same as the bar itself."""
    time = _time(facts)
    found: list[Slip] = []

    def add(name: str, row: Row, remedy: str) -> None:
        groups = accepted_beamings(events_of(row), time)[0].groups
        found.append(slip(name, under_beams(row, groups), f"{spoken(row)}: {beams_said(row, groups)}", remedy))

    for row, rest in list(_joined(facts))[:2]:
        what = "rests joined over a beat" if rest else "note hides a beat"
        sign = "rest" if rest else "note"
        add(what, row, f"Mark where each beat begins. No {sign} may hide that place: it is written as two there.")
    wrong = beam_slips(facts.row, time)
    return (*found[:1], *wrong, *found[1:])


def _work(facts: WhichGrouping, method: str) -> tuple[Step, ...]:
    steps = list(beam_steps(facts.row, _time(facts), alone=True))
    split = list(_joined(facts))
    if split and len(steps) < 6:
        ids = tuple(
            f"n{place}"
            for place, one in enumerate(facts.row, 1)
            if one.tie or one.rest or (place > 1 and facts.row[place - 2].tie)
        )
        signs = " and ".join(sorted({"rests" if rest else "notes" for _, rest in split}, reverse=True))
        steps.insert(-1, Step(f"Where one sign would hide a beat, two {signs} are written.", ids, "two signs"))
    return tuple(steps)


def _draw(facts: WhichGrouping, value: Value) -> Score:
    return beamed_score(value.rhythm or (), _time(facts))


def _pose(facts: WhichGrouping, wording: Wording) -> Posed:
    ask = f"Which of these bars is grouped correctly for {_time(facts).text} time? Look at beams, rests and ties."
    return Posed((TextBlock(wording.say(ask)),))


def _difficulty(facts: WhichGrouping) -> float:
    """Compound and irregular time, rests and ties inside beats are harder (common practice)."""
    time = _time(facts)
    kind = {"simple": 0.0, "compound": 0.5, "irregular": 0.9}[time.kind]
    groups = accepted_beamings(events_of(facts.row), time)[0].groups
    odd = sum(one.rest or one.tie or one.tuplet is not None for one in facts.row)
    return -1.2 + kind + 0.15 * len(members(groups)) + 0.15 * min(odd, 4)


KIND = Kind(
    id="which-grouping",
    topic="metre",
    since=1,
    title="The right grouping",
    facts=WhichGrouping,
    forms={"written": "choice", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"which-grouping/{_time(facts).kind}",
    pool=lambda scope: None,
    seconds=35,
    marking=Marking("all-or-nothing", beams=True),
    draw=_draw,
)
