"""Adding the bar lines to a melody; each bar is judged from the pupil's own line before it."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from random import Random
from typing import Annotated

from msgspec import Meta

from stavewright.questions.documents import Answer, RhythmForm, Slip, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_document import ScoreDocument
from stavewright.questions.score_mirror import document_of, score_of
from stavewright.questions.setting.unbarred import unbarred
from stavewright.questions.showing.pictures import heading
from stavewright.questions.solving.groups import group_remedy
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.score.event import Event, Note, Rest
from stavewright.score.stave import Bar, Score
from stavewright.score.writing import with_accidentals
from stavewright.syllabus.scope import Scope
from stavewright.theory.bar_lines import bar_line_places, judge_bar_lines, lines_without_pick_up
from stavewright.theory.duration import Duration, of_ticks
from stavewright.theory.metre import TimeSignature

_MOST_SHOWN = 3


class AddTheBarLines(Facts, frozen=True, forbid_unknown_fields=True):
    """A melody without bar lines, its time signature printed, and its upbeat in ticks (0 for none).

    Its bars are pieces between which nothing is drawn. Raises:
        BadDocument: more than one stave, a line drawn before the last, or no time signature.
    """

    melody: ScoreDocument
    pickup: Annotated[int, Meta(ge=0, le=4_000_000)] = 0

    def __post_init__(self) -> None:
        staves = score_of(self.melody).staves
        if len(staves) != 1 or staves[0].time is None or any(bar.line != "none" for bar in staves[0].bars[:-1]):
            raise BadDocument("a melody without bar lines is one stave with a time signature and no line but the last")


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    found = unbarred(scope, rng, melodies)
    if found is None:
        return None
    score, pickup, lines = found
    return Draft(AddTheBarLines(document_of(score), pickup), Value(bar_lines=lines))


def _events(facts: AddTheBarLines) -> tuple[Event, ...]:
    return tuple(event for bar in score_of(facts.melody).staves[0].bars for event in bar.events)


def _time(facts: AddTheBarLines) -> TimeSignature:
    time = score_of(facts.melody).staves[0].time
    if time is None:
        raise BadDocument("the melody has no time signature")
    return time


def _durations(facts: AddTheBarLines) -> tuple[Duration, ...]:
    return tuple(event.duration for event in _events(facts))


def _inside(lines: tuple[int, ...], count: int) -> tuple[int, ...]:
    """The lines a pupil draws: the one at the end is printed."""
    return tuple(line for line in lines if 0 < line < count)


def _lines(facts: AddTheBarLines) -> tuple[int, ...]:
    durations = _durations(facts)
    return _inside(bar_line_places(durations, _time(facts), anacrusis=facts.pickup), len(durations))


def _said(facts: AddTheBarLines, lines: tuple[int, ...]) -> str:
    numbers = [str(line) for line in lines]
    counted = ", rests counted too" if any(isinstance(event, Rest) for event in _events(facts)) else ""
    if len(numbers) < 2:
        return f"a bar line after note {numbers[0]}{counted}" if numbers else "no bar line"
    return f"bar lines after notes {', '.join(numbers[:-1])} and {numbers[-1]}{counted}"


def _solve(facts: AddTheBarLines) -> tuple[Answer, ...]:
    lines = _lines(facts)
    if not lines:
        return ()
    time = _time(facts)
    upbeat = " after the upbeat" if facts.pickup else ""
    reason = f"Every bar{upbeat} holds {time.count} {time.beat.text} beats, as {time.text} asks."
    return (answer(Value(bar_lines=lines), _said(facts, lines), reason),)


def _drawn(lengths: list[int], bar: int, first: int) -> tuple[int, ...]:
    """Where lines fall when these lengths are counted: each line at the first chance, as a pupil draws it."""
    lines: list[int] = []
    held, wanted = 0, first or bar
    for place, length in enumerate(lengths, 1):
        held += length
        if held >= wanted:
            lines.append(place)
            held, wanted = 0, bar
    return _inside(tuple(lines), len(lengths))


def _slips(facts: AddTheBarLines) -> tuple[Slip, ...]:
    events, time = _events(facts), _time(facts)
    full = [event.ticks for event in events]
    found: list[Slip] = []

    def add(name: str, lines: tuple[int, ...], remedy: str) -> None:
        if lines and all(lines != one.value[0].bar_lines for one in found):
            found.append(slip(name, Value(bar_lines=lines), _said(facts, lines), remedy))

    if facts.pickup:
        lines = _inside(lines_without_pick_up(_durations(facts), time), len(events))
        add("upbeat counted as a bar", lines, "The upbeat comes before bar 1: draw a line after it, then count from 1.")
    undotted = [Duration(e.duration.type, 0, e.duration.tuplet).ticks for e in events]
    add("dots not counted", _drawn(undotted, time.ticks, facts.pickup), "A dot adds half of the note. Count it in.")
    face = [Duration(e.duration.type, e.duration.dots).ticks for e in events]
    group = group_remedy(_durations(facts))
    add("irregular group counted at face value", _drawn(face, time.ticks, facts.pickup), group)
    heard = [0 if isinstance(e, Rest) else e.ticks for e in events]
    add("rests not counted", _drawn(heard, time.ticks, facts.pickup), "Rests take time as well: count every one.")
    ones = [1] * len(events)
    add("counted notes, not beats", _drawn(ones, time.beats, 0), "Count beats: a long note takes more than one.")
    add("lower figure misread", _drawn(full, time.ticks * 2, facts.pickup), "The lower figure says what to count.")
    halved = _drawn(full, time.ticks // 2, facts.pickup)
    add("a line at every half bar", halved, "Count all the beats that the time signature asks for.")
    return tuple(found)


def _faults(facts: AddTheBarLines, value: Value) -> int | None:
    """Bars that do not add up, each judged from the pupil's own line before it; lines too many or too few count.

    Source: common practice, so that one misplaced line costs once.
    """
    if value.bar_lines is None:
        return None
    durations = _durations(facts)
    drawn = _inside(tuple(sorted(set(value.bar_lines))), len(durations))
    judged = judge_bar_lines(drawn, durations, _time(facts), anacrusis=facts.pickup)
    wrong = sum(not bar.right for bar in judged)
    return max(wrong, abs(len(drawn) - len(_lines(facts))))


def _work(facts: AddTheBarLines, method: str) -> tuple[Step, ...]:
    time, lines, events = _time(facts), _lines(facts), _events(facts)
    steps = [Step(f"The time signature {time.text} means {time.meaning()}.", (), f"{time.count} × {time.beat.text}")]
    start = 0
    for number, line in enumerate(lines[:_MOST_SHOWN], 0 if facts.pickup else 1):
        ids = tuple(event.id for event in events[start:line])
        names = ", ".join(_name(event) for event in events[start:line])
        what = "The upbeat" if number == 0 else f"Bar {number}"
        after = "it" if line == start + 1 else f"these {line - start}"
        steps.append(Step(f"{what}: {names}. Draw a line after {after}.", ids, f"line after {line}"))
        start = line
    rest = _said(facts, lines[_MOST_SHOWN:])
    last = "with the upbeat it makes one full bar" if facts.pickup else "it must be full too"
    go_on = f"Go on in the same way: {rest}. " if len(lines) > _MOST_SHOWN else ""
    steps.append(Step(f"{go_on}Check the last bar: {last}.", tuple(event.id for event in events[lines[-1] :])))
    return tuple(steps)


def _name(event: Event) -> str:
    return event.duration.name(rest=isinstance(event, Rest))


def _tied(event: Event) -> bool:
    return isinstance(event, Note) and event.tie


def _draw(facts: AddTheBarLines, value: Value) -> Score:
    """The melody with bar lines where they were drawn, every bar as it came out, and the signs it then needs."""
    score = score_of(facts.melody)
    stave, events = score.staves[0], _events(facts)
    edges = [0, *sorted(set(_inside(value.bar_lines or (), len(events)))), len(events)]
    bars = [
        Bar((_unbroken(events[first:last]),), line="final" if last == len(events) else "single", free=True)
        for first, last in pairwise(edges)
    ]
    return with_accidentals(replace(score, staves=(replace(stave, bars=tuple(bars)),)))


def _unbroken(row: tuple[Event, ...]) -> tuple[Event, ...]:
    """A bar of its own: a beam of which one note is left is no beam."""
    beams = [event.beam for event in row if isinstance(event, Note)]
    return tuple(
        replace(event, beam=None) if isinstance(event, Note) and beams.count(event.beam) < 2 else event for event in row
    )


def _pose(facts: AddTheBarLines, wording: Wording) -> Posed:
    upbeat = of_ticks(facts.pickup, max_dots=1) if facts.pickup else None
    first = f"with an upbeat of a {upbeat.text}" if upbeat else "on the first beat of a bar"
    text = f"Add the missing bar lines. The music begins {first}. The last bar line is there."
    row = ", ".join(_name(one) + (" tied to the next" if _tied(one) else "") for one in _events(facts))
    alt = f"{heading(score_of(facts.melody).staves[0])} No bar lines before the last one. In order: {row}."
    return Posed((TextBlock(wording.say(text)),), RhythmForm("bar-lines", facts.melody, wording.say(alt)[:2000]))


def _difficulty(facts: AddTheBarLines) -> float:
    """Compound and irregular time, an upbeat, and a rhythm of many different values are harder (common practice)."""
    kind = {"simple": 0.0, "compound": 0.5, "irregular": 0.9}[_time(facts).kind]
    values = len(set(_durations(facts)))
    return -1.2 + kind + (0.5 if facts.pickup else 0.0) + 0.15 * values


KIND = Kind(
    id="add-the-bar-lines",
    topic="metre",
    since=1,
    title="Add the bar lines",
    facts=AddTheBarLines,
    forms={"written": "rhythm", "on-screen": "rhythm"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"add-the-bar-lines/{_time(facts).kind}{'-upbeat' if facts.pickup else ''}",
    pool=lambda scope: None,
    seconds=70,
    marking=Marking("minus-one-per-fault"),
    marks=3,
    draw=_draw,
    faults=_faults,
)
