"""Anacrusis balance: how much the last bar must hold when the music begins with an upbeat."""

from __future__ import annotations

from dataclasses import replace
from random import Random
from typing import Annotated

from msgspec import Meta

from stavewright.questions.documents import Answer, NumberForm, Slip, StaveBlock, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.bars import pick_time, rhythm_bar
from stavewright.questions.setting.picking import pick
from stavewright.questions.showing.barred import barred_score
from stavewright.questions.showing.bars import gaps_of
from stavewright.questions.showing.pictures import picture
from stavewright.questions.values import Value, WrittenValue
from stavewright.questions.wording import Wording
from stavewright.questions.written import ValueName
from stavewright.score.stave import Bar, Score
from stavewright.syllabus.scope import Scope
from stavewright.theory.bar_lines import BarLineError, check_anacrusis, last_bar_ticks
from stavewright.theory.duration import TICKS, Duration, total_ticks
from stavewright.theory.metre import TimeSignature

_MOST = 12
_TRIES = 16
_MARK = "?"

Row = Annotated[tuple[WrittenValue, ...], Meta(min_length=1, max_length=24)]


class AnacrusisBalance(Facts, frozen=True, forbid_unknown_fields=True):
    """An upbeat, one full bar after it, and the value in which the length of the last bar is asked.

    Raises:
        BadDocument: the bar is not full, or the last bar does not come out even in that value.
        BarLineError: the upbeat is as long as a bar.
    """

    time: Annotated[str, Meta(max_length=5)]
    upbeat: Row
    bar: Row
    unit: ValueName

    def __post_init__(self) -> None:
        time, upbeat = TimeSignature.parse(self.time), total_ticks([one.duration for one in self.upbeat])
        check_anacrusis(upbeat, time)
        if total_ticks([one.duration for one in self.bar]) != time.ticks:
            raise BadDocument(f"the bar after the upbeat is not full: {self.time} asks for {time.ticks} ticks")
        if (time.ticks - upbeat) % TICKS[self.unit]:
            raise BadDocument(f"the last bar is no exact number of {self.unit}s: ask for a shorter value")


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    if not scope.anacrusis:
        return None
    for _ in range(_TRIES):
        time = pick_time(scope, rng)
        notes = rhythm_bar(scope, rng, time, tuplets=False)
        upbeat = notes[-rng.choice((1, 1, 2, 3)) :]
        rest = time.ticks - total_ticks(list(upbeat))
        if not 0 < total_ticks(list(upbeat)) <= time.ticks // 2:
            continue
        units = [one for one in scope.values if rest % TICKS[one] == 0 and rest // TICKS[one] <= _MOST]
        units = [one for one in units if time.beat.ticks % TICKS[one] == 0]
        if not units:
            continue
        unit = pick(rng, units, units[:1])
        after = rhythm_bar(scope, rng, time)
        upbeat_row, bar = (tuple(WrittenValue.of(one) for one in row) for row in (upbeat, after))
        return Draft(AnacrusisBalance(time.text, upbeat_row, bar, unit), Value(number=rest // TICKS[unit]))
    return None


def _time(facts: AnacrusisBalance) -> TimeSignature:
    return TimeSignature.parse(facts.time)


def _upbeat(facts: AnacrusisBalance) -> int:
    return total_ticks([one.duration for one in facts.upbeat])


def _last(facts: AnacrusisBalance) -> int:
    return last_bar_ticks(_time(facts), _upbeat(facts))


def _units(facts: AnacrusisBalance, ticks: int) -> str:
    """So many ticks counted in the unit of the question, in words."""
    number, rest = divmod(ticks, TICKS[facts.unit])
    if rest:
        raise BarLineError(f"{ticks} ticks are no exact number of {facts.unit}s")
    return f"{number} {Duration(facts.unit).name(plural=number != 1)}"


def _solve(facts: AnacrusisBalance) -> tuple[Answer, ...]:
    bar, last = _time(facts).ticks, _last(facts)
    reason = (
        f"A full bar lasts {_units(facts, bar)}, and the upbeat has {_units(facts, bar - last)} of it. "
        f"The last bar gives the other {_units(facts, last)}."
    )
    number = last // TICKS[facts.unit]
    return (answer(Value(number=number), str(number), reason),)


def _slips(facts: AnacrusisBalance) -> tuple[Slip, ...]:
    found: list[Slip] = []
    time, upbeat, unit = _time(facts), _upbeat(facts), TICKS[facts.unit]

    def add(name: str, ticks: int, remedy: str) -> None:
        number, rest = divmod(ticks, unit)
        if not rest and number >= 0 and all(Value(number=number) != one.value[0] for one in found):
            found.append(slip(name, Value(number=number), str(number), remedy))

    both = "The upbeat and the last bar make one full bar between them."
    add("full last bar", time.ticks, both)
    add("as long as the upbeat", upbeat, f"{both} Take the upbeat away from a full bar.")
    add("upbeat added", time.ticks + upbeat, f"{both} Take the upbeat away, do not add it.")
    if any(one.dots for one in facts.upbeat):
        undotted = sum(Duration(one.type).ticks for one in facts.upbeat)
        add("dot not counted", time.ticks - undotted, "Look at the dot in the upbeat: it adds half of its note.")
    if len(facts.upbeat) > 1:
        first = facts.upbeat[0].duration.ticks
        add("one note of the upbeat counted", time.ticks - first, "All notes before the first bar line are the upbeat.")
    add("upbeat counted by its notes", time.ticks - len(facts.upbeat) * unit, "Count how long the upbeat lasts.")
    add("one whole beat taken away", time.ticks - time.beat.ticks, "Count the upbeat: it need not be one beat.")
    return tuple(found)


def _neighbours(facts: AnacrusisBalance) -> tuple[Value, ...]:
    number = _last(facts) // TICKS[facts.unit]
    return tuple(Value(number=near) for near in (number + 1, number - 1, number + 2) if near > 0)


def _work(facts: AnacrusisBalance, method: str) -> tuple[Step, ...]:
    time, upbeat, last = _time(facts), _upbeat(facts), _last(facts)
    ids = tuple(f"n{i}" for i in range(1, len(facts.upbeat) + 1))
    unit = TICKS[facts.unit]
    sums = f"{time.ticks // unit} - {upbeat // unit} = {last // unit}"
    notes = ", ".join(one.duration.name(rest=one.rest) for one in facts.upbeat)
    full = f"{time.ticks // unit}"
    return (
        Step(f"A full bar of {time.text} lasts {_units(facts, time.ticks)}.", (), full),
        Step(
            f"The upbeat stands before the first bar line: {notes}. It lasts {_units(facts, upbeat)}.",
            ids,
            str(upbeat // unit),
        ),
        Step(f"The last bar has what is missing: {sums}.", ("g1",), sums),
        Step(f"Check: last bar and upbeat make one full bar, {last // unit} + {upbeat // unit} = {full}."),
    )


def _score(facts: AnacrusisBalance) -> Score:
    """The upbeat, the full bar, and a last bar with nothing in it yet."""
    time = _time(facts)
    score = barred_score((*facts.upbeat, *facts.bar), time, pickup=_upbeat(facts), last="single")
    room = replace(gaps_of(time.beat.ticks, "g1")[0], label=_MARK)
    stave = score.staves[0]
    bars = (*stave.bars, Bar(((room,),), line="final", free=True))
    return replace(score, staves=(replace(stave, bars=bars),), anacrusis=True)


def _pose(facts: AnacrusisBalance, wording: Wording) -> Posed:
    units = Duration(facts.unit).name(plural=True)
    score = _score(facts)
    said = picture(score, shapes=True).replace("Bar 0", "Upbeat").replace("Bar 2", "Last bar")
    shown = StaveBlock(document_of(score), wording.say(said))
    ask = f"Here are the beginning and the last bar of a tune. How many {units} must the last bar add up to?"
    return Posed((TextBlock(wording.say(ask)), shown), None if wording.choosing else NumberForm(wording.say(units)))


def _difficulty(facts: AnacrusisBalance) -> float:
    """Compound and irregular time, and an upbeat that is not one plain beat, are harder (common practice)."""
    kind = {"simple": 0.0, "compound": 0.4, "irregular": 0.6}[_time(facts).kind]
    odd = 0.3 if _upbeat(facts) != _time(facts).beat.ticks else 0.0
    return -1.2 + kind + odd + 0.15 * (len(facts.upbeat) - 1)


KIND = Kind(
    id="anacrusis-balance",
    topic="metre",
    since=3,
    title="Upbeat and last bar",
    facts=AnacrusisBalance,
    forms={"written": "number", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"anacrusis-balance/{_time(facts).kind}",
    pool=lambda scope: None,
    seconds=30,
    marking=Marking("all-or-nothing"),
    neighbours=_neighbours,
)
