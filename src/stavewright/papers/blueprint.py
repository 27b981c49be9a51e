"""The blueprint of a paper: which families of questions, how many of each, worth what. No chance in it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from stavewright.papers.errors import CannotSet
from stavewright.questions.catalogue import kinds
from stavewright.syllabus.edition import Recipe, edition, extract_parts, moves, recipes, retired

MOST_PARTS = 8
FEWEST_PARTS = 5
TITLES = {
    "notes": "Notes",
    "values": "Note values and rests",
    "metre": "Time and metre",
    "keys": "Keys and key signatures",
    "scales": "Scales",
    "intervals": "Intervals",
    "chords": "Chords and cadences",
    "transposition": "Transposition",
    "terms": "Terms and signs",
    "instruments": "Instruments",
    "reading": "Reading music",
}


@dataclass(frozen=True, slots=True)
class Slot:
    """A printed question: one family, so many items (parts when more than one), marks an item."""

    topic: str
    kind: str
    items: int
    marks: int


@dataclass(frozen=True, slots=True)
class ExtractSlot:
    """A printed question on one extract: parts in order, each a slot of one item."""

    parts: tuple[Slot, ...]


@dataclass(frozen=True, slots=True)
class Blueprint:
    """All printed questions of a paper in print order; the same for every paper of that grade and edition."""

    grade: int
    edition: str
    minutes: int
    slots: tuple[Slot | ExtractSlot, ...]

    @property
    def total(self) -> int:
        """The marks of the whole paper.

        >>> blueprint(1, "written").total
        100
        """
        return sum(
            sum(part.marks for part in slot.parts) if isinstance(slot, ExtractSlot) else slot.items * slot.marks
            for slot in self.slots
        )


@lru_cache(maxsize=16)
def blueprint(grade: int, edition_id: str) -> Blueprint:
    """The blueprint of a grade and edition.

    Raises:
        UnknownEdition: no such edition.
        CannotSet: the marks of a topic cannot be made up from its recipes.
    """
    chosen = edition(edition_id, grade)
    usable = usable_recipes(grade, edition_id)
    budget = _budget(chosen.marks, {one.topic for one in usable.values()}, grade)
    beside = [
        Slot(part.topic, part.kind, 1, part.marks)
        for part in extract_parts()
        if part.kind in usable and grade <= part.until and budget.get(part.topic, 0) >= part.marks
    ]
    for part in beside:
        budget[part.topic] -= part.marks
    reading = fill("reading", budget.pop("reading", 0), usable, edition_id)
    extracts: list[Slot | ExtractSlot] = [
        *spread(beside, [replace(one, items=1) for one in reading for _ in range(one.items)])
    ]
    topics: list[list[Slot | ExtractSlot]] = [
        [*fill(topic, marks, usable, edition_id)] for topic, marks in budget.items()
    ]
    middle = len(topics) // 2
    ordered = [*topics[:middle], extracts[:1], *topics[middle:], extracts[1:]]
    return Blueprint(grade, edition_id, chosen.minutes, tuple(slot for part in ordered for slot in part))


def usable_recipes(grade: int, edition_id: str) -> dict[str, Recipe]:
    """The recipes whose kinds the grade and edition ask, by kind."""
    known = kinds()
    return {
        one.kind: one
        for one in recipes()
        if one.kind not in retired(edition_id)
        and one.kind in known
        and known[one.kind].since <= grade <= one.until
        and edition_id in known[one.kind].forms
    }


def _budget(marks: Mapping[str, int], topics: set[str], grade: int) -> dict[str, int]:
    budget = {topic: value for topic, value in marks.items() if topic in topics}
    for topic, value in marks.items():
        if topic in topics:
            continue
        targets = [to for to in moves(topic, grade) if to in topics]
        if not targets:
            raise CannotSet(f"grade {grade}: no kinds to set for {topic!r}, and nowhere to move its {value} marks")
        for index, to in enumerate(targets):
            budget[to] += value // len(targets) + (index < value % len(targets))
    return budget


def fill(topic: str, marks: int, usable: Mapping[str, Recipe], edition_id: str) -> list[Slot]:
    """Share a topic's marks out among its recipes: each its fewest items first, then by share."""
    found = [one for one in usable.values() if one.topic == topic]
    items = dict.fromkeys((one.kind for one in found), 0)
    left = marks
    for one in sorted(found, key=lambda r: -r.share):
        cost = one.items[0] * one.marks[edition_id]
        if cost <= left:
            items[one.kind] = one.items[0]
            left -= cost
    while left:
        open_ = [one for one in found if one.marks[edition_id] <= left and items[one.kind] < one.items[1]]
        open_ = open_ or [one for one in found if one.marks[edition_id] <= left]
        if not open_:
            raise CannotSet(f"{topic}: {left} of {marks} marks cannot be made up from {', '.join(items)}")
        nearest = min(open_, key=lambda r: (items[r.kind] + 1) * r.marks[edition_id] / r.share)
        items[nearest.kind] += 1
        left -= nearest.marks[edition_id]
    return [Slot(topic, one.kind, items[one.kind], one.marks[edition_id]) for one in found if items[one.kind]]


def spread(beside: Sequence[Slot], reading: Sequence[Slot]) -> list[ExtractSlot]:
    """Spread the parts over as few extracts as hold them, the first one with the parts beside reading."""
    parts = len(beside) + len(reading)
    if not parts:
        return []
    count = -(-parts // MOST_PARTS)
    first = max(FEWEST_PARTS, -(-parts // count)) - len(beside)
    groups = [[*beside, *reading[:first]]]
    rest = list(reading[first:])
    for index in range(1, count):
        share = -(-len(rest) // (count - index))
        groups.append(rest[:share])
        rest = rest[share:]
    return [ExtractSlot(tuple(group)) for group in groups if group]
