"""Write one note that lasts as long as a run of notes, with their ties and dots."""

from __future__ import annotations

from random import Random
from typing import Annotated

from msgspec import Meta, Struct

from stavewright.questions.documents import Answer, RhythmForm, Slip, StaveBlock, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.picking import pick
from stavewright.questions.setting.splitting import split_run
from stavewright.questions.showing.rows import value_row
from stavewright.questions.values import Value, WrittenValue
from stavewright.questions.wording import Wording
from stavewright.questions.written import ValueName
from stavewright.score.event import Note
from stavewright.score.stave import Score, single
from stavewright.syllabus.scope import Scope
from stavewright.theory.duration import VALUES, Duration, of_ticks, total_ticks
from stavewright.theory.pitch import Pitch

_DOTTED_SHARE = 0.4
_PITCH = Pitch("A", 0, 4)


class Length(Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True):
    """One note of the run: its value, its dots, and whether a tie joins it to the next."""

    value: ValueName
    dots: Annotated[int, Meta(ge=0, le=2)] = 0
    tie: bool = False


class TotalValue(Facts, frozen=True, forbid_unknown_fields=True):
    """A run of notes whose whole length one plain or dotted note has.

    Raises:
        BadDocument: no single note lasts so long, or the last note has a tie to nowhere.
    """

    run: Annotated[tuple[Length, ...], Meta(min_length=2, max_length=12)]

    def __post_init__(self) -> None:
        if self.run[-1].tie:
            raise BadDocument("the last note of the run has a tie, but there is no note after it")
        ticks = sum(Duration(one.value, one.dots).ticks for one in self.run)
        if of_ticks(ticks, max_dots=2) is None:
            raise BadDocument("no single note lasts as long as this run: make it come to a plain or dotted value")


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    shortest = max(scope.values, key=VALUES.index)
    value = pick(rng, [one for one in scope.values if one != shortest], scope.fresh.get("values", ()))
    dots = rng.randint(1, scope.dots) if rng.random() < _DOTTED_SHARE and value != "breve" else 0
    if VALUES.index(value) + dots > VALUES.index(shortest):
        dots = 0
    pieces = split_run(scope, rng, value, dots)
    if pieces is None:
        return None
    how = rng.choice(("all", "none", "some"))
    ties = [how == "all" or (how == "some" and rng.random() < 0.5) for _ in pieces]
    ties[-1] = False
    run = tuple(Length(name, dotted, tie) for (name, dotted), tie in zip(pieces, ties, strict=True))
    return Draft(TotalValue(run), Value(rhythm=(WrittenValue(value, dots),)))


def _durations(facts: TotalValue) -> tuple[Duration, ...]:
    return tuple(Duration(one.value, one.dots) for one in facts.run)


def _value(duration: Duration) -> Value:
    return Value(rhythm=(WrittenValue(duration.type, duration.dots),))


def _total(facts: TotalValue) -> Duration:
    total = of_ticks(total_ticks(_durations(facts)), max_dots=2)
    if total is None:  # the facts refuse this themselves
        raise BadDocument("no single note lasts as long as this run")
    return total


def _pose(facts: TotalValue, wording: Wording) -> Posed:
    notes = tuple(
        Note(_PITCH, duration, f"n{i}", tie=one.tie)
        for i, (duration, one) in enumerate(zip(_durations(facts), facts.run, strict=True), 1)
    )
    said = "; ".join(
        duration.text + (", tied to the next" if one.tie else "")
        for duration, one in zip(_durations(facts), facts.run, strict=True)
    )
    alt = wording.say(f"{len(notes)} notes in a row: {said}.")
    shown = StaveBlock(document_of(single("treble", notes)), alt)
    if wording.choosing:
        return Posed((TextBlock("Which one note lasts as long as all these notes together?"), shown))
    ask = "Write one note that lasts as long as all these notes together."
    return Posed((TextBlock(ask), shown), RhythmForm("values", alt="Room for one note."))


