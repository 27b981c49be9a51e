"""Simple to compound: the same sound written in the other kind of metre, with triplets or duplets where they belong."""

from __future__ import annotations

from itertools import islice, product, takewhile
from random import Random
from typing import Annotated

from msgspec import Meta
from msgspec.structs import replace

from stavewright.questions.documents import Answer, RhythmForm, Slip, StaveBlock, Step, TextBlock
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_document import TupletDocument
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.twin_bars import twin_bars
from stavewright.questions.showing.barred import barred_score, cut_at_bars, empty_bars, spoken
from stavewright.questions.showing.pictures import picture
from stavewright.questions.values import Value, WrittenValue
from stavewright.questions.wording import Wording
from stavewright.score.stave import Score
from stavewright.syllabus.scope import Scope
from stavewright.theory.duration import VALUES, Duration, of_ticks
from stavewright.theory.metre import TimeSignature
from stavewright.theory.regroup import as_ties, same_sound

_MOST_WAYS = 16
"""So many ways of writing one rhythm are accepted; a few duplets and silent beats make no more."""

Part = tuple[tuple[WrittenValue, ...], str]
"""Some values in a row, and why they may be written so where it is not the usual way."""

Bar = Annotated[tuple[WrittenValue, ...], Meta(min_length=1, max_length=24)]


class SimpleToCompound(Facts, frozen=True, forbid_unknown_fields=True):
    """Full bars under a simple or compound time signature, to be written in its twin.

    Raises:
        RegroupError: the metre has no twin, or a beat cannot be written in it.
    """

    time: Annotated[str, Meta(max_length=5)]
    bars: Annotated[tuple[Bar, ...], Meta(min_length=1, max_length=4)]

    def __post_init__(self) -> None:
        same_sound([(one.duration, one.rest) for bar in self.bars for one in bar], TimeSignature.parse(self.time))


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    made = twin_bars(scope, rng)
    if made is None:
        return None
    return Draft(SimpleToCompound(made.time, made.shown), Value(rhythm=tuple(one for bar in made.meant for one in bar)))


def _row(facts: SimpleToCompound) -> tuple[WrittenValue, ...]:
    return tuple(one for bar in facts.bars for one in bar)


def _time(facts: SimpleToCompound) -> TimeSignature:
    return TimeSignature.parse(facts.time)


def _read(facts: SimpleToCompound) -> tuple[WrittenValue, ...]:
    """The row with every silent beat as one rest, in whatever rests it is written."""
    beat, left = _time(facts).beat, list(_row(facts))
    found: list[WrittenValue] = []
    clock = 0
    while left:
        silent = list(takewhile(lambda one: one.rest, left))
        run = [sum(one.duration.ticks for one in silent[:count]) for count in range(1, len(silent) + 1)]
        count = run.index(beat.ticks) + 1 if clock % beat.ticks == 0 and beat.ticks in run else 1
        found.append(left[0] if count == 1 else WrittenValue.of(beat, rest=True))
        clock += sum(one.duration.ticks for one in left[:count])
        del left[:count]
    return tuple(found)


def _written(facts: SimpleToCompound) -> tuple[tuple[WrittenValue, ...], TimeSignature]:
    """The row in the twin metre, every silent beat as one rest."""
    events, twin = same_sound([(one.duration, one.rest) for one in _read(facts)], _time(facts))
    return tuple(WrittenValue.of(duration, rest=rest) for duration, rest in events), twin


def _split(row: tuple[WrittenValue, ...], time: TimeSignature) -> tuple[WrittenValue, ...]:
    """The row with the silent beats of compound time as they are usually written: a plain rest and its half."""
    if time.kind != "compound":
        return row
    usual = [WrittenValue.of(part, rest=True) for part in as_ties(time.beat)]
    return tuple(part for one in row for part in (usual if one.rest and one.duration == time.beat else [one]))


def _value(row: tuple[WrittenValue, ...]) -> tuple[Value, str]:
    return Value(rhythm=row), spoken(row)


def _group(one: WrittenValue, actual: int) -> bool:
    return one.tuplet is not None and one.tuplet.actual == actual


