"""Draw a named note or rest."""

from __future__ import annotations

from random import Random
from typing import Annotated

from msgspec import Meta

from stavewright.questions.documents import Answer, RhythmForm, Slip, Step, TextBlock
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.setting.one_value import how_many_values, one_value
from stavewright.questions.showing.rows import value_row
from stavewright.questions.showing.shapes import shape
from stavewright.questions.solving.rests_alike import ALIKE, tell_apart
from stavewright.questions.values import Value, WrittenValue
from stavewright.questions.wording import Wording
from stavewright.questions.written import ValueName
from stavewright.score.stave import Score
from stavewright.syllabus.scope import Scope
from stavewright.theory.duration import VALUES, Duration

_DRAWN = VALUES[: VALUES.index("demisemiquaver") + 1]


class ValueNamed(Facts, frozen=True, forbid_unknown_fields=True):
    """The note or rest that is to be drawn: its value and dots."""

    value: ValueName
    dots: Annotated[int, Meta(ge=0, le=3)] = 0
    rest: bool = False


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    value, dots, rest = one_value(scope, rng)
    return Draft(ValueNamed(value, dots, rest), Value(rhythm=(WrittenValue(value, dots, rest),)))


def _drawn(value: str, dots: int, *, rest: bool) -> tuple[Value, str]:
    """A note or rest as a value, and in words: what it looks like, then its name."""
    length = Duration(value, dots)
    text = f"{shape(length, rest=rest)} ({length.name(rest=rest)})"
    return Value(rhythm=(WrittenValue(value, dots, rest),)), text


def _pose(facts: ValueNamed, wording: Wording) -> Posed:
    name = Duration(facts.value, facts.dots).name(rest=facts.rest)
    if wording.choosing:
        return Posed((TextBlock(wording.say(f"Which picture shows a {name}?")),))
    room = "one rest" if facts.rest else "one note"
    ask = f"Draw a {name}." if facts.rest else f"Draw a {name} on any line or space."
    return Posed((TextBlock(wording.say(ask)),), RhythmForm("values", alt=f"Room for {room}."))


def _solve(facts: ValueNamed) -> tuple[Answer, ...]:
    value, text = _drawn(facts.value, facts.dots, rest=facts.rest)
    length = Duration(facts.value, facts.dots)
    return (answer(value, text, f"A {length.name(rest=facts.rest)} is {shape(length, rest=facts.rest)}."),)


def _slips(facts: ValueNamed) -> tuple[Slip, ...]:
    found: list[Slip] = []

    def add(name: str, value: str, remedy: str, *, dots: int = facts.dots, rest: bool = facts.rest) -> None:
        wrong, text = _drawn(value, dots, rest=rest)
        if all(wrong != one.value[0] for one in found):
            found.append(slip(name, wrong, text, remedy))

    at = VALUES.index(facts.value)
    if facts.rest and facts.value in ALIKE:
        add("mixed up rests that look alike", ALIKE[facts.value], tell_apart(facts.value))
    if facts.dots:
        add("dot left out", facts.value, "Read the name again: a dot belongs to it.", dots=facts.dots - 1)
    look = "Think of the note first: head, stem, tails. Each tail makes it half as long."
    if at + 1 < len(_DRAWN):
        add("drew the next shorter value", VALUES[at + 1], look)
    if at > 1:
        add("drew the next longer value", VALUES[at - 1], look)
    other, kind = ("note", "rest") if facts.rest else ("rest", "note")
    add(f"drew the {other}", facts.value, f"The question asks for a {kind}.", rest=not facts.rest)
    if not facts.dots and facts.value != "breve":
        add("dot put on", facts.value, "Read the name again: it has no dot.", dots=1)
    return tuple(found)


def _neighbours(facts: ValueNamed) -> tuple[Value, ...]:
    at = VALUES.index(facts.value)
    near = [VALUES[i] for i in (at - 2, at + 2) if 1 <= i < len(_DRAWN)]
    return tuple(_drawn(value, facts.dots, rest=facts.rest)[0] for value in near)


def _work(facts: ValueNamed, method: str) -> tuple[Step, ...]:
    plain, length = Duration(facts.value), Duration(facts.value, facts.dots)
    name = plain.name(rest=facts.rest)
    steps: list[Step] = []
    tails = plain.tails
    if tails > 1:
        sign = "hooks" if facts.rest else "tails"
        halved = ", ".join(VALUES[VALUES.index("quaver") : VALUES.index(facts.value) + 1])
        steps.append(Step(f"Count the {sign} from one on: {halved}. That makes {tails}.", (), str(tails)))
    steps.append(Step(f"A {name} is {shape(plain, rest=facts.rest)}.", (), name))
    if facts.rest and facts.value in ("semibreve", "minim"):
        where = "hangs from the 4th line" if facts.value == "semibreve" else "sits on the middle line"
        steps.append(Step(f"It {where}.", (), "4th line" if facts.value == "semibreve" else "middle line"))
    if facts.dots:
        dots = "a dot" if facts.dots == 1 else f"{facts.dots} dots"
        steps.append(Step(f"Put {dots} to the right of it: that makes it a {length.name(rest=facts.rest)}.", (), dots))
    twin = length.name(rest=not facts.rest)
    steps.append(Step(f"Check: how would the {twin} look? Yours must not be that one."))
    return tuple(steps)


def _draw(facts: ValueNamed, value: Value) -> Score:
    return value_row(value)


def _difficulty(facts: ValueNamed) -> float:
    """Rests, dots and the very long and very short values are the later ones to stick (common practice)."""
    away = abs(VALUES.index(facts.value) - VALUES.index("crotchet"))
    return -1.8 + 0.6 * facts.rest + 0.3 * facts.dots + 0.2 * away


KIND = Kind(
    id="draw-the-value",
    topic="values",
    since=1,
    title="Draw the value",
    facts=ValueNamed,
    forms={"written": "rhythm", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"draw-the-value/{facts.value}{' rest' if facts.rest else ''}",
    pool=how_many_values,
    seconds=12,
    marking=Marking("all-or-nothing"),
    draw=_draw,
    neighbours=_neighbours,
    shows=lambda facts: frozenset({f"value:{Duration(facts.value).name(rest=facts.rest)}"}),
)