def _solve(facts: TotalValue) -> tuple[Answer, ...]:
    total = _total(facts)
    unit = _unit(facts)
    sums = " + ".join(str(duration.ticks // unit.ticks) for duration in _durations(facts))
    count = total.ticks // unit.ticks
    reason = f"Counted in {unit.name(plural=True)}: {sums} = {count}, and a {total.text} lasts {count}."
    return (answer(_value(total), total.text, reason),)


def _unit(facts: TotalValue) -> Duration:
    """The longest plain value in which every note of the run, and their sum, come out whole."""
    ticks = [duration.ticks for duration in _durations(facts)]
    for value in VALUES:
        unit = Duration(value)
        if all(one % unit.ticks == 0 for one in ticks):
            return unit
    raise BadDocument(f"the notes are shorter than a {VALUES[-1]} can count: use longer values")


def _slips(facts: TotalValue) -> tuple[Slip, ...]:
    found: list[Slip] = []
    total = _total(facts)
    most = max(1, total.dots, *(one.dots for one in facts.run))

    def add(name: str, ticks: int, remedy: str) -> None:
        wrong = of_ticks(ticks, max_dots=most)
        if wrong is not None:
            found.append(slip(name, _value(wrong), wrong.text, remedy))

    run = list(zip(_durations(facts), facts.run, strict=True))
    if any(one.dots for one in facts.run):
        add("dots ignored", sum(Duration(one.value).ticks for one in facts.run), "A dot adds half as much again.")
    if any(one.tie for one in facts.run):
        led = [False, *(one.tie for one in facts.run[:-1])]
        first = sum(duration.ticks for (duration, _), joined in zip(run, led, strict=True) if not joined)
        add("ties counted once", first, "A tie adds the second note to the first: count them both.")
    add("last note left out", sum(duration.ticks for duration, _ in run[:-1]), "Point at each note as you add it.")
    if total.dots:
        add("dot left off the answer", Duration(total.type).ticks, "Count your answer: does it need a dot?")
    else:
        add("dot put on the answer", Duration(total.type, 1).ticks, "Count your answer: is the dot too much?")
    add("one value too long", 2 * total.ticks, "Count your answer in the same small values.")
    if total.ticks // 2 >= Duration("semiquaver").ticks:
        add("one value too short", total.ticks // 2, "Count your answer in the same small values.")
    return tuple(found)


def _work(facts: TotalValue, method: str) -> tuple[Step, ...]:
    unit, total = _unit(facts), _total(facts)
    ids = tuple(f"n{i}" for i in range(1, len(facts.run) + 1))
    counts = [str(duration.ticks // unit.ticks) for duration in _durations(facts)]
    count = total.ticks // unit.ticks
    steps = [Step(f"Choose a small value that fits every note: the {unit.text}.", ids, unit.text)]
    if any(one.tie for one in facts.run):
        tied = tuple(f"n{i}" for i, one in enumerate(facts.run, 1) if one.tie)
        steps.append(Step("A tie joins two notes into one sound, and both lengths count.", tied))
    steps.append(Step(f"Count each note in {unit.name(plural=True)}: {', '.join(counts)}.", ids, " ".join(counts)))
    steps.append(Step(f"Add them: {' + '.join(counts)} = {count}.", ids, str(count)))
    steps.append(Step(f"One note that lasts {count}: the {total.text}.", (), total.text))
    steps.append(Step(f"Check: count the {total.text} back in {unit.name(plural=True)}. Is it {count}?"))
    return tuple(steps)


def _draw(facts: TotalValue, value: Value) -> Score:
    return value_row(value)


def _difficulty(facts: TotalValue) -> float:
    """Dots, ties, many notes and a dotted answer make the sum harder (common practice)."""
    dots = sum(one.dots for one in facts.run)
    ties = any(one.tie for one in facts.run)
    return -1.6 + 0.3 * dots + 0.2 * ties + 0.2 * (len(facts.run) - 2) + 0.4 * _total(facts).dots


def _skill(facts: TotalValue) -> str:
    what = "ties" if any(one.tie for one in facts.run) else "notes"
    return f"total-value/{what}{' and dots' if any(one.dots for one in facts.run) else ''}"


KIND = Kind(
    id="total-value",
    topic="values",
    since=1,
    title="Add up the values",
    facts=TotalValue,
    forms={"written": "rhythm", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=_skill,
    pool=lambda scope: None,
    seconds=25,
    marking=Marking("all-or-nothing"),
    draw=_draw,
)