def _solve(facts: SimpleToCompound) -> tuple[Answer, ...]:
    time = _time(facts)
    row, twin = _written(facts)
    reason = (
        f"A {time.beat.text} beat of {time.text} becomes a {twin.beat.text} beat of {twin.text}, "
        f"and each part of it keeps its share of the beat."
    )
    found = [answer(*_value(_split(row, twin)), reason)]
    for way in islice(product(*_parts(row, twin)), 1, _MOST_WAYS):
        written = tuple(one for part, _ in way for one in part)
        found.append(answer(*_value(written), " ".join(dict.fromkeys(why for _, why in way if why))))
    return tuple(found)


def _parts(row: tuple[WrittenValue, ...], twin: TimeSignature) -> list[tuple[Part, ...]]:
    """The row in parts, each with the ways to write it, the usual one first; the others with their reason."""
    found: list[tuple[Part, ...]] = []
    left = list(row)
    while left:
        one = left[0]
        size = next((size for size in (2, 4) if _group(one, size)), 1)
        taken = tuple(left[:size])
        usual, other = _split(taken, twin), tuple(_undone(note) for note in taken)
        ways: tuple[Part, ...] = ((usual, ""),)
        if size > 2:
            longer = tuple(replace(note, type=_longer(note.type), tuplet=TupletDocument(4, 3)) for note in taken)
            ways += ((longer, "A quadruplet may also be four in the time of three of the longer value."),)
        if usual != taken:
            ways += ((taken, "A silent beat may also be written as one dotted rest."),)
        elif other != taken:
            name = "duplet" if size == 2 else "quadruplet"
            ways += ((other, f"A {name} may also be written as equal dotted notes."),)
        found.append(ways)
        del left[: len(taken)]
    return found


def _longer(value: str) -> str:
    return VALUES[VALUES.index(value) - 1]


def _undone(one: WrittenValue) -> WrittenValue:
    """A note of a duplet or quadruplet as the dotted note of the same length."""
    if not (_group(one, 2) or _group(one, 4)):
        return one
    dotted = of_ticks(one.duration.ticks, max_dots=1)
    return one if dotted is None else WrittenValue.of(dotted, rest=one.rest)


def _slips(facts: SimpleToCompound) -> tuple[Slip, ...]:
    given, time = _read(facts), _time(facts)
    row, twin = _written(facts)
    found: list[Slip] = []

    def add(name: str, wrong: tuple[WrittenValue, ...], remedy: str) -> None:
        value, text = _value(_split(wrong, twin))
        if all(value != one.value[0] for one in found):
            found.append(slip(name, value, text, remedy))

    beat = f"A beat is a {time.beat.text} in {time.text} and a {twin.beat.text} in {twin.text}: change every beat."
    add("face values kept", tuple(replace(one, tuplet=None) for one in given), beat)
    add(
        "figures left out",
        tuple(replace(one, tuplet=None) for one in row),
        "Look at each group: does it need a figure?",
    )
    whole = Duration(twin.beat.type).ticks
    if twin.kind == "compound":
        bare = tuple(replace(one, dots=0) if one.tuplet is None and _long(one, whole) else one for one in row)
        add("dots left out", bare, f"A whole beat of {twin.text} is a dotted note.")
        thirds = TupletDocument(3, 2)
        kept = tuple(
            replace(new, tuplet=thirds) if _group(old, 3) else new for old, new in zip(given, row, strict=True)
        )
        add("triplet figures kept", kept, f"In {twin.text} a beat falls into three parts by itself: no figure 3.")
    else:
        dotted = tuple(replace(one, dots=1) if one.tuplet is None and _long(one, whole) else one for one in row)
        add("dots kept", dotted, f"A whole beat of {twin.text} is a plain note, without a dot.")
        twos = TupletDocument(2, 3)
        kept = tuple(replace(new, tuplet=twos) if _group(old, 2) else new for old, new in zip(given, row, strict=True))
        add("duplet figures kept", kept, f"In {twin.text} a beat falls into two parts by itself: no figure 2.")
    return tuple(found)


def _long(one: WrittenValue, beat: int) -> bool:
    return Duration(one.type).ticks >= beat


