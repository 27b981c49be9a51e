"""Completing bars with rests: every accepted way to fill the places that are marked."""

from __future__ import annotations

from itertools import product
from random import Random
from typing import Annotated

from msgspec import Meta, Struct

from stavewright.questions.documents import Answer, RhythmForm, Slip, StaveBlock, Step, TextBlock
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.bars import beamed, pick_time, rhythm_bar
from stavewright.questions.showing.bars import bars_score, event_of, gaps_of
from stavewright.questions.showing.pictures import picture
from stavewright.questions.solving.rest_places import cost, is_whole_bar, shared_out
from stavewright.questions.typed.gaps import bars_with_gaps
from stavewright.questions.values import Value, WrittenValue
from stavewright.questions.wording import Wording
from stavewright.score.event import Event, Rest
from stavewright.score.stave import Score
from stavewright.syllabus.scope import Scope
from stavewright.theory.duration import Duration, total_ticks
from stavewright.theory.metre import TimeSignature
from stavewright.theory.rest_faults import wrong_fills
from stavewright.theory.rests import RestFill, fill

_TRIES = 12
_SILENT_BAR_SHARE = 0.12
_TWO_GAPS_SHARE = 0.35
_MOST_WAYS = 24
_CROWD = 4
_MOST_RESTS = 4
_LETTERS = "abc"

RowOfValues = Annotated[tuple[WrittenValue, ...], Meta(max_length=24)]


class Silence(Struct, frozen=True, forbid_unknown_fields=True):
    """A place to fill: in which bar (from 0), after how many of its notes, and its length in ticks."""

    bar: Annotated[int, Meta(ge=0, le=3)]
    after: Annotated[int, Meta(ge=0, le=24)]
    ticks: Annotated[int, Meta(ge=1, le=4_000_000)]


class CompleteTheBar(Facts, frozen=True, forbid_unknown_fields=True):
    """One or two bars under a time signature: the notes that are printed, and the places left for rests."""

    time: str
    bars: Annotated[tuple[RowOfValues, ...], Meta(min_length=1, max_length=2)]
    gaps: Annotated[tuple[Silence, ...], Meta(min_length=1, max_length=3)]


# --- setting -------------------------------------------------------------------------------------------------------


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    for _ in range(_TRIES):
        time = pick_time(scope, rng)
        row = rhythm_bar(scope, rng, time)
        drafted = _silent_bar(row, time) if rng.random() < _SILENT_BAR_SHARE else _holes(row, rng, time)
        if drafted is not None and _within(scope, drafted[1]):
            facts, rests = drafted
            return Draft(facts, Value(rhythm=tuple(WrittenValue.of(rest, rest=True) for rest in rests)))
    return None


def _within(scope: Scope, rests: tuple[Duration, ...]) -> bool:
    return all(rest.type in scope.values and rest.dots <= scope.dots for rest in rests)


def _silent_bar(row: tuple[Duration, ...], time: TimeSignature) -> tuple[CompleteTheBar, tuple[Duration, ...]]:
    facts = CompleteTheBar(time.text, (beamed(row, time), ()), (Silence(1, 0, time.ticks),))
    return facts, fill(0, time.ticks, time)[0].rests


def _holes(
    row: tuple[Duration, ...], rng: Random, time: TimeSignature
) -> tuple[CompleteTheBar, tuple[Duration, ...]] | None:
    """Take one or two runs of notes out of a bar and leave room for the rests."""
    kept = [True] * len(row)
    for _ in range(2 if len(row) > 3 and rng.random() < _TWO_GAPS_SHARE else 1):
        first = rng.randrange(len(row))
        last = min(len(row), first + rng.choice((1, 1, 2, 2, 2, 3)))
        near = range(max(0, first - 1), min(len(row), last + 1))
        if all(kept[at] for at in near) and not any(row[at].tuplet for at in range(first, last)):
            kept[first:last] = [False] * (last - first)
    if all(kept) or not any(kept):
        return None
    gaps: list[Silence] = []
    events: list[tuple[Duration, bool]] = []
    place, notes = 0, 0
    while place < len(row):
        if kept[place]:
            events.append((row[place], False))
            notes += 1
            place += 1
            continue
        stop = next((at for at in range(place, len(row)) if kept[at]), len(row))
        start, length = total_ticks(list(row[:place])), total_ticks(list(row[place:stop]))
        ways = fill(start, length, time)
        if len(ways[0].rests) > _MOST_RESTS or len(wrong_fills(start, length, time)) < 2:
            return None
        gaps.append(Silence(0, notes, length))
        events += [(rest, True) for rest in ways[0].rests]
        place = stop
    written = beamed([one for one, _ in events], time, rests=[rest for _, rest in events])
    facts = CompleteTheBar(time.text, (tuple(value for value in written if not value.rest),), tuple(gaps))
    return facts, tuple(one for one, rest in events if rest)


