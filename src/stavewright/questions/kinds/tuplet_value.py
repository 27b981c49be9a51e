"""Tuplet value: how many plain notes an irregular group lasts."""

from __future__ import annotations

from random import Random
from typing import Annotated

from msgspec import Meta

from stavewright.questions.documents import Answer, NumberForm, Slip, StaveBlock, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.bars import pick_time
from stavewright.questions.setting.picking import pick
from stavewright.questions.showing.barred import barred_score
from stavewright.questions.showing.pictures import picture
from stavewright.questions.values import Value, WrittenValue
from stavewright.questions.wording import Wording
from stavewright.questions.written import ValueName
from stavewright.syllabus.scope import Scope
from stavewright.theory.duration import TICKS, TUPLET_NAMES, VALUES, Duration, of_ticks, total_ticks
from stavewright.theory.metre import TimeSignature
from stavewright.theory.tuplet import TupletError, group

_MOST = 32
_TRIES = 12

Row = Annotated[tuple[WrittenValue, ...], Meta(min_length=2, max_length=24)]


class TupletValue(Facts, frozen=True, forbid_unknown_fields=True):
    """A full bar with one irregular group, and the plain value in which the length of the group is asked.

    Raises:
        BadDocument: the bar is not full, there is not just one whole group, or the count does not come out even.
    """

    time: Annotated[str, Meta(max_length=5)]
    row: Row
    unit: ValueName

    def __post_init__(self) -> None:
        time = TimeSignature.parse(self.time)
        if total_ticks([one.duration for one in self.row]) != time.ticks:
            raise BadDocument(f"the bar is not full: {self.time} asks for {time.ticks} ticks")
        grouped = [one for one in self.row if one.tuplet is not None]
        if not grouped or len(set(grouped)) != 1 or (t := grouped[0].tuplet) is None or len(grouped) != t.actual:
            raise BadDocument("the bar needs just one irregular group of equal notes, as many as its figure says")
        if total_ticks([one.duration for one in grouped]) % TICKS[self.unit]:
            raise BadDocument(f"the group does not last an exact number of {self.unit}s: ask for a shorter value")


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    for _ in range(_TRIES):
        time = pick_time(scope, rng, ("simple", "compound"))
        actual = pick(rng, scope.tuplets, scope.fresh.get("tuplets", ()))
        beats = [(time.beat, 1)]
        if time.count != 3 and (two := of_ticks(2 * time.beat.ticks)) is not None:
            beats.append((two, 2))
        fills, taken = rng.choice(beats)
        try:
            notes = group(actual, time, fills)
        except TupletError:
            continue
        if notes[0].type not in scope.values or fills.ticks == time.ticks:
            continue
        others = [time.beat] * (time.count - taken)
        first = rng.choice([0, len(others)]) if taken == 1 or len(others) == 2 else 0
        row = [WrittenValue.of(one) for one in (*others[:first], *notes, *others[first:])]
        units = [
            (unit, fills.ticks // TICKS[unit])
            for unit in scope.values
            if fills.ticks % TICKS[unit] == 0 and fills.ticks // TICKS[unit] <= _MOST
        ]
        unit, count = pick(rng, units, [one for one in units if one[0] == notes[0].type])
        return Draft(TupletValue(time.text, tuple(row), unit), Value(number=count))
    return None


def _group(facts: TupletValue) -> tuple[WrittenValue, ...]:
    return tuple(one for one in facts.row if one.tuplet is not None)


def _ids(facts: TupletValue, *, grouped: bool) -> tuple[str, ...]:
    return tuple(f"n{i}" for i, one in enumerate(facts.row, 1) if (one.tuplet is not None) is grouped)


def _room(facts: TupletValue) -> int:
    """What the rest of the bar leaves for the group, in ticks."""
    others = [one.duration for one in facts.row if one.tuplet is None]
    return TimeSignature.parse(facts.time).ticks - total_ticks(others)


def _count(facts: TupletValue) -> int:
    return _room(facts) // TICKS[facts.unit]


def _named(facts: TupletValue) -> tuple[str, str, int]:
    """The name of the group, the plural of its notes, and how many there are."""
    notes = _group(facts)
    return TUPLET_NAMES[len(notes)], notes[0].duration.plain.name(plural=True), len(notes)


def _solve(facts: TupletValue) -> tuple[Answer, ...]:
    count = _count(facts)
    name, notes, actual = _named(facts)
    normal = _room(facts) // _group(facts)[0].duration.plain.ticks
    units = Duration(facts.unit).name(plural=count != 1)
    made = "" if units == notes else f", which is {count} {units}"
    reason = f"The {name} puts {actual} {notes} in the time of {normal}{made}."
    return (answer(Value(number=count), str(count), reason),)


def _slips(facts: TupletValue) -> tuple[Slip, ...]:
    found: list[Slip] = []

    def add(name: str, ticks: int, remedy: str) -> None:
        number, rest = divmod(ticks, TICKS[facts.unit])
        if not rest and number > 0 and all(Value(number=number) != one.value[0] for one in found):
            found.append(slip(name, Value(number=number), str(number), remedy))

    notes = _group(facts)
    plain = notes[0].duration.plain.ticks
    figure = "The figure says that the notes share less room or more than usual. Count what the bar leaves for them."
    add("counted face values", len(notes) * plain, figure)
    add(
        "gave the figure", len(notes) * TICKS[facts.unit], "The figure counts the notes written, not the room they get."
    )
    add("took the group for one note", plain, "The figure stands for the whole group, not for one note of it.")
    if len(notes) != 3:
        add("every group taken for a triplet", 2 * plain, "Only a triplet goes in the time of two.")
    add("one note left out", (len(notes) - 1) * plain, figure)
    add("one note too many", (len(notes) + 1) * plain, figure)
    bar = TimeSignature.parse(facts.time).ticks
    add("took the whole bar", bar, "Take away the notes that stand outside the group.")
    return tuple(found)


def _neighbours(facts: TupletValue) -> tuple[Value, ...]:
    count = _count(facts)
    near = (count + 1, count - 1, 2 * count, count // 2, count + 2)
    return tuple(Value(number=number) for number in near if 0 < number != count)


def _work(facts: TupletValue, method: str) -> tuple[Step, ...]:
    time = TimeSignature.parse(facts.time)
    name, notes, actual = _named(facts)
    count, room = _count(facts), of_ticks(_room(facts))
    beats, left = divmod(_room(facts), time.beat.ticks)
    lasts = "part of a beat" if left else f"{beats} beat{'s' if beats > 1 else ''}"
    others = _ids(facts, grouped=False)
    steps = [Step(f"A bar of {time.text} holds {time.count} {time.beat.text} beats.", (), time.text)]
    outside = "their share" if left else f"{time.count - beats} of them"
    if others:
        steps.append(Step(f"The notes outside the {name} take {outside}. That leaves {lasts}.", others, lasts))
    ids = _ids(facts, grouped=True)
    if room is not None:
        steps.append(Step(f"So the whole {name} lasts one {room.text}.", ids, room.text))
    units = Duration(facts.unit).name(plural=count != 1)
    if room is None or room.text != facts.unit:
        steps.append(Step(f"A {_length(facts)} is {count} {units}.", ids, str(count)))
    normal = _room(facts) // _group(facts)[0].duration.plain.ticks
    steps.append(Step(f"Check: {actual} {notes} go in the time of {normal}.", ids, f"{actual} : {normal}"))
    return tuple(steps)


def _length(facts: TupletValue) -> str:
    room = of_ticks(_room(facts))
    return "group of this length" if room is None else room.text


def _pose(facts: TupletValue, wording: Wording) -> Posed:
    time = TimeSignature.parse(facts.time)
    score = barred_score(facts.row, time)
    shown = StaveBlock(document_of(score), wording.say(picture(score, shapes=True)))
    name, _, _ = _named(facts)
    units = Duration(facts.unit).name(plural=True)
    plain = "plain " if facts.unit == _group(facts)[0].type else ""
    ask = f"How many {plain}{units} last as long as the whole {name}?"
    form = None if wording.choosing else NumberForm(wording.say(units))
    return Posed((TextBlock(wording.say(ask)), shown), form)


def _difficulty(facts: TupletValue) -> float:
    """Rare groups, groups over two beats and counting in another value are harder (common practice)."""
    notes = _group(facts)
    rare = {3: 0.0, 2: 0.5}.get(len(notes), 0.8)
    steps = abs(VALUES.index(facts.unit) - VALUES.index(notes[0].type))
    return -1.2 + rare + 0.25 * steps + 0.3 * (_room(facts) > TimeSignature.parse(facts.time).beat.ticks)


KIND = Kind(
    id="tuplet-value",
    topic="values",
    since=2,
    title="Triplets and other groups",
    facts=TupletValue,
    forms={"written": "number", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"tuplet-value/{TUPLET_NAMES[len(_group(facts))]}",
    pool=lambda scope: None,
    seconds=25,
    marking=Marking("all-or-nothing"),
    neighbours=_neighbours,
    asks=lambda facts: frozenset({f"group:{len(_group(facts))}"}),
)
