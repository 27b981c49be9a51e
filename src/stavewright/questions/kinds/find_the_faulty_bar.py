"""Find the faulty bar: the bar that holds too much or too little."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from random import Random
from typing import Annotated

from msgspec import Meta

from stavewright.questions.documents import Answer, PlacesForm, Slip, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_document import ScoreDocument
from stavewright.questions.score_mirror import document_of, score_of
from stavewright.questions.setting.spoilt_bars import spoilt_bars
from stavewright.questions.showing.extract import extract_blocks
from stavewright.questions.solving.groups import group_remedy
from stavewright.questions.values import Place, Value
from stavewright.questions.wording import Wording
from stavewright.score.event import Event, Rest
from stavewright.syllabus.scope import Scope
from stavewright.theory.bar_lines import faulty_bars
from stavewright.theory.duration import VALUES, Duration, total_ticks
from stavewright.theory.metre import TimeSignature

_MOST_SHOWN = 3
_HOW_MANY = {1: "One bar", 2: "Two bars", 3: "Three bars", 4: "Four bars"}

Length = Callable[[Event], int]


class FindTheFaultyBar(Facts, frozen=True, forbid_unknown_fields=True):
    """The music as it is printed, its bars numbered, and how many of them are faulty.

    Raises:
        BadDocument: more than one stave or voice, no time signature, or another number of faulty bars.
    """

    music: ScoreDocument
    count: Annotated[int, Meta(ge=1, le=4)] = 1
    credit: str = ""

    def __post_init__(self) -> None:
        staves = score_of(self.music).staves
        if len(staves) != 1 or staves[0].time is None or any(len(bar.voices) > 1 for bar in staves[0].bars):
            raise BadDocument("bars are looked at on one stave with one voice and a time signature")
        found = _faulty(self, _ticks)
        if len(found) != self.count:
            raise BadDocument(f"{len(found)} bars do not add up, where the question says {self.count}")


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    made = spoilt_bars(scope, rng, melodies)
    if made is None:
        return None
    score, numbers, credit = made
    facts = FindTheFaultyBar(document_of(score), len(numbers), credit)
    return Draft(facts, Value(places=tuple(Place(bar=number) for number in numbers)))


def _time(facts: FindTheFaultyBar) -> TimeSignature:
    time = score_of(facts.music).staves[0].time
    if time is None:  # the facts refuse this themselves
        raise BadDocument("the music has no time signature")
    return time


def _bars(facts: FindTheFaultyBar) -> list[tuple[int, tuple[Event, ...]]]:
    """The events of every bar with its printed number (0 for an upbeat)."""
    score = score_of(facts.music)
    return [(score.bar_number(index), bar.events) for index, bar in enumerate(score.staves[0].bars)]


def _ticks(event: Event) -> int:
    return event.ticks


def _faulty(facts: FindTheFaultyBar, length: Length) -> tuple[int, ...]:
    """The printed numbers of the bars that do not add up, if every event lasts as `length` says.

    With an upbeat the first and the last bar make one full bar between them.
    """
    score, time = score_of(facts.music), _time(facts)
    rows = [[length(event) for event in bar.events] for bar in score.staves[0].bars]
    upbeat = sum(rows[0]) if score.anacrusis else 0
    found: list[int] = []
    for index, row in enumerate(rows):
        events = score.staves[0].bars[index].events
        silent = len(events) == 1 and isinstance(events[0], Rest) and events[0].whole_bar
        short = upbeat and index == len(rows) - 1 and sum(row) == time.ticks - upbeat
        if not (silent or short or sum(row) == time.ticks or (upbeat and index == 0)):
            found.append(score.bar_number(index))
    return tuple(found)


def _value(numbers: Sequence[int]) -> Value:
    return Value(places=tuple(Place(bar=number) for number in numbers))


def _said(numbers: Sequence[int]) -> str:
    words = [str(number) for number in numbers]
    return f"bar {words[0]}" if len(words) == 1 else f"bars {', '.join(words[:-1])} and {words[-1]}"


def _solve(facts: FindTheFaultyBar) -> tuple[Answer, ...]:
    score, time = score_of(facts.music), _time(facts)
    rows = [[event.duration for event in bar.events] for bar in score.staves[0].bars]
    upbeat = total_ticks(rows[0]) if score.anacrusis else 0
    numbers = tuple(score.bar_number(index) for index in faulty_bars(rows, time, anacrusis=upbeat))
    numbers = tuple(number for number in numbers if number in _faulty(facts, _ticks))
    if not numbers:
        return ()
    held = {number: total_ticks([event.duration for event in events]) for number, events in _bars(facts)}
    parts = [f"bar {number} holds {_beside(held[number], time)}" for number in numbers]
    reason = f"A bar of {time.text} lasts {_counted(time.ticks, time)}, but {' and '.join(parts)}."
    return (answer(_value(numbers), _said(numbers), reason),)


def _counted(ticks: int, time: TimeSignature) -> str:
    """A length counted in the longest value, from the lower figure's down, in which it and the bar come out whole."""
    for value in VALUES[VALUES.index(time.unit_value.type) :]:
        unit = Duration(value)
        if ticks % unit.ticks == 0:
            number = ticks // unit.ticks
            return f"{number} {unit.name(plural=number != 1)}"
    raise BadDocument(f"a bar is finer than a {VALUES[-1]} can count: use longer values")