# --- solving -------------------------------------------------------------------------------------------------------


def _start(facts: CompleteTheBar, gap: Silence) -> int:
    """Where a gap begins, in ticks from its bar's start."""
    notes = sum(value.duration.ticks for value in facts.bars[gap.bar][: gap.after])
    before = sum(
        other.ticks
        for other in facts.gaps[: facts.gaps.index(gap)]
        if other.bar == gap.bar and other.after <= gap.after
    )
    return notes + before


def _ways(facts: CompleteTheBar) -> list[tuple[RestFill, ...]]:
    time = TimeSignature.parse(facts.time)
    return [fill(_start(facts, gap), gap.ticks, time) for gap in facts.gaps]


def _said(facts: CompleteTheBar, rows: tuple[tuple[Duration, ...], ...]) -> str:
    parts = [", ".join(rest.name(rest=True) for rest in row) for row in rows]
    if len(parts) == 1:
        return parts[0]
    return "; ".join(f"({letter}) {part}" for letter, part in zip(_LETTERS, parts, strict=False))


def _value(rows: tuple[tuple[Duration, ...], ...]) -> Value:
    return Value(rhythm=tuple(WrittenValue.of(rest, rest=True) for row in rows for rest in row))


def _solve(facts: CompleteTheBar) -> tuple[Answer, ...]:
    found: list[Answer] = []
    for chosen in list(product(*_ways(facts)))[:_MOST_WAYS]:
        rows = tuple(one.rests for one in chosen)
        reasons = "; ".join(dict.fromkeys(part for one in chosen for part in one.reason.split("; ")))
        found.append(answer(_value(rows), _said(facts, rows), f"{reasons[0].upper()}{reasons[1:]}."))
    return tuple(found)


_REMEDIES = {
    "wrong length": "Add up the notes and the rests: together they must make exactly one bar.",
    "a rest of the bar's length instead of the whole-bar rest": "A whole silent bar takes a semibreve rest.",
    "dotted rest of a beat or more in simple time": "Give each beat its own rest, and leave out the dots.",
    "across the middle": "Draw a line at the middle of the bar: no rest may run across it.",
    "across the beat": "Finish the beat that has begun before you start the next.",
    "more rests than needed": "Use one rest where one rest is enough.",
    "right length, wrong split": "Go beat by beat: first finish the beat, then fill whole beats.",
}


def _slips(facts: CompleteTheBar) -> tuple[Slip, ...]:
    time = TimeSignature.parse(facts.time)
    model = [ways[0].rests for ways in _ways(facts)]
    found: list[Slip] = []
    for place, gap in enumerate(facts.gaps):
        for wrong in wrong_fills(_start(facts, gap), gap.ticks, time):
            rows = (*model[:place], wrong.rests, *model[place + 1 :])
            if len(wrong.rests) <= 2 * _MOST_RESTS:
                found.append(slip(wrong.fault, _value(rows), _said(facts, rows), _REMEDIES[wrong.fault]))
    return _one_of_each_first(found)


def _one_of_each_first(found: list[Slip]) -> tuple[Slip, ...]:
    """Every fault once before any fault twice, so that choices show different faults; crowds of rests come last."""
    seen: dict[str, int] = {}
    turns: list[int] = []
    for one in found:
        seen[one.name] = seen.get(one.name, 0) + 1
        turns.append(seen[one.name])
    crowded = [len(one.value[0].rhythm or ()) > _CROWD for one in found]
    order = sorted(range(len(found)), key=lambda at: (crowded[at], turns[at]))
    return tuple(found[at] for at in order)


def _rows(facts: CompleteTheBar, value: Value) -> tuple[tuple[WrittenValue, ...], ...]:
    lengths = [gap.ticks for gap in facts.gaps]
    return shared_out(value.rhythm or (), lengths, TimeSignature.parse(facts.time).ticks)


