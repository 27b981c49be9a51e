"""Beam a bar: write it again with its tails joined so that every beat is seen."""

from __future__ import annotations

from random import Random
from typing import Annotated

from msgspec import Meta

from stavewright.questions.documents import Answer, RhythmForm, Slip, StaveBlock, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.beaming import bar_to_beam
from stavewright.questions.showing.beams import beamed_score, empty_bar
from stavewright.questions.solving.beaming import beam_answers, beam_slips, beam_steps, events_of, members
from stavewright.questions.values import Value, WrittenValue
from stavewright.questions.wording import Wording
from stavewright.score.stave import Score
from stavewright.syllabus.scope import Scope
from stavewright.theory.duration import total_ticks
from stavewright.theory.grouping import accepted_beamings
from stavewright.theory.metre import TimeSignature


class BeamTheBar(Facts, frozen=True, forbid_unknown_fields=True):
    """One full bar under a time signature, every note with its own tail.

    Raises:
        BadDocument: beams or ties are there already, the bar is not full, or fewer than two notes have tails.
    """

    time: str
    row: Annotated[tuple[WrittenValue, ...], Meta(min_length=2, max_length=24)]

    def __post_init__(self) -> None:
        if any(one.beam is not None or one.tie for one in self.row):
            raise BadDocument("the bar to be beamed has beams or ties already: leave them out")
        time = TimeSignature.parse(self.time)
        held = total_ticks([one.duration for one in self.row])
        if held != time.ticks:
            raise BadDocument(f"the bar holds {held} ticks, where {self.time} asks for {time.ticks}")
        if sum(not one.rest and one.duration.tails > 0 for one in self.row) < 2:
            raise BadDocument("a beam joins notes with tails: the bar needs at least two of them")


# --- setting -------------------------------------------------------------------------------------------------------


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    made = bar_to_beam(scope, rng)
    return None if made is None else Draft(BeamTheBar(made.time.text, made.bare), Value(rhythm=made.meant))


# --- solving -------------------------------------------------------------------------------------------------------


def _solve(facts: BeamTheBar) -> tuple[Answer, ...]:
    return beam_answers(facts.row, TimeSignature.parse(facts.time))


def _slips(facts: BeamTheBar) -> tuple[Slip, ...]:
    """The wrong ways of grouping, each fault once before any fault twice; a bar left as it was comes last."""
    return beam_slips(facts.row, TimeSignature.parse(facts.time))


def _faults(facts: BeamTheBar, value: Value) -> int | None:
    """Where no beam at all is right, every note counts as a fault (common practice): tails left alone earn nothing."""
    drawn = members(tuple(one.beam for one in value.rhythm or ()))
    ways = accepted_beamings(events_of(facts.row), TimeSignature.parse(facts.time))
    return None if any(run in drawn for way in ways for run in members(way.groups)) else len(facts.row)


def _work(facts: BeamTheBar, method: str) -> tuple[Step, ...]:
    return beam_steps(facts.row, TimeSignature.parse(facts.time))


# --- showing -------------------------------------------------------------------------------------------------------


def _draw(facts: BeamTheBar, value: Value) -> Score:
    return beamed_score(value.rhythm or (), TimeSignature.parse(facts.time))


def _pose(facts: BeamTheBar, wording: Wording) -> Posed:
    time = TimeSignature.parse(facts.time)
    values = ", ".join(one.duration.name(rest=one.rest) for one in facts.row)
    alt = f"One bar in {time.text} time on the middle line, without beams: {values}."
    shown = StaveBlock(document_of(beamed_score(facts.row, time)), wording.say(alt))
    if wording.choosing:
        return Posed((TextBlock(wording.say("Which picture shows this bar with its notes grouped correctly?")), shown))
    ask = "Write this bar again with its notes grouped correctly. Join tails with beams."
    room = wording.say(f"An empty bar in {time.text} time to write in.")
    return Posed((TextBlock(wording.say(ask)), shown), RhythmForm("beams", document_of(empty_bar(time)), room))


def _difficulty(facts: BeamTheBar) -> float:
    """Compound and irregular time, many beams, dots and rests inside beats are harder (common practice)."""
    time = TimeSignature.parse(facts.time)
    kind = {"simple": 0.0, "compound": 0.5, "irregular": 0.9}[time.kind]
    groups = accepted_beamings(events_of(facts.row), time)[0].groups
    odd = sum(one.rest or one.duration.dots > 0 or one.duration.tuplet is not None for one in facts.row)
    return -1.1 + kind + 0.2 * len(members(groups)) + 0.1 * min(odd, 5)


KIND = Kind(
    id="beam-the-bar",
    topic="metre",
    since=1,
    title="Beam the bar",
    facts=BeamTheBar,
    forms={"written": "rhythm", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"beam-the-bar/{TimeSignature.parse(facts.time).kind}",
    pool=lambda scope: None,
    seconds=45,
    marking=Marking("minus-one-per-fault", beams=True),
    marks=2,
    draw=_draw,
    faults=_faults,
)
