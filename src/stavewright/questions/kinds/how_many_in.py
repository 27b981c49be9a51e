"""How many of one value last as long as another."""

from __future__ import annotations

from random import Random
from typing import Annotated

from msgspec import Meta

from stavewright.questions.documents import Answer, NumberForm, Slip, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.setting.picking import pick
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.questions.written import ValueName
from stavewright.syllabus.scope import Scope
from stavewright.theory.duration import VALUES, Duration

_MOST = 32
_DOTTED_SHARE = 0.4


class HowManyIn(Facts, frozen=True, forbid_unknown_fields=True):
    """Two values: how many of `part` last as long as one `whole`?

    Raises:
        BadDocument: the whole is no exact number of parts, two or more.
    """

    part: ValueName
    whole: ValueName
    part_dots: Annotated[int, Meta(ge=0, le=2)] = 0
    whole_dots: Annotated[int, Meta(ge=0, le=2)] = 0

    def __post_init__(self) -> None:
        part, whole = Duration(self.part, self.part_dots), Duration(self.whole, self.whole_dots)
        if whole.ticks % part.ticks or whole.ticks < 2 * part.ticks:
            raise BadDocument(f"a {whole.text} is not an exact number of {part.name(plural=True)}: choose other values")


def _pairs(scope: Scope) -> list[tuple[str, int, str, int]]:
    """Part, its dots, whole and its dots, for every count that comes out even within the scope."""
    values = [value for value in VALUES if value in scope.values]
    found: list[tuple[str, int, str, int]] = []
    for i, whole in enumerate(values):
        for dots in (0, 1) if scope.dotted_counts and whole != "breve" else (0,):
            length = Duration(whole, dots).ticks
            for part in values[i + 1 :]:
                count, rest = divmod(length, Duration(part).ticks)
                if not rest and count <= _MOST:
                    found.append((part, 0, whole, dots))
    return found


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    pairs = _pairs(scope)
    fresh = scope.fresh.get("values", ())
    dotted = [pair for pair in pairs if pair[3]]
    if dotted and rng.random() < _DOTTED_SHARE:
        pairs = dotted
    part, part_dots, whole, dots = pick(rng, pairs, [pair for pair in pairs if {pair[0], pair[2]} & set(fresh)])
    halvings = VALUES.index(part) - VALUES.index(whole)
    count = 2**halvings + (2 ** (halvings - 1) if dots else 0)
    return Draft(HowManyIn(part, whole, part_dots, dots), Value(number=count))


def _part(facts: HowManyIn) -> Duration:
    return Duration(facts.part, facts.part_dots)


def _whole(facts: HowManyIn) -> Duration:
    return Duration(facts.whole, facts.whole_dots)


def _pose(facts: HowManyIn, wording: Wording) -> Posed:
    parts = _part(facts).name(plural=True)
    ask = wording.say(f"How many {parts} last as long as one {_whole(facts).text}?")
    return Posed((TextBlock(ask),), None if wording.choosing else NumberForm(wording.say(parts)))


def _solve(facts: HowManyIn) -> tuple[Answer, ...]:
    part, whole = _part(facts), _whole(facts)
    count = whole.ticks // part.ticks
    reason = f"{count} {part.name(plural=True)} fill the time of one {whole.text}."
    return (answer(Value(number=count), str(count), reason),)


def _slips(facts: HowManyIn) -> tuple[Slip, ...]:
    found: list[Slip] = []

    def add(name: str, count: int, remedy: str) -> None:
        if count > 0:
            found.append(slip(name, Value(number=count), str(count), remedy))

    part, whole = _part(facts), _whole(facts)
    count = whole.ticks // part.ticks
    halvings = VALUES.index(facts.part) - VALUES.index(facts.whole)
    if facts.whole_dots or facts.part_dots:
        add("dot ignored", _bare(facts), "A dot adds half as much again.")
    if facts.whole_dots:
        add("dot taken as one more", _bare(facts) + 1, "A dot adds half of the note it follows, not one note.")
        add("dot doubled the note", 2 * _bare(facts), "A dot adds half, not the whole note again.")
    add("counted the steps", halvings, "Each step to the next value doubles the number.")
    add("added two for each step", 2 * halvings, "Each step doubles: two, four, eight.")
    add("one step too few", count // 2, "Say every value on the way from the long one to the short one.")
    add("one step too many", 2 * count, "Say every value on the way from the long one to the short one.")
    return tuple(found)


def _bare(facts: HowManyIn) -> int:
    return Duration(facts.whole).ticks // Duration(facts.part).ticks


def _neighbours(facts: HowManyIn) -> tuple[Value, ...]:
    count = _whole(facts).ticks // _part(facts).ticks
    return tuple(Value(number=number) for number in (count + 1, count + 2, count - 1) if number > 1)


def _chain(whole: str, part: str) -> str:
    """Say every value on the way: 1 minim = 2 crotchets = 4 quavers."""
    start, end = VALUES.index(whole), VALUES.index(part)
    return " = ".join(
        f"{2**away} {Duration(value).name(plural=away > 0)}" for away, value in enumerate(VALUES[start : end + 1])
    )


def _work(facts: HowManyIn, method: str) -> tuple[Step, ...]:
    part, whole = _part(facts), _whole(facts)
    count = whole.ticks // part.ticks
    steps = []
    if facts.part_dots and facts.part_dots == facts.whole_dots:
        steps.append(Step("Both values have the same dots, so count as if there were none."))
        steps.append(Step(f"{_chain(facts.whole, facts.part)}.", (), str(count)))
    elif facts.part_dots:
        shortest = Duration(VALUES[max(_last(facts.part, facts.part_dots), _last(facts.whole, facts.whole_dots))])
        names = shortest.name(plural=True)
        big, small = whole.ticks // shortest.ticks, part.ticks // shortest.ticks
        steps.append(Step(f"Count both in {names}: {big} and {small}.", (), f"{big} : {small}"))
        steps.append(Step(f"{big} divided by {small} is {count}.", (), str(count)))
    else:
        steps.append(Step(f"{_chain(facts.whole, facts.part)}.", (), str(_bare(facts))))
        if facts.whole_dots:
            added = count - _bare(facts)
            dot = "The dot adds half of that" if facts.whole_dots == 1 else "The dots add a half and a quarter of that"
            steps.append(Step(f"{dot}: {added} more, {count} in all.", (), f"{_bare(facts)} + {added}"))
    steps.append(Step(f"Check: play or tap {count} {part.name(plural=True)} while you count one {whole.text}."))
    return tuple(steps)


def _last(value: str, dots: int) -> int:
    """The place among the values of what the last dot stands for."""
    return min(VALUES.index(value) + dots, len(VALUES) - 1)


def _difficulty(facts: HowManyIn) -> float:
    """Each halving makes the count longer; dots break the doubling (common practice)."""
    halvings = VALUES.index(facts.part) - VALUES.index(facts.whole)
    return -2.0 + 0.4 * halvings + 0.7 * (facts.whole_dots + facts.part_dots)


KIND = Kind(
    id="how-many-in",
    topic="values",
    since=1,
    title="How many in",
    facts=HowManyIn,
    forms={"written": "number", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"how-many-in/{facts.part} in {'dotted ' if facts.whole_dots else ''}{facts.whole}",
    pool=lambda scope: len(_pairs(scope)),
    seconds=15,
    marking=Marking("all-or-nothing"),
    neighbours=_neighbours,
    asks=lambda facts: frozenset({f"ratio:{facts.part}:{facts.whole}"}),
)
