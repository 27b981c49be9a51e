"""Beam a bar: write it again with its tails joined so that every beat is seen."""

from __future__ import annotations

from collections import Counter
from random import Random
from typing import Annotated

from msgspec import Meta

from stavewright.questions.documents import Answer, RhythmForm, Slip, StaveBlock, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.bars import Row, pick_time, rhythm_bar
from stavewright.questions.showing.beams import beamed_score, drawable, empty_bar
from stavewright.questions.values import Value, WrittenValue
from stavewright.questions.wording import Wording
from stavewright.score.stave import Score
from stavewright.syllabus.scope import Scope
from stavewright.theory import grouping as beams
from stavewright.theory.beaming import numbered
from stavewright.theory.duration import Duration, total_ticks
from stavewright.theory.grouping import accepted_beamings, wrong_beamings
from stavewright.theory.metre import TimeSignature
from stavewright.theory.rests import fill

_TRIES = 16
_MOST_WAYS = 30
_REST_SHARE = 0.3
_BUSY_SHARE = 0.5
_LONGEST = 14


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
    time = pick_time(scope, rng)
    for left in reversed(range(_TRIES)):
        events = [(one, False) for one in _bar(scope, rng, time)]
        if rng.random() < _REST_SHARE:
            _silence(events, rng, time)
        tails = sum(not rest and one.tails > 0 for one, rest in events)
        if tails < min(4, time.beats) or len(events) > _LONGEST:
            continue
        ways = accepted_beamings(events, time)
        under = Counter(group for group in ways[0].groups if group is not None)
        if len(ways) > _MOST_WAYS or (len(under) < 2 and (left > _TRIES // 2 or max(under.values(), default=0) < 3)):
            continue
        bare = tuple(WrittenValue.of(one, rest=rest) for one, rest in events)
        meant = tuple(
            WrittenValue.of(one, rest=rest, beam=group)
            for (one, rest), group in zip(events, ways[0].groups, strict=True)
        )
        return Draft(BeamTheBar(time.text, bare), Value(rhythm=meant))
    return None


def _bar(scope: Scope, rng: Random, time: TimeSignature) -> Row:
    """A bar with many tails; the beats of a slow metre are filled as if they were bars of crotchets."""
    if time.beat.type != "minim":
        grouping = rng.choice(time.groupings) if time.groupings else None
        return rhythm_bar(scope, rng, time, grouping=grouping, busy=True)
    inner = TimeSignature(3 if time.kind == "compound" else 2, 4)
    row: Row = ()
    for _ in range(time.count):
        busy = time.count == 2 or rng.random() < _BUSY_SHARE
        row += rhythm_bar(scope, rng, inner, tuplets=time.count == 2, busy=busy)
    return row


def _silence(events: list[tuple[Duration, bool]], rng: Random, time: TimeSignature) -> None:
    """Turn one note with a tail into a rest, where that rest is well written."""
    place = rng.randrange(len(events))
    length, _ = events[place]
    if length.tails == 0 or length.dots or length.tuplet is not None:
        return
    start = total_ticks([one for one, _ in events[:place]])
    if fill(start, length.ticks, time)[0].rests == (length,):
        events[place] = (length, True)


# --- solving -------------------------------------------------------------------------------------------------------


def _events(facts: BeamTheBar) -> tuple[beams.Event, ...]:
    return tuple((one.duration, one.rest) for one in facts.row)


def _value(facts: BeamTheBar, groups: beams.Groups) -> Value:
    return Value(
        rhythm=tuple(
            WrittenValue.of(one.duration, rest=one.rest, beam=None if group is None else group + 1)
            for one, group in zip(facts.row, groups, strict=True)
        )
    )


def _members(groups: beams.Groups) -> list[list[int]]:
    """The notes under each beam, by their place in the bar (rests have a place too)."""
    found: dict[int, list[int]] = {}
    for place, group in enumerate(groups):
        if group is not None:
            found.setdefault(group, []).append(place)
    return list(found.values())


def _said(facts: BeamTheBar, groups: beams.Groups) -> str:
    """The beams by the numbers of the notes under them, rests not counted: "beams over notes 1 to 4, 5 and 6"."""
    notes = [place for place, one in enumerate(facts.row) if not one.rest]
    parts = [
        f"{notes.index(run[0]) + 1} {'to' if len(run) > 2 else 'and'} {notes.index(run[-1]) + 1}"
        for run in _members(groups)
    ]
    return f"beams over notes {', '.join(parts)}" if parts else "no beams at all"


def _solve(facts: BeamTheBar) -> tuple[Answer, ...]:
    time = TimeSignature.parse(facts.time)
    return tuple(
        answer(_value(facts, way.groups), _said(facts, way.groups), f"{way.reason[0].upper()}{way.reason[1:]}.")
        for way in accepted_beamings(_events(facts), time)
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


def _slips(facts: BeamTheBar) -> tuple[Slip, ...]:
    """The wrong ways of grouping, each fault once before any fault twice; a bar left as it was comes last."""
    time = TimeSignature.parse(facts.time)
    wrong = [(one.fault, one.groups) for one in wrong_beamings(_events(facts), time)]
    found: list[tuple[int, Slip]] = []
    seen: Counter[str] = Counter()
    for fault, groups in [*wrong, *_lapses(accepted_beamings(_events(facts), time)[0].groups)]:
        value = _value(facts, groups)
        if drawable(value.rhythm or ()) == value.rhythm:
            seen[fault] += 1
            turn = _LAST if fault == beams.NOTHING else 2 * seen[fault] + (fault not in beams.FAULTS)
            found.append((turn, slip(fault, value, _said(facts, groups), _REMEDIES[fault])))
    return tuple(one for _, one in sorted(found, key=lambda pair: pair[0]))


def _lapses(groups: beams.Groups) -> list[tuple[str, beams.Groups]]:
    """The model with one of its beams forgotten, or with an outer note of a longer beam left alone."""
    runs = _members(groups)
    found: list[tuple[str, beams.Groups]] = []
    if len(runs) > 1:
        found += [(_FORGOTTEN, _without(groups, run)) for run in (runs[-1], runs[0])]
    for run in runs:
        if len(run) > 2:
            found += [(_LEFT_OFF, _without(groups, [place])) for place in (run[-1], run[0])]
    return found


def _without(groups: beams.Groups, places: list[int]) -> beams.Groups:
    """The beams without these notes, numbered from 0."""
    kept = [[place for place in run if place not in places] for run in _members(groups)]
    return numbered([run for run in kept if run], len(groups))


def _faults(facts: BeamTheBar, value: Value) -> int | None:
    """Where no beam at all is right, every note counts as a fault (common practice): tails left alone earn nothing."""
    drawn = _members(tuple(one.beam for one in value.rhythm or ()))
    ways = accepted_beamings(_events(facts), TimeSignature.parse(facts.time))
    return None if any(run in drawn for way in ways for run in _members(way.groups)) else len(facts.row)


def _work(facts: BeamTheBar, method: str) -> tuple[Step, ...]:
    time = TimeSignature.parse(facts.time)
    model, *others = accepted_beamings(_events(facts), time)
    starts = [total_ticks([one.duration for one in facts.row[:place]]) for place in range(len(facts.row))]
    spans = _spans(time, model.reason)
    begins = {start for start, _ in spans}
    on_beats = tuple(f"n{place}" for place, start in enumerate(starts, 1) if start in begins)
    if time.kind == "irregular":
        sizes = "+".join(str(length // time.unit_value.ticks) for _, length in spans)
        first = f"A bar of {time.text} has groups of unequal length. Here {time.unit_value.text}s go {sizes}."
    else:
        first = f"A bar of {time.text} has {time.count} {time.beat.text} beats. Mark where each one begins."
    steps = [Step(first, on_beats, " ".join(str(n) for n in range(1, len(spans) + 1)))]
    alone = [place for place, one in enumerate(facts.row, 1) if one.rest or one.duration.tails == 0]
    if alone:
        rests = [facts.row[place - 1].rest for place in alone]
        what = "A rest" if all(rests) else "A rest or a note without a tail" if any(rests) else "A note without a tail"
        steps.append(Step(f"{what} stays as it is, and no beam passes it.", tuple(f"n{place}" for place in alone)))
    under = tuple(f"n{place + 1}" for run in _members(model.groups) for place in run)
    said = _said(facts, model.groups)
    steps.append(Step(f"Join what belongs together: {said}.", under, said.removeprefix("beams over notes ")))
    steps.append(Step(f"Why so: {model.reason}."))
    if others:
        steps.append(Step(f"Also right: {_said(facts, others[0].groups)}. Why: {others[0].reason}."))
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
    groups = accepted_beamings(_events(facts), time)[0].groups
    odd = sum(one.rest or one.duration.dots > 0 or one.duration.tuplet is not None for one in facts.row)
    return -1.1 + kind + 0.2 * len(_members(groups)) + 0.1 * min(odd, 5)


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