def _beside(ticks: int, time: TimeSignature) -> str:
    """How long a faulty bar is, and how long a full one is in the same value."""
    said = _counted(ticks, time)
    full = time.ticks * int(said.split()[0]) // ticks
    return said if ticks % time.unit_value.ticks == 0 else f"{said} in place of {full}"


def _slips(facts: FindTheFaultyBar) -> tuple[Slip, ...]:
    found: list[Slip] = []
    right = _faulty(facts, _ticks)
    score, time = score_of(facts.music), _time(facts)

    def add(name: str, numbers: Sequence[int], remedy: str) -> None:
        """The wrong rule may find more bars than the question says: the first ones are then written down."""
        picked = tuple(sorted(set(numbers)))[: facts.count]
        if picked and picked != right and all(_value(picked) != one.value[0] for one in found):
            found.append(slip(name, _value(picked), _said(picked), remedy))

    def undotted(event: Event) -> int:
        return Duration(event.duration.type, 0, event.duration.tuplet).ticks

    add("dots not counted", _faulty(facts, undotted), "A dot adds half of the note. Count it in.")
    heard = _faulty(facts, lambda event: 0 if isinstance(event, Rest) else event.ticks)
    add("rests not counted", heard, "Rests take time as well: count every one.")
    face = _faulty(facts, lambda event: event.duration.plain.ticks)
    values = [event.duration for _, events in _bars(facts) for event in events]
    add("irregular group counted at face value", face, group_remedy(values))
    ones = _faulty(facts, lambda event: time.beat.ticks)
    add("counted notes, not beats", ones, "Count beats: a long note takes more than one, short ones share one.")
    if score.anacrusis:
        first = "The upbeat and the last bar are short on purpose: together they make one bar."
        add("upbeat taken for a fault", (0,), first)
        add("short last bar taken for a fault", (_bars(facts)[-1][0],), first)
        add("counted from the upbeat", [number + 1 for number in right], "Bar 1 is the first full bar.")
    sizes = {number: len(events) for number, events in _bars(facts) if number}
    most, fewest = (wanted(sizes.values()) for wanted in (max, min))
    look = "A bar may have many notes and still be right. Add up how long they last."
    add("most notes taken for too much", [number for number, size in sizes.items() if size == most], look)
    add("fewest notes taken for too little", [number for number, size in sizes.items() if size == fewest], look)
    return tuple(found)


def _work(facts: FindTheFaultyBar, method: str) -> tuple[Step, ...]:
    time, right = _time(facts), _faulty(facts, _ticks)
    wanted = _counted(time.ticks, time)
    steps = [Step(f"The time signature {time.text} means {time.meaning()}: every bar lasts {wanted}.", (), wanted)]
    if score_of(facts.music).anacrusis:
        steps.append(Step("The upbeat and the last bar make one bar between them: leave them out.", (), "upbeat"))
    steps.append(Step("Add up each bar, rests and dots too, and put a tick over those that are right.", (), "tick"))
    for number, events in _bars(facts):
        if number in right[:_MOST_SHOWN]:
            held = total_ticks([event.duration for event in events])
            names = ", ".join(event.duration.name(rest=isinstance(event, Rest)) for event in events)
            more = "too many" if held > time.ticks else "too few"
            ids = tuple(event.id for event in events if event.id)
            steps.append(Step(f"Bar {number}: {names}. That is {_beside(held, time)}, {more}.", ids, more))
    steps.append(Step(f"Check {_said(right)} once more: tap the beats of {time.text} and say the rhythm."))
    return tuple(steps)


def _pose(facts: FindTheFaultyBar, wording: Wording) -> Posed:
    many = _HOW_MANY[facts.count]
    have, which = ("has", "Which bar is it?") if facts.count == 1 else ("have", "Which bars are they?")
    ask = TextBlock(wording.say(f"{many} of this music {have} too many or too few beats. {which}"))
    blocks = extract_blocks(facts.music, wording, block="", credit=facts.credit)
    return Posed((ask, *blocks), PlacesForm("bars", facts.count))


def _difficulty(facts: FindTheFaultyBar) -> float:
    """Compound and irregular time, an upbeat, dots, rests and groups make bars harder to add up (common practice)."""
    kind = {"simple": 0.0, "compound": 0.5, "irregular": 0.6}[_time(facts).kind]
    events = [event for _, bar in _bars(facts) for event in bar]
    odd = sum(isinstance(e, Rest) or e.duration.dots > 0 or e.duration.tuplet is not None for e in events)
    return -1.4 + kind + 0.08 * min(odd, 8) + (0.3 if score_of(facts.music).anacrusis else 0.0)


KIND = Kind(
    id="find-the-faulty-bar",
    topic="metre",
    since=1,
    title="Find the faulty bar",
    facts=FindTheFaultyBar,
    forms={"written": "places", "on-screen": "places"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"find-the-faulty-bar/{_time(facts).kind}",
    pool=lambda scope: None,
    seconds=40,
    marking=Marking("per-item"),
)