def _faults(facts: CompleteTheBar, value: Value) -> int | None:
    """What each place costs, judged alone, so that a rest too many does not spoil the places after it."""
    if value.rhythm is None:
        return None
    places = zip(facts.gaps, _rows(facts, value), _ways(facts), strict=True)
    return sum(cost(row, gap.ticks, ways) for gap, row, ways in places)


def _work(facts: CompleteTheBar, method: str) -> tuple[Step, ...]:
    time = TimeSignature.parse(facts.time)
    steps = [Step(f"A bar of {time.text} holds {time.count} {time.beat.text} beats. Count them under the notes.")]
    for letter, gap, ways in zip(_LETTERS, facts.gaps, _ways(facts), strict=False):
        start = _start(facts, gap)
        rests = ", ".join(rest.name(rest=True) for rest in ways[0].rests)
        if gap.ticks == time.ticks:
            where = f"The bar at {letter} is silent from end to end"
        else:
            beat, into = time.beat_at(start)
            where = f"Place {letter} begins {'inside' if into else 'on'} beat {beat}"
        steps.append(Step(f"{where}: {ways[0].reason}.", (f"g{letter}",), rests))
    steps.append(Step("Check: add up every bar, notes and rests together."))
    return tuple(steps)


# --- showing -------------------------------------------------------------------------------------------------------


def _score(facts: CompleteTheBar, filled: list[tuple[Event, ...]]) -> Score:
    time = TimeSignature.parse(facts.time)
    bars: list[list[Event]] = []
    number = 0
    for index, row in enumerate(facts.bars):
        events: list[Event] = []
        holes = [(gap.after, one) for gap, one in zip(facts.gaps, filled, strict=True) if gap.bar == index]
        for place in range(len(row) + 1):
            for after, one in holes:
                if after == place:
                    events += one
            if place < len(row):
                number += 1
                events.append(event_of(row[place], f"n{number}"))
        bars.append(events)
    return bars_score(bars, time)


def _gapped(facts: CompleteTheBar) -> Score:
    return _score(
        facts, [gaps_of(gap.ticks, f"g{letter}", letter) for letter, gap in zip(_LETTERS, facts.gaps, strict=False)]
    )


def _draw(facts: CompleteTheBar, value: Value) -> Score:
    """The bars with the rests of an answer in their places; an empty place stays empty."""
    bar = TimeSignature.parse(facts.time).ticks
    filled: list[tuple[Event, ...]] = []
    number = 0
    for letter, gap, row in zip(_LETTERS, facts.gaps, _rows(facts, value), strict=False):
        events: list[Event] = []
        for one in row:
            number += 1
            event = event_of(one, f"r{number}")
            whole = isinstance(event, Rest) and gap.ticks == bar and is_whole_bar(row)
            events.append(Rest(event.duration, event.id, whole_bar=True) if whole else event)
        filled.append(tuple(events) or gaps_of(gap.ticks, f"g{letter}"))
    return _score(facts, filled)


def _pose(facts: CompleteTheBar, wording: Wording) -> Posed:
    document = document_of(_gapped(facts))
    alt = wording.say(picture(_gapped(facts), shapes=True))
    marked = "at the place marked a" if len(facts.gaps) == 1 else "at the places marked a and b"
    if wording.choosing:
        text = f"Which rest or rests go {marked}?"
        return Posed((TextBlock(wording.say(text)), StaveBlock(document, alt)))
    text = f"Write the rest or rests that are missing {marked}."
    return Posed((TextBlock(wording.say(text)),), RhythmForm("rests", document, alt))


def _difficulty(facts: CompleteTheBar) -> float:
    """Compound and irregular time, more rests and a second place are harder (common practice)."""
    kind = {"simple": 0.0, "compound": 0.5, "irregular": 0.7}[TimeSignature.parse(facts.time).kind]
    rests = sum(len(ways[0].rests) for ways in _ways(facts))
    return -1.2 + kind + 0.3 * rests + 0.2 * (len(facts.gaps) - 1)


KIND = Kind(
    id="complete-the-bar",
    topic="metre",
    since=1,
    title="Complete the bar with rests",
    facts=CompleteTheBar,
    forms={"written": "rhythm", "on-screen": "choice"},
    set=_set,
    read=bars_with_gaps,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"complete-the-bar/{TimeSignature.parse(facts.time).kind}",
    pool=lambda scope: None,
    seconds=40,
    marking=Marking("minus-one-per-fault"),
    marks=2,
    draw=_draw,
    faults=_faults,
)
