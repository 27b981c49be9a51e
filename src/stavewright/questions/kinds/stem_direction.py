"""Stem direction: which of several notes have their stems the right way."""

from __future__ import annotations

from collections.abc import Callable
from random import Random
from typing import Annotated

from msgspec import Meta, Struct

from stavewright.questions.documents import Answer, PlacesForm, Slip, StaveBlock, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.picking import pick_clef, place_of
from stavewright.questions.showing.describing import where
from stavewright.questions.values import Place, Value
from stavewright.questions.wording import Wording
from stavewright.questions.written import ClefName, StavePlace
from stavewright.score.event import Note
from stavewright.score.stave import single
from stavewright.syllabus.scope import Scope
from stavewright.theory.clef import CLEFS
from stavewright.theory.duration import Duration

_MIDDLE = 4
_COUNT = 6
# Tails would crowd the row where a stem points the wrong way.
_VALUES = ("minim", "crotchet")
_WORDS = {"right": "the right way", "wrong": "the wrong way"}
_HAVE = {True: "has its stem", False: "have their stems"}

Stem = Annotated[str, Meta(pattern=r"^(up|down)\Z", max_length=4)]
StemmedValue = Annotated[str, Meta(pattern=r"^(minim|crotchet|quaver|semiquaver)\Z", max_length=10)]


class Stemmed(Struct, frozen=True, forbid_unknown_fields=True):
    """A note with its stem: its place (0 is the bottom line), its value, and which way the stem points."""

    place: StavePlace
    value: StemmedValue
    stem: Stem


class StemDirection(Facts, frozen=True, forbid_unknown_fields=True):
    """Numbered notes with their stems, and whether those with right or with wrong stems are to be picked.

    Raises:
        BadDocument: no note is to be picked, or all of them are.
    """

    clef: ClefName
    notes: Annotated[tuple[Stemmed, ...], Meta(min_length=3, max_length=12)]
    pick: Annotated[str, Meta(pattern=r"^(right|wrong)\Z", max_length=5)] = "wrong"

    def __post_init__(self) -> None:
        off = [one for one in self.notes if one.place != _MIDDLE]
        good = sum((one.stem == "up") == (one.place < _MIDDLE) for one in off)
        if not 0 < good < len(off):
            raise BadDocument("some stems must be right and some wrong, notes on the middle line left out")


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    clef = pick_clef(scope, rng)
    value = rng.choice([value for value in _VALUES if value in scope.values])
    low, high = scope.range_of(clef)
    below = range(place_of(low, clef), _MIDDLE)
    above = range(_MIDDLE, place_of(high, clef) + 1)
    count = rng.choice((2, 3, 3, 4))
    places = [*rng.sample(below, count), *rng.sample(above, _COUNT - count)]
    rng.shuffle(places)
    off = [number for number, place in enumerate(places) if place != _MIDDLE]
    turned = sorted(rng.sample(off, rng.choice((2, 3))))
    notes = tuple(
        Stemmed(place, value, "up" if (place < _MIDDLE) != (number in turned) else "down")
        for number, place in enumerate(places)
    )
    picked = rng.choice(("right", "wrong"))
    meant = turned if picked == "wrong" else [number for number in range(_COUNT) if number not in turned]
    return Draft(
        StemDirection(clef, notes, picked), Value(places=tuple(Place(bar=1, note=number + 1) for number in meant))
    )


def _usual(place: int) -> str:
    return "up" if place < _MIDDLE else "down"


def _picked(facts: StemDirection, rule: Callable[[int], str], *, either: bool = False) -> tuple[int, ...]:
    """The numbers of the notes whose stems keep a rule, or break it, as the question asks.

    `either`: on the middle line the stem may also point up.
    """
    found: list[int] = []
    for number, one in enumerate(facts.notes, 1):
        keeps = one.stem == rule(one.place) or (either and one.place == _MIDDLE)
        if keeps == (facts.pick == "right"):
            found.append(number)
    return tuple(found)


def _value(numbers: tuple[int, ...]) -> Value:
    return Value(places=tuple(Place(bar=1, note=number) for number in numbers))


def _said(numbers: tuple[int, ...]) -> str:
    words = [str(number) for number in numbers]
    if len(words) < 2:
        return f"note {words[0]}" if words else "no note"
    return f"notes {', '.join(words[:-1])} and {words[-1]}"


def _solve(facts: StemDirection) -> tuple[Answer, ...]:
    both = _picked(facts, _usual, either=True)
    found = [
        answer(
            _value(both),
            _said(both),
            "Notes below the middle line have stems up, notes above it stems down; on the line either way is right.",
        )
    ]
    strict = _picked(facts, _usual)
    if strict != both:
        reason = "Some teachers have the stem down on the middle line always: then this is right."
        found.append(answer(_value(strict), _said(strict), reason))
    return tuple(found)


