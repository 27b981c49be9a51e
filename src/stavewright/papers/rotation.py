"""The blueprints of a series: families of questions take turns, while marks by topic and the predicted mark stay."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache

from stavewright.papers.blueprint import (
    FEWEST_PARTS,
    MOST_PARTS,
    Blueprint,
    ExtractSlot,
    Slot,
    predicted,
    slot_of,
    spread,
)
from stavewright.papers.errors import CannotSet
from stavewright.papers.expected import Chances, target
from stavewright.papers.menu import Menu, anything, menus, most_families
from stavewright.papers.offer import Offer, offers
from stavewright.questions.catalogue import kind as kind_of
from stavewright.syllabus.edition import Edition, edition, extract_parts, moves

ROUND = 30
"""After so many papers the same blueprints come again."""
DRIFT_COST = 3.0
"""What a mark of drift in the prediction costs, squared, against turns taken unfairly (chosen by trying)."""
SWAPS = 6
_Weighed = tuple[float, Chances, Menu]


@dataclass(slots=True)
class Rotation:
    """All blueprints of one edition at one grade: paper n of a series takes blueprint n, and after ROUND papers again.

    Each family is to get marks in proportion to its share of the topic; those that are furthest behind are taken first.
    Of the menus that do this nearly equally well, those are taken whose predicted marks together meet `aim`.
    """

    edition: Edition
    offered: tuple[Offer, ...] = ()
    marks: dict[str, int] = field(default_factory=dict)
    aim: Chances = (0.0, 0.0, 0.0)
    given: Counter[tuple[str, str]] = field(default_factory=Counter)
    asked: Counter[str] = field(default_factory=Counter)
    made: list[Blueprint] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.offered = offers(self.edition.grade, self.edition)
        self.marks = self._moved()
        self.aim = self._mean()

    def blueprint(self, seed: int) -> Blueprint:
        """The blueprint of the paper with that seed.

        Raises:
            CannotSet: the marks of a topic cannot be made up from its kinds.
        """
        while len(self.made) <= seed % ROUND:
            self.made.append(self._next())
        return self.made[seed % ROUND]

    def _of(self, topic: str) -> list[Offer]:
        return [one for one in self.offered if one.topic == topic]

    def _moved(self) -> dict[str, int]:
        """Marks by topic; those of a topic that no kinds make up go where the edition says."""
        found = dict(self.edition.marks)
        for topic, value in self.edition.marks.items():
            try:
                menus(topic, value, self._of(topic), families=value)
            except CannotSet:
                targets = [to for to in moves(topic, self.edition.grade) if to in found]
                if not targets:
                    raise
                del found[topic]
                for index, to in enumerate(targets):
                    found[to] += value // len(targets) + (index < value % len(targets))
        return found

    def _mean(self) -> Chances:
        """What papers predict on average if every family gets its share."""
        low = middle = high = 0.0
        beside = [self._beside(number) for number in range(ROUND)]
        for topic, marks in self.marks.items():
            parts = [part for parts in beside for part in parts if part.topic == topic]
            left = marks - sum(part.marks for part in parts) / ROUND
            rows = [(left * share, one.expected) for one, share in _shares(self._of(topic))]
            rows += [(part.marks / ROUND, part.expected) for part in parts]
            low += sum(weight * row[0] for weight, row in rows)
            middle += sum(weight * row[1] for weight, row in rows)
            high += sum(weight * row[2] for weight, row in rows)
        return low, middle, high

    def _beside(self, number: int) -> list[Slot]:
        """The parts an extract has beside reading: the first always, then one or two of the others by turns."""
        grade, found = self.edition.grade, []
        left = Counter(self.marks)
        for part in extract_parts():
            kind = kind_of(part.kind)
            forms = self.edition.forms_of(part.kind, part.topic, tuple(kind.forms))
            if forms and kind.since <= grade <= part.until and left[part.topic] > part.marks:
                name = forms[number % len(forms)]
                found.append(Slot(part.topic, part.kind, name, 1, part.marks, target(kind, grade, name)))
        first, others = found[:1], found[1:]
        taken = {(number + step) % len(others) for step in range(1 + number % 2)} if others else set()
        return [*first, *(part for index, part in enumerate(others) if index in taken)]

    def _next(self) -> Blueprint:
        beside = self._beside(len(self.made)) if "reading" in self.marks else []
        left = Counter(self.marks)
        for part in beside:
            left[part.topic] -= part.marks
        weighed = {topic: self._weighed(topic, marks, len(beside)) for topic, marks in left.items()}
        chosen = self._balanced(weighed, beside)
        for topic, menu in chosen.items():
            self.asked[topic] += left[topic]
            for one, items in menu:
                self.given[one.kind, one.edition] += items * one.marks
        return self._in_order(chosen, beside)

    def _weighed(self, topic: str, marks: int, beside: int) -> list[_Weighed]:
        """Menus of a topic with their unfairness and the mark each predicts, fairest first."""
        shares = _shares(self._of(topic))
        behind = {
            one: (self.asked[topic] + marks) * share - self.given[one.kind, one.edition] for one, share in shares
        }
        ranked = sorted(behind, key=lambda one: -behind[one])
        part_of = dict(shares)
        found: list[_Weighed] = []
        for menu in self._menus(topic, marks, ranked, beside, behind):
            cost = 0.0
            low = middle = high = 0.0
            for one, items in menu:
                got, want = items * one.marks, behind[one]
                cost += ((want - got) ** 2 - want**2) / (part_of[one] * len(shares))
                low += got * one.expected[0]
                middle += got * one.expected[1]
                high += got * one.expected[2]
            found.append((cost, (low, middle, high), menu))
        return sorted(found, key=lambda row: row[0])

    def _menus(
        self, topic: str, marks: int, ranked: Sequence[Offer], beside: int, behind: Mapping[Offer, float]
    ) -> list[Menu]:
        if topic != "reading":
            return menus(topic, marks, ranked, wish=behind)

        def parts(menu: Menu) -> int:
            return beside + sum(items for one, items in menu if one.extract)

        few = most_families(marks) + 1
        for fits in (lambda menu: FEWEST_PARTS <= parts(menu) <= MOST_PARTS, lambda menu: parts(menu) <= MOST_PARTS):
            try:
                return menus(topic, marks, ranked, fits, few, behind)
            except CannotSet:
                continue
        return menus(topic, marks, ranked, anything, few, behind)

    def _balanced(self, weighed: dict[str, list[_Weighed]], beside: Sequence[Slot]) -> dict[str, Menu]:
        """One menu a topic: the fairest, then swaps while they bring the prediction nearer to the aim cheaply."""
        now = {topic: rows[0] for topic, rows in weighed.items()}
        drift = tuple(got - want for got, want in zip(predicted(beside), self.aim, strict=True))
        drift = _sum(drift, *(row[1] for row in now.values()))
        for _ in range(SWAPS):
            best, gain = None, -1e-9
            here = _size(drift)
            for topic, rows in weighed.items():
                cost, marks, _ = now[topic]
                for row in rows:
                    there = _size(tuple(d - old + new for d, old, new in zip(drift, marks, row[1], strict=True)))
                    change = row[0] - cost + DRIFT_COST * (there - here)
                    if change < gain:
                        best, gain = (topic, row), change
            if best is None:
                break
            topic, row = best
            drift = tuple(d - old + new for d, old, new in zip(drift, now[topic][1], row[1], strict=True))
            now[topic] = row
        return {topic: row[2] for topic, row in now.items()}

    def _in_order(self, chosen: dict[str, Menu], beside: Sequence[Slot]) -> Blueprint:
        """The printed questions: topic after topic as the recipes stand, the extract in the middle of the paper."""
        place = {(one.kind, one.edition): index for index, one in enumerate(self.offered)}
        rows: dict[str, list[Slot | ExtractSlot]] = {}
        on_extract: list[Slot] = []
        for topic, menu in chosen.items():
            ordered = sorted(menu, key=lambda pair: place[pair[0].kind, pair[0].edition])
            offered = self._of(topic)
            rows[topic] = [slot_of(one, items, offered) for one, items in ordered if not one.extract]
            on_extract += [slot_of(one, 1, offered) for one, items in ordered if one.extract for _ in range(items)]
        extracts: list[Slot | ExtractSlot] = [*spread(beside, on_extract)]
        reading = rows.pop("reading", [])
        topics = list(rows.values())
        middle = len(topics) // 2
        parts = [*topics[:middle], extracts[:1], reading, *topics[middle:], extracts[1:]]
        slots = tuple(slot for part in parts for slot in part)
        return Blueprint(self.edition.grade, self.edition.id, self.edition.minutes, slots, self.aim)


def _shares(offered: Sequence[Offer]) -> list[tuple[Offer, float]]:
    whole = sum(one.share for one in offered)
    return [(one, one.share / whole) for one in offered]


def _sum(*rows: tuple[float, ...]) -> tuple[float, ...]:
    return tuple(map(sum, zip(*rows, strict=True)))


def _size(drift: Sequence[float]) -> float:
    return drift[0] ** 2 / 4 + drift[1] ** 2 + drift[2] ** 2 / 4


@lru_cache(maxsize=32)
def rotation(edition_id: str, grade: int) -> Rotation:
    """The blueprints of an edition (or of a mix of editions) that the program knows.

    Raises:
        UnknownEdition: no such edition.
        CannotSet: the marks of a topic cannot be made up from its kinds.
    """
    return Rotation(edition(edition_id, grade))


def blueprint(grade: int, edition_id: str, seed: int = 1) -> Blueprint:
    """The blueprint of the paper with that seed.

    Raises:
        UnknownEdition, CannotSet: as `rotation`.

    >>> blueprint(1, "written").total
    100
    """
    return rotation(edition_id, grade).blueprint(seed)
