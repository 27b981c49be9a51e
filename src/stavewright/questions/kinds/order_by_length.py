"""Order by length: notes and rests from the longest to the shortest, or the other way."""

from __future__ import annotations

from collections.abc import Callable
from random import Random
from string import ascii_lowercase
from typing import Annotated

from msgspec import Meta, Struct

from stavewright.questions.documents import Answer, Option, OrderForm, Slip, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.one_value import one_value
from stavewright.questions.showing.rows import value_row
from stavewright.questions.showing.shapes import shape
from stavewright.questions.solving.rests_alike import ALIKE, tell_apart
from stavewright.questions.values import Value, WrittenValue
from stavewright.questions.wording import Wording
from stavewright.questions.written import ValueName
from stavewright.syllabus.scope import Scope
from stavewright.theory.duration import VALUES, Duration

_COUNTS = (4, 5)
_DRAWS = 40


class Lasting(Struct, frozen=True, forbid_unknown_fields=True, omit_defaults=True):
    """A note or rest to be put in order: its value and its dots."""

    value: ValueName
    dots: Annotated[int, Meta(ge=0, le=2)] = 0
    rest: bool = False

    @property
    def duration(self) -> Duration:
        """Its value."""
        return Duration(self.value, self.dots)


class OrderByLength(Facts, frozen=True, forbid_unknown_fields=True):
    """Notes and rests as they are printed under the letters a, b, c, and which end to begin with.

    Raises:
        BadDocument: two of them last equally long.
    """

    items: Annotated[tuple[Lasting, ...], Meta(min_length=3, max_length=8)]
    shortest_first: bool = False

    def __post_init__(self) -> None:
        if len({one.duration.ticks for one in self.items}) < len(self.items):
            raise BadDocument("two of the values last equally long: there is no order between them")


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    count = rng.choice(_COUNTS)
    by_length: dict[tuple[int, int], Lasting] = {}
    for _ in range(_DRAWS):
        value, dots, rest = one_value(scope, rng)
        # A value with more dots stands between the plain one and the next longer.
        by_length.setdefault((VALUES.index(value), -dots), Lasting(value, dots, rest))
        if len(by_length) == count:
            break
    else:
        return None
    first = [by_length[place] for place in sorted(by_length)]
    items = list(first)
    rng.shuffle(items)
    shortest = rng.random() < 0.5
    meant = tuple(ascii_lowercase[items.index(one)] for one in (reversed(first) if shortest else first))
    return Draft(OrderByLength(tuple(items), shortest), Value(order=meant))


def _ordered(facts: OrderByLength, length: Callable[[Lasting], tuple[int, ...]]) -> tuple[int, ...]:
    """The places of the items by a length, from the end that the question names; equals stay as printed."""
    turn = 1 if facts.shortest_first else -1
    return tuple(sorted(range(len(facts.items)), key=lambda at: tuple(turn * part for part in length(facts.items[at]))))


def _answer(facts: OrderByLength, order: tuple[int, ...]) -> tuple[Value, str]:
    names = ", ".join(facts.items[at].duration.name(rest=facts.items[at].rest) for at in order)
    letters = tuple(ascii_lowercase[at] for at in order)
    return Value(order=letters), f"{', '.join(letters)} ({names})"


def _ticks(one: Lasting) -> tuple[int, ...]:
    return (one.duration.ticks,)