def _slips(facts: StemDirection) -> tuple[Slip, ...]:
    found: list[Slip] = []

    def add(name: str, numbers: tuple[int, ...], remedy: str) -> None:
        if all(_value(numbers) != one.value[0] for one in found):
            found.append(slip(name, _value(numbers), _said(numbers), remedy))

    other = "right" if facts.pick == "wrong" else "wrong"
    swapped = StemDirection(facts.clef, facts.notes, other)
    turned = "Low notes have stems that point up, high notes have stems that point down."
    add("high and low turned round", _picked(swapped, _usual, either=True), turned)
    line = "Count the lines from the bottom: the third one is the middle line."
    if any(one.place == _MIDDLE for one in facts.notes):
        up = "On the middle line the stem may point down as well."
        add("middle line always up", _picked(facts, lambda place: "up" if place <= _MIDDLE else "down"), up)
    add("turned at the 2nd line", _picked(facts, lambda place: "up" if place < _MIDDLE - 2 else "down"), line)
    add("turned at the 4th line", _picked(facts, lambda place: "up" if place < _MIDDLE + 2 else "down"), line)
    add("stems always up", _picked(facts, lambda _: "up"), turned)
    add("stems always down", _picked(facts, lambda _: "down"), turned)
    ends = "Outside the stave the rule is the same: stems point back towards the middle line."
    if any(one.place < 0 or one.place > 2 * _MIDDLE for one in facts.notes):
        add("stems away from the stave", _picked(facts, _away), ends)
    return tuple(found)


def _away(place: int) -> str:
    if 0 <= place <= 2 * _MIDDLE:
        return _usual(place)
    return "down" if place < 0 else "up"


def _ids(numbers: tuple[int, ...]) -> tuple[str, ...]:
    return tuple(f"n{number}" for number in numbers)


def _work(facts: StemDirection, method: str) -> tuple[Step, ...]:
    numbers = range(1, len(facts.notes) + 1)
    places = dict(zip(numbers, facts.notes, strict=True))
    below = tuple(number for number in numbers if places[number].place < _MIDDLE)
    above = tuple(number for number in numbers if places[number].place > _MIDDLE)
    on = tuple(number for number in numbers if places[number].place == _MIDDLE)
    steps = [Step("Find the middle line: it is the third from the bottom and from the top.", (), "middle line")]
    if below:
        steps.append(Step(f"Below it: {_said(below)}. Their stems must point up.", _ids(below), "up"))
    if above:
        steps.append(Step(f"Above it: {_said(above)}. Their stems must point down.", _ids(above), "down"))
    if on:
        steps.append(Step(f"On it: {_said(on)}. Either way is right, and down is usual.", _ids(on), "either"))
    picked = _picked(facts, _usual, either=True)
    steps.append(
        Step(
            f"So {_said(picked)} {_HAVE[len(picked) == 1]} {_WORDS[facts.pick]}.",
            _ids(picked),
            " ".join(map(str, picked)),
        )
    )
    steps.append(Step("Check: an up stem stands at the right of the head, a down stem hangs at its left."))
    return tuple(steps)


def _pose(facts: StemDirection, wording: Wording) -> Posed:
    row = tuple(
        Note(CLEFS[facts.clef].pitch_at(one.place), Duration(one.value), f"n{i}", stem=one.stem, label=str(i))
        for i, one in enumerate(facts.notes, 1)
    )
    said = "; ".join(f"{i}, {where(one.place)}, stem {one.stem}" for i, one in enumerate(facts.notes, 1))
    alt = f"A stave with the {facts.clef} clef and {len(row)} numbered notes: {said}."
    answers = _solve(facts)
    count = len(answers[0].value[0].places or ())
    one = count == 1 and len(answers) == 1
    ask = f"Which of these notes {_HAVE[one]} {_WORDS[facts.pick]}? Write the number{'' if one else 's'}."
    shown = StaveBlock(document_of(single(facts.clef, row)), wording.say(alt))
    return Posed((TextBlock(wording.say(ask)), shown), PlacesForm("numbers", count if len(answers) == 1 else None))


def _difficulty(facts: StemDirection) -> float:
    """The middle line, and notes close to it, are where stems go wrong (common practice)."""
    near = sum(abs(one.place - _MIDDLE) <= 1 for one in facts.notes)
    ledger = sum(not -1 <= one.place <= 2 * _MIDDLE + 1 for one in facts.notes)
    return -1.8 + 0.2 * near + 0.1 * ledger + (0.2 if facts.clef in ("alto", "tenor") else 0.0)


KIND = Kind(
    id="stem-direction",
    topic="values",
    since=1,
    title="Stems up and down",
    facts=StemDirection,
    forms={"written": "places", "on-screen": "places"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"stem-direction/{'middle' if any(n.place == _MIDDLE for n in facts.notes) else 'plain'}",
    pool=lambda scope: None,
    seconds=25,
    marking=Marking("per-item"),
    marks=2,
)
