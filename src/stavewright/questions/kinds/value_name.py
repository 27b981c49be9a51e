"""Name a note or rest by its value."""

from __future__ import annotations

from random import Random
from typing import Annotated

from msgspec import Meta

from stavewright.questions.documents import Answer, Slip, StaveBlock, Step, TextBlock, WordsForm
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.one_value import how_many_values, one_value
from stavewright.questions.showing.shapes import shape
from stavewright.questions.solving.rests_alike import ALIKE, tell_apart
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.questions.written import ValueName
from stavewright.score.event import Note, Rest
from stavewright.score.stave import single
from stavewright.syllabus.scope import Scope
from stavewright.theory.duration import VALUES, Duration
from stavewright.theory.pitch import Pitch

_ZIGZAG = VALUES.index("crotchet")
_NAMED = VALUES[: VALUES.index("demisemiquaver") + 1]


class ValueShown(Facts, frozen=True, forbid_unknown_fields=True):
    """A note or rest as it is printed: its value and dots."""

    value: ValueName
    dots: Annotated[int, Meta(ge=0, le=3)] = 0
    rest: bool = False


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    value, dots, rest = one_value(scope, rng)
    expected = ("", "dotted ", "double-dotted ")[dots] + value + (" rest" if rest else "")
    return Draft(ValueShown(value, dots, rest), expected)


def _pose(facts: ValueShown, wording: Wording) -> Posed:
    length = Duration(facts.value, facts.dots)
    event = Rest(length, "n1") if facts.rest else Note(Pitch("A", 0, 4), length, "n1")
    sign = "rest" if facts.rest else "note"
    alt = f"A {sign} on a stave: {shape(Duration(facts.value, facts.dots), rest=facts.rest)}."
    ask = f"What is this {sign} called?" if wording.choosing else f"Name the value of this {sign}. Write its full name."
    shown = StaveBlock(document_of(single("treble", (event,))), wording.say(alt))
    return Posed((TextBlock(wording.say(ask)), shown), None if wording.choosing else WordsForm("phrase"))


def _name(value: str, dots: int, *, rest: bool) -> str:
    return Duration(value, dots).name(rest=rest)


def _solve(facts: ValueShown) -> tuple[Answer, ...]:
    name = _name(facts.value, facts.dots, rest=facts.rest)
    reason = f"It is {shape(Duration(facts.value, facts.dots), rest=facts.rest)}."
    found = [answer(Value(words=name), name, reason)]
    if facts.rest:
        short = _name(facts.value, facts.dots, rest=False)
        found.append(
            answer(Value(words=short), short, f"The question says that it is a rest: {short} gives its value.")
        )
    else:
        full = f"{name} note"
        found.append(answer(Value(words=full), full, f"The question says that it is a note: {name} is enough."))
    return tuple(found)


def _slips(facts: ValueShown) -> tuple[Slip, ...]:
    found: list[Slip] = []

    def add(name: str, value: str, remedy: str, *, dots: int = facts.dots, rest: bool = facts.rest) -> None:
        text = _name(value, dots, rest=rest)
        found.append(slip(name, Value(words=text), text, remedy))

    at = VALUES.index(facts.value)
    if facts.rest and facts.value in ALIKE:
        add("mixed up rests that look alike", ALIKE[facts.value], tell_apart(facts.value))
    if facts.dots:
        add("dot left out", facts.value, "Look after the sign: a dot is part of its name.", dots=0)
    look = "Look at the head and the stem, then count the tails."
    if facts.rest:
        look = "See whether the block hangs or sits." if at <= VALUES.index("minim") else "Count the hooks."
        look = "A block is a longer rest, a hook a shorter one; the zigzag is neither." if at == _ZIGZAG else look
    taken = {one.text for one in found}
    if at + 1 < len(_NAMED) and _name(VALUES[at + 1], facts.dots, rest=facts.rest) not in taken:
        add("named the next shorter value", VALUES[at + 1], look)
    if at > 1 and _name(VALUES[at - 1], facts.dots, rest=facts.rest) not in taken:
        add("named the next longer value", VALUES[at - 1], look)
    return tuple(found)


def _neighbours(facts: ValueShown) -> tuple[Value, ...]:
    at = VALUES.index(facts.value)
    near = [VALUES[i] for i in (at - 2, at + 2, at + 3) if 1 <= i < len(_NAMED)]
    return tuple(Value(words=_name(value, facts.dots, rest=facts.rest)) for value in near)


def _work(facts: ValueShown, method: str) -> tuple[Step, ...]:
    plain = _name(facts.value, 0, rest=facts.rest)
    steps = [Step(f"It is {shape(Duration(facts.value), rest=facts.rest)}: the {plain}.", ("n1",), plain)]
    tails = Duration(facts.value).tails
    if tails > 1:
        sign = "hook" if facts.rest else "tail"
        steps.append(Step(f"The first {sign} makes a quaver; each {sign} more makes it half as long.", ("n1",)))
    if facts.dots:
        name = _name(facts.value, facts.dots, rest=facts.rest)
        dot = "The dot" if facts.dots == 1 else "Each dot"
        steps.append(Step(f"{dot} after it belongs to the name: {name}.", ("n1",), name))
    twin = "note" if facts.rest else "rest"
    other = _name(facts.value, 0, rest=not facts.rest)
    steps.append(Step(f"Check: the {other} is the {twin} of the same length. Can you draw both?", ("n1",)))
    return tuple(steps)


def _difficulty(facts: ValueShown) -> float:
    """Rests, dots and the very long and very short values are the later ones to stick (common practice)."""
    away = abs(VALUES.index(facts.value) - VALUES.index("crotchet"))
    return -2.0 + 0.6 * facts.rest + 0.3 * facts.dots + 0.2 * away


KIND = Kind(
    id="value-name",
    topic="values",
    since=1,
    title="Name the value",
    facts=ValueShown,
    forms={"written": "words", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"value-name/{facts.value}{' rest' if facts.rest else ''}",
    pool=how_many_values,
    seconds=10,
    marking=Marking("all-or-nothing"),
    neighbours=_neighbours,
    asks=lambda facts: frozenset({f"value:{_name(facts.value, 0, rest=facts.rest)}"}),
)