def _counted(facts: OrderByLength, order: tuple[int, ...]) -> tuple[str, str]:
    """All lengths in the longest value that counts them evenly, in order; and that value."""
    for value in VALUES:
        unit = Duration(value)
        if all(one.duration.ticks % unit.ticks == 0 for one in facts.items):
            return ", ".join(str(facts.items[at].duration.ticks // unit.ticks) for at in order), unit.name(plural=True)
    raise BadDocument(f"the values are shorter than a {VALUES[-1]} can count: use longer values")


def _solve(facts: OrderByLength) -> tuple[Answer, ...]:
    order = _ordered(facts, _ticks)
    value, text = _answer(facts, order)
    counts, unit = _counted(facts, order)
    return (answer(value, text, f"Counted in {unit} they last {counts}."),)


def _slips(facts: OrderByLength) -> tuple[Slip, ...]:
    found: list[Slip] = []

    def add(name: str, order: tuple[int, ...], remedy: str) -> None:
        value, text = _answer(facts, order)
        if all(value != one.value[0] for one in found):
            found.append(slip(name, value, text, remedy))

    right = _ordered(facts, _ticks)
    tails = "More tails make a note shorter: each tail halves it."
    if any(one.duration.tails for one in facts.items):
        add("tails mean longer", _ordered(facts, lambda one: (one.duration.tails, one.duration.ticks)), tails)
    add("more ink means longer", _ordered(facts, lambda one: (VALUES.index(one.value), one.dots)), tails)
    ends = "Read again which one comes first: the longest or the shortest?"
    add("began at the wrong end", right[::-1], ends)
    if any(one.dots for one in facts.items):
        add(
            "dot takes half away",
            _ordered(facts, lambda one: (Duration(one.value).ticks >> one.dots, one.dots)),
            "A dot makes a note longer: it adds half of what stands before it.",
        )
        add(
            "dot outdoes the value",
            _ordered(facts, lambda one: (one.dots, one.duration.ticks)),
            "A dot adds only half: a dotted note is still shorter than the next longer value.",
        )
    blocks = {one.value for one in facts.items if one.rest} & {"semibreve", "minim"}
    if blocks:
        swap = {value: ALIKE[value] for value in ("semibreve", "minim")}
        add(
            "mixed up rests that look alike",
            _ordered(facts, lambda one: (Duration(swap.get(one.value, one.value) if one.rest else one.value).ticks,)),
            tell_apart("minim"),
        )
    if any(one.rest for one in facts.items):
        remedy = "A rest lasts as long as the note of its name. Put it in among the notes."
        add("rests taken for nothing", _ordered(facts, lambda one: (not one.rest, one.duration.ticks)), remedy)
    return tuple(found)


def _work(facts: OrderByLength, method: str) -> tuple[Step, ...]:
    order = _ordered(facts, _ticks)
    names = "; ".join(
        f"{ascii_lowercase[at]}, {one.duration.name(rest=one.rest)}" for at, one in enumerate(facts.items)
    )
    ends = "shortest" if facts.shortest_first else "longest"
    steps = [Step(f"Name each one: {names}.")]
    if any(one.rest for one in facts.items):
        steps.append(Step("A rest lasts as long as the note of the same name."))
    counts, unit = _counted(facts, tuple(range(len(facts.items))))
    steps.append(Step(f"Count each in {unit}: {counts}.", (), counts))
    letters = " ".join(ascii_lowercase[at] for at in order)
    steps.append(Step(f"Write the {ends} first: {_answer(facts, order)[1]}.", (), letters))
    steps.append(Step(f"Check: does each one last {'longer' if facts.shortest_first else 'less'} than the one before?"))
    return tuple(steps)


def _pose(facts: OrderByLength, wording: Wording) -> Posed:
    options = []
    for letter, one in zip(ascii_lowercase, facts.items, strict=False):
        score = value_row(Value(rhythm=(WrittenValue(one.value, one.dots, one.rest),)))
        kind = "A rest" if one.rest else "A note"
        options.append(
            Option(letter, score=document_of(score), alt=wording.say(f"{kind}: {shape(one.duration, rest=one.rest)}."))
        )
    ends = "shortest to the longest" if facts.shortest_first else "longest to the shortest"
    rests = sum(one.rest for one in facts.items)
    what = "rests" if rests == len(facts.items) else "notes and rests" if rests else "notes"
    return Posed((TextBlock(f"Put these {what} in order, from the {ends}."),), OrderForm(tuple(options)))


def _difficulty(facts: OrderByLength) -> float:
    """More items, rests, and dots between neighbouring values are harder (common practice)."""
    rests, dots = sum(one.rest for one in facts.items), sum(one.dots for one in facts.items)
    return -1.7 + 0.2 * (len(facts.items) - 4) + 0.15 * rests + 0.3 * dots


KIND = Kind(
    id="order-by-length",
    topic="values",
    since=1,
    title="Long and short",
    facts=OrderByLength,
    forms={"written": "order", "on-screen": "order"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"order-by-length/{'dotted' if any(one.dots for one in facts.items) else 'plain'}",
    pool=lambda scope: None,
    seconds=25,
    marking=Marking("per-item"),
    marks=2,
)
