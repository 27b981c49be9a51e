"""New time values: a rhythm written again in values twice or half as long, under its new time signature."""

from __future__ import annotations

from collections.abc import Callable
from random import Random
from typing import Annotated

from msgspec import Meta
from msgspec.structs import replace

from stavewright.questions.documents import Answer, RhythmForm, Slip, StaveBlock, Step, TextBlock
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.bars import rhythm_bar
from stavewright.questions.setting.picking import pick
from stavewright.questions.setting.silence import silence
from stavewright.questions.showing.barred import barred_score, empty_bars, spoken
from stavewright.questions.showing.pictures import picture
from stavewright.questions.values import Value, WrittenValue
from stavewright.questions.wording import Wording
from stavewright.score.stave import Score
from stavewright.syllabus.scope import Scope
from stavewright.theory.duration import VALUES, Duration
from stavewright.theory.errors import StavewrightError
from stavewright.theory.metre import TABLE, TimeSignature
from stavewright.theory.regroup import rescaled

_REST_SHARE = 0.4
_TRIES = 12
_LONGEST = 14
_LONGER = {True: "twice as long", False: "half as long"}

Bar = Annotated[tuple[WrittenValue, ...], Meta(min_length=1, max_length=24)]


class NewTimeValues(Facts, frozen=True, forbid_unknown_fields=True):
    """Full bars under a time signature, and whether their values are to be doubled or halved.

    Raises:
        RegroupError: the new time signature is not in use.
        DurationError: a value has no double or no half.
    """

    time: Annotated[str, Meta(max_length=5)]
    bars: Annotated[tuple[Bar, ...], Meta(min_length=1, max_length=4)]
    doubled: bool

    def __post_init__(self) -> None:
        events = [(one.duration, one.rest) for bar in self.bars for one in bar]
        rescaled(events, TimeSignature.parse(self.time), 1 if self.doubled else -1)


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    ways: list[tuple[str, str, bool]] = []
    for text in scope.times:
        old = TimeSignature.parse(text)
        for figures, doubled in ((f"{old.beats}/{old.unit // 2}", True), (f"{old.beats}/{old.unit * 2}", False)):
            if figures in scope.times:
                ways.append((text, figures, doubled))
    if not ways:
        return None
    fresh = scope.fresh.get("times", ())
    text, figures, doubled = pick(rng, ways, [way for way in ways if way[0] in fresh or way[1] in fresh])
    time, step, count = TimeSignature.parse(text), -1 if doubled else 1, rng.choice((1, 2, 2))
    bars: list[tuple[WrittenValue, ...]] = []
    meant: list[WrittenValue] = []
    for _ in range(_TRIES):
        row = [(one, False) for one in rhythm_bar(scope, rng, time)]
        if len(row) > 2 and rng.random() < _REST_SHARE:
            silence(row, rng, time)
        moved = [(VALUES.index(one.type) + step, one, rest) for one, rest in row]
        if any(not 0 <= place < len(VALUES) or VALUES[place] not in scope.values for place, _, _ in moved):
            continue
        if len(meant) + len(row) > _LONGEST:
            continue
        meant += [WrittenValue.of(Duration(VALUES[at], one.dots, one.tuplet), rest=rest) for at, one, rest in moved]
        bars.append(tuple(WrittenValue.of(one, rest=rest) for one, rest in row))
        if len(bars) == count:
            break
    if not bars:
        return None
    return Draft(NewTimeValues(text, tuple(bars), doubled), Value(rhythm=tuple(meant), time=figures))


def _row(facts: NewTimeValues) -> tuple[WrittenValue, ...]:
    return tuple(one for bar in facts.bars for one in bar)


def _scaled(facts: NewTimeValues, doublings: int) -> tuple[tuple[WrittenValue, ...], TimeSignature]:
    events, time = rescaled([(one.duration, one.rest) for one in _row(facts)], _time(facts).plain, doublings)
    return tuple(WrittenValue.of(duration, rest=rest) for duration, rest in events), time


def _time(facts: NewTimeValues) -> TimeSignature:
    return TimeSignature.parse(facts.time)


def _answer(row: tuple[WrittenValue, ...], time: str) -> tuple[Value, str]:
    return Value(rhythm=row, time=time), f"{time}: {spoken(row)}"


def _solve(facts: NewTimeValues) -> tuple[Answer, ...]:
    old = _time(facts)
    row, time = _scaled(facts, 1 if facts.doubled else -1)
    value, text = _answer(row, time.figures)
    reason = (
        f"Every value is {_LONGER[facts.doubled]}, so the beat is a {time.beat.text} in place of a {old.beat.text}: "
        f"{old.text} becomes {time.text}."
    )
    return (answer(value, text, reason),)


