"""The blueprint of a paper: which families of questions, how many of each, worth what. No chance in it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from stavewright.papers.expected import Chances
from stavewright.papers.offer import Offer

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
    "composing": "Composing",
}


@dataclass(frozen=True, slots=True)
class Slot:
    """A printed question: one family in one edition's form, so many items (parts when more than one), marks an item.

    `instead` are families of the topic with the same marks an item, which may take over when a pack runs out.
    """

    topic: str
    kind: str
    edition: str
    items: int
    marks: int
    expected: Chances
    instead: tuple[Offer, ...] = ()

    @property
    def total(self) -> int:
        """The marks of all items."""
        return self.items * self.marks


@dataclass(frozen=True, slots=True)
class ExtractSlot:
    """A printed question on one extract: parts in order, each a slot of one item."""

    parts: tuple[Slot, ...]

    @property
    def total(self) -> int:
        """The marks of all parts."""
        return sum(part.total for part in self.parts)


@dataclass(frozen=True, slots=True)
class Blueprint:
    """All printed questions of one paper in print order, and the mark that papers of this plan are to predict.

    `edition` is what the paper is called after; each slot says whose form it uses. `name` tells a paper of a part of
    the topics from the whole one and from other parts.
    """

    grade: int
    edition: str
    minutes: int
    slots: tuple[Slot | ExtractSlot, ...]
    aim: Chances
    name: str = ""

    @property
    def total(self) -> int:
        """The marks of the whole paper."""
        return sum(slot.total for slot in self.slots)

    def families(self) -> Iterator[Slot]:
        """Every slot, those on an extract too."""
        for slot in self.slots:
            yield from slot.parts if isinstance(slot, ExtractSlot) else (slot,)


def slot_of(offer: Offer, items: int, offered: Sequence[Offer] = ()) -> Slot:
    """A slot for so many items of an offered family, and which of the others may stand in for it."""
    instead = tuple(
        one
        for one in offered
        if (one.topic, one.marks, one.extract) == (offer.topic, offer.marks, offer.extract) and one.kind != offer.kind
    )
    return Slot(offer.topic, offer.kind, offer.edition, items, offer.marks, offer.expected, instead)


def predicted(slots: Iterable[Slot]) -> Chances:
    """The mark that average questions of these families predict at each ability.

    >>> predicted([Slot("notes", "name-the-note", "written", 2, 3, (0.25, 0.5, 0.75))])
    (1.5, 3.0, 4.5)
    """
    low = middle = high = 0.0
    for slot in slots:
        low, middle, high = (
            now + slot.total * p for now, p in zip((low, middle, high), slot.expected, strict=True)
        )
    return low, middle, high


def spread(beside: Sequence[Slot], reading: Sequence[Slot]) -> list[ExtractSlot]:
    """Spread the parts over as few extracts as hold them, the first one with the parts beside reading."""
    parts = len(beside) + len(reading)
    if not parts:
        return []
    count = -(-parts // MOST_PARTS)
    if count > 1:
        reading = _mixed(reading)
    first = max(FEWEST_PARTS, -(-parts // count)) - len(beside)
    groups = [[*beside, *reading[:first]]]
    rest = list(reading[first:])
    for index in range(1, count):
        share = -(-len(rest) // (count - index))
        groups.append(rest[:share])
        rest = rest[share:]
    return [ExtractSlot(tuple(group)) for group in groups if group]


def _mixed(reading: Sequence[Slot]) -> list[Slot]:
    """The parts with equal families far apart, so that no extract is asked the same thing again and again."""
    seen: Counter[str] = Counter()
    turns: list[tuple[int, Slot]] = []
    for part in reading:
        turns.append((seen[part.kind], part))
        seen[part.kind] += 1
    return [part for _, part in sorted(turns, key=lambda row: row[0])]
