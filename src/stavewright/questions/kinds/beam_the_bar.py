"""Beaming a bar: the notes are printed with single tails, the answer groups them as the metre asks."""

from __future__ import annotations

from functools import lru_cache
from random import Random
from typing import Annotated

from msgspec import Meta
from msgspec.structs import replace

from stavewright.questions.documents import Answer, RhythmForm, Slip, StaveBlock, Step, TextBlock
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.bars import beamed, pick_time, rhythm_bar
from stavewright.questions.showing.bars import bars_score, event_of
from stavewright.questions.showing.pictures import picture
from stavewright.questions.values import Value, WrittenValue
from stavewright.questions.wording import Wording
from stavewright.score.stave import Score
from stavewright.syllabus.scope import Scope
from stavewright.theory.grouping import Beaming, accepted_beamings, wrong_beamings
from stavewright.theory.metre import TimeSignature

_TRIES = 16
_FEWEST_TAILS = 4
_REMEDIES: dict[str, str] = {
    "nothing beamed": "Join the tails that belong to one beat with a beam.",
    "compound as simple": "The beats are dotted, so the short notes go in threes.",
    "simple as compound": "Count three beats: the bar must not fall into two halves.",
    "across the middle": "Draw a line at the middle of the bar: no beam may run across it.",
    "beats run together": "Start a new beam where a new beat begins.",
    "across the beat": "Start a new beam where a new beat begins.",
    "beat broken": "Keep the notes of one beat together under one beam.",
    "beam on a rest or a note without a tail": "Only neighbouring notes with tails are joined.",
}

RowOfValues = Annotated[tuple[WrittenValue, ...], Meta(min_length=1, max_length=32)]


class BeamTheBar(Facts, frozen=True, forbid_unknown_fields=True):
    """One full bar under a time signature, every note with its own tail."""

    time: str
    bar: RowOfValues


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    for _ in range(_TRIES):
        time = pick_time(scope, rng)
        row = rhythm_bar(scope, rng, time, tuplets=False, busy=True)
        tails = sum(value.tails > 0 for value in row)
        if tails < _FEWEST_TAILS or len(wrong_beamings([(value, False) for value in row], time)) < 2:
            continue
        bar = tuple(WrittenValue.of(value) for value in row)
        return Draft(BeamTheBar(time.text, bar), Value(rhythm=beamed(row, time)))
    return None


@lru_cache(maxsize=256)
def _ways(facts: BeamTheBar) -> tuple[Beaming, ...]:
    return accepted_beamings([(value.duration, value.rest) for value in facts.bar], TimeSignature.parse(facts.time))


def _value(facts: BeamTheBar, groups: tuple[int | None, ...]) -> Value:
    pairs = zip(facts.bar, groups, strict=True)
    return Value(rhythm=tuple(replace(value, beam=None if group is None else group + 1) for value, group in pairs))


def _said(groups: tuple[int | None, ...]) -> str:
    """The beams by the numbers of their notes: "beams over notes 1 to 4, 5 to 6"."""
    runs = [[place for place, group in enumerate(groups, 1) if group == number] for number in dict.fromkeys(groups)]
    beams = [
        f"{run[0]} to {run[-1]}" for run, number in zip(runs, dict.fromkeys(groups), strict=True) if number is not None
    ]
    return f"beams over notes {', '.join(beams)}" if beams else "no beams"


def _solve(facts: BeamTheBar) -> tuple[Answer, ...]:
    return tuple(
        answer(_value(facts, way.groups), _said(way.groups), f"{way.reason[0].upper()}{way.reason[1:]}.")
        for way in _ways(facts)
    )


def _slips(facts: BeamTheBar) -> tuple[Slip, ...]:
    events = [(value.duration, value.rest) for value in facts.bar]
    found = [
        slip(wrong.fault, _value(facts, wrong.groups), _said(wrong.groups), _REMEDIES[wrong.fault])
        for wrong in wrong_beamings(events, TimeSignature.parse(facts.time))
    ]
    # A bar left as it is printed is a likely answer, but a poor choice to offer: it comes last.
    return tuple(sorted(found, key=lambda one: one.name == "nothing beamed"))


def _work(facts: BeamTheBar, method: str) -> tuple[Step, ...]:
    time = TimeSignature.parse(facts.time)
    steps = [Step(f"{time.text} has {time.count} beats, each a {time.beat.text}.", (), time.meaning())]
    starts: list[str] = []
    at = 0
    beats = {start for start, _ in time.spans()}
    for number, value in enumerate(facts.bar, 1):
        if at in beats:
            starts.append(f"n{number}")
        at += value.duration.ticks
    pencil = (
        "Pencil a mark where each beat begins" if time.kind != "irregular" else "Pencil a mark where each group begins"
    )
    steps.append(Step(f"{pencil}.", tuple(starts), "|"))
    way = _ways(facts)[0]
    steps.append(Step(f"Join the tails: {way.reason}. So {_said(way.groups)}."))
    if len(_ways(facts)) > 1:
        steps.append(Step(f"Also right: {_said(_ways(facts)[1].groups)}, {_ways(facts)[1].reason}."))
    middle = " and that none crosses the middle of the bar" if time.count == 4 else ""
    steps.append(Step(f"Check that every beat can be seen{middle}."))
    return tuple(steps)


def _score(facts: BeamTheBar, values: tuple[WrittenValue, ...]) -> Score:
    events = [event_of(value, f"n{number}") for number, value in enumerate(values, 1)]
    return bars_score([events], TimeSignature.parse(facts.time))


def _draw(facts: BeamTheBar, value: Value) -> Score:
    return _score(facts, value.rhythm or facts.bar)


def _pose(facts: BeamTheBar, wording: Wording) -> Posed:
    score = _score(facts, facts.bar)
    document, alt = document_of(score), wording.say(picture(score))
    if wording.choosing:
        text = "In this bar every note has its own tail. Which answer groups the notes rightly?"
        return Posed((TextBlock(wording.say(text)), StaveBlock(document, alt)))
    text = "Write this bar again with the notes rightly grouped (beamed)."
    return Posed((TextBlock(wording.say(text)),), RhythmForm("beams", document, alt))


def _difficulty(facts: BeamTheBar) -> float:
    """Compound and irregular time, more notes with tails, and mixed values are harder (common practice)."""
    kind = {"simple": 0.0, "compound": 0.5, "irregular": 0.8}[TimeSignature.parse(facts.time).kind]
    tails = sum(value.duration.tails > 0 for value in facts.bar)
    return -1.2 + kind + 0.08 * tails + 0.1 * len({value.type for value in facts.bar})


KIND = Kind(
    id="beam-the-bar",
    topic="metre",
    since=1,
    title="Group the notes of a bar",
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
    seconds=40,
    marking=Marking("minus-one-per-fault", beams=True),
    marks=2,
    draw=_draw,
)