def _slips(facts: NewTimeValues) -> tuple[Slip, ...]:
    old, given = _time(facts), _row(facts)
    doublings = 1 if facts.doubled else -1
    row, time = _scaled(facts, doublings)
    found: list[Slip] = []

    def add(name: str, wrong: tuple[WrittenValue, ...], figures: str, remedy: str) -> None:
        value, text = _answer(wrong, figures)
        if all(value != one.value[0] for one in found):
            found.append(slip(name, value, text, remedy))

    figure = "The lower figure names the value of one count. New values need a new lower figure."
    add("signature unchanged", row, old.figures, figure)
    beats = time.beats * 2 if facts.doubled else time.beats // 2
    if (beats, old.unit) in TABLE:
        add("changed the upper figure", row, f"{beats}/{old.unit}", "There are as many beats as before, in new values.")
    add("values unchanged", given, time.figures, "Change every note and every rest, not only the time signature.")
    try:
        other, turned = _scaled(facts, -doublings)
    except StavewrightError:
        pass
    else:
        more = (
            "Twice as long: a crotchet becomes a minim."
            if facts.doubled
            else "Half as long: a minim becomes a crotchet."
        )
        add("turned the wrong way", other, turned.figures, more)

    def mixed(keep: Callable[[WrittenValue], bool]) -> tuple[WrittenValue, ...]:
        return tuple(before if keep(before) else after for before, after in zip(given, row, strict=True))

    if any(one.rest for one in given):
        add("rests left as they were", mixed(lambda one: one.rest), time.figures, "Rests change as the notes do.")
    if any(one.dots for one in given):
        undotted = tuple(replace(one, dots=0) for one in row)
        add("dots left out", undotted, time.figures, "A dotted note stays dotted: the dot grows or shrinks with it.")
    if any(one.duration.tails for one in given):
        tailed = mixed(lambda one: one.duration.tails > 0)
        add("notes with tails left as they were", tailed, time.figures, "Go through the row note by note: change all.")
    return tuple(found)


def _work(facts: NewTimeValues, method: str) -> tuple[Step, ...]:
    old, given = _time(facts), _row(facts)
    row, time = _scaled(facts, 1 if facts.doubled else -1)
    table = list(
        dict.fromkeys((before.duration.text, after.duration.text) for before, after in zip(given, row, strict=True))
    )
    said = ", ".join(f"{before} to {after}" for before, after in table)
    sign = f"The sign {old.text} means {old.figures}. " if old.symbol else ""
    moved = f"{old.unit_value.text} = {time.unit_value.text}"
    steps = [
        Step(
            f"{sign}The count was the {old.unit_value.text}. "
            f"{_LONGER[facts.doubled].capitalize()}, it is the {time.unit_value.text}.",
            (),
            moved,
        ),
        Step(
            f"So the lower figure {old.unit} becomes {time.unit}; the upper figure {old.beats} stays.", (), time.figures
        ),
        Step(f"Change each value: {said}.", tuple(f"n{i}" for i in range(1, len(given) + 1))),
    ]
    dotted = tuple(f"n{i}" for i, one in enumerate(given, 1) if one.dots)
    if dotted:
        steps.append(Step("Dots stay where they are.", dotted, "dots stay"))
    rests = tuple(f"n{i}" for i, one in enumerate(given, 1) if one.rest)
    if rests:
        steps.append(Step("Rests change as notes do.", rests, "rests too"))
    steps.append(Step(f"Check: does each bar add up to {time.beats} {time.unit_value.name(plural=True)}?"))
    return tuple(steps)


def _counts(facts: NewTimeValues) -> tuple[int, ...]:
    return tuple(len(bar) for bar in facts.bars)


def _draw(facts: NewTimeValues, value: Value) -> Score:
    """The written rhythm under its own time signature, bar lines where the given rhythm has them."""
    try:
        time = None if value.time is None else TimeSignature.parse(value.time)
    except StavewrightError:
        time = None
    return barred_score(value.rhythm or (), time, counts=_counts(facts))


def _pose(facts: NewTimeValues, wording: Wording) -> Posed:
    score = barred_score(_row(facts), _time(facts), counts=_counts(facts))
    shown = StaveBlock(document_of(score), wording.say(picture(score, shapes=True)))
    longer = _LONGER[facts.doubled]
    if wording.choosing:
        ask = f"Which picture shows this rhythm in values {longer}, with its new time signature?"
        return Posed((TextBlock(ask), shown))
    ask = f"Write this rhythm again in notes and rests {longer}. Begin with the new time signature."
    given = document_of(empty_bars(_time(facts), len(facts.bars), shown=False))
    return Posed((TextBlock(ask), shown), RhythmForm("values", given, wording.say("Empty bars to write in.")))


def _difficulty(facts: NewTimeValues) -> float:
    """Halving is less usual than doubling; compound time, rests, dots and groups ask for care (common practice)."""
    odd = sum(one.rest or one.dots > 0 or one.tuplet is not None for one in _row(facts))
    return (
        -0.8 + (0.0 if facts.doubled else 0.2) + (0.4 if _time(facts).kind == "compound" else 0.0) + 0.1 * min(odd, 6)
    )


KIND = Kind(
    id="new-time-values",
    topic="metre",
    since=2,
    title="New time values",
    facts=NewTimeValues,
    forms={"written": "rhythm", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"new-time-values/{'doubled' if facts.doubled else 'halved'}",
    pool=lambda scope: None,
    seconds=70,
    marking=Marking("minus-one-per-fault"),
    marks=3,
    draw=_draw,
)