def _work(facts: SimpleToCompound, method: str) -> tuple[Step, ...]:
    time, given = _time(facts), _row(facts)
    row, twin = _written(facts)
    equation = f"{time.beat.text} = {twin.beat.text}"
    steps = [Step(f"Mark the beats: {time.count} {time.beat.text} beats in each bar of {time.text}.")]
    whole = tuple(f"n{i}" for i, one in enumerate(given, 1) if one.duration.ticks >= time.beat.ticks)
    dotted = "gain a dot" if twin.kind == "compound" else "lose their dot"
    steps.append(Step(f"Whole beats {dotted}: a {time.beat.text} becomes a {twin.beat.text}.", whole, equation))
    short = Duration(VALUES[VALUES.index(time.beat.type) + 1]).name(plural=True)
    three = tuple(f"n{i}" for i, one in enumerate(given, 1) if _part(one, time, 3))
    if three:
        change = "a triplet becomes three plain" if twin.kind == "compound" else "three plain notes become a triplet of"
        steps.append(Step(f"Beats in three parts: {change} {short}.", three, "3 parts"))
    two = tuple(f"n{i}" for i, one in enumerate(given, 1) if _part(one, time, 2))
    if two:
        change = "two plain notes become a duplet of" if twin.kind == "compound" else "a duplet becomes two plain"
        steps.append(Step(f"Beats in two parts: {change} {short}.", two, "2 parts"))
    steps.append(Step(f"Write it down beat by beat: {spoken(_split(row, twin))}."))
    steps.append(Step(f"Check: tap the beat and say both. Has each bar {twin.count} {twin.beat.text} beats?"))
    return tuple(steps)


def _part(one: WrittenValue, time: TimeSignature, parts: int) -> bool:
    """Whether a note is part of a beat that falls into so many parts."""
    if one.duration.ticks >= time.beat.ticks:
        return False
    by_itself = 2 if time.kind == "simple" else 3
    return one.tuplet is None if parts == by_itself else _group(one, parts)


def _counts(facts: SimpleToCompound) -> tuple[int, ...]:
    return tuple(len(bar) for bar in facts.bars)


def _draw(facts: SimpleToCompound, value: Value) -> Score:
    """The written rhythm with as many values in each bar as the right one has, where it has as many in all."""
    row, twin = _written(facts)
    ways = [tuple(map(len, cut_at_bars(way, twin))) for way in (_split(row, twin), row)]
    written = value.rhythm or ()
    return barred_score(written, twin, counts=next((way for way in ways if sum(way) == len(written)), ()))


def _pose(facts: SimpleToCompound, wording: Wording) -> Posed:
    time = _time(facts)
    twin = _written(facts)[1]
    score = barred_score(_row(facts), time, counts=_counts(facts))
    shown = StaveBlock(document_of(score), wording.say(picture(score, shapes=True)))
    beat = f"One {time.beat.text} of {time.text} lasts as long as one {twin.beat.text} of {twin.text}."
    if wording.choosing:
        ask = f"Which picture sounds the same in {twin.text}? {beat}"
        return Posed((TextBlock(wording.say(ask)), shown))
    ask = f"Write this rhythm again in {twin.text}, so that it sounds the same. {beat}"
    given = document_of(empty_bars(twin, len(facts.bars)))
    room = wording.say(f"Empty bars in {twin.text} time to write in.")
    return Posed((TextBlock(wording.say(ask)), shown), RhythmForm("values", given, room))


def _difficulty(facts: SimpleToCompound) -> float:
    """Both kinds of group in one rhythm, other beats than crotchets, and long rows are harder (common practice)."""
    row, written = _row(facts), _written(facts)[0]
    kinds = len({group for one in (*row, *written) if (group := one.tuplet)})
    beat = 0.3 if _time(facts).beat.type != "crotchet" else 0.0
    return -0.6 + 0.4 * kinds + beat + 0.04 * len(row)


KIND = Kind(
    id="simple-to-compound",
    topic="metre",
    since=4,
    title="Simple and compound time",
    facts=SimpleToCompound,
    forms={"written": "rhythm", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"simple-to-compound/from {_time(facts).kind}",
    pool=lambda scope: None,
    seconds=90,
    marking=Marking("minus-one-per-fault"),
    marks=3,
    draw=_draw,
)
