"""Blueprints for a purpose: some topics or kinds only, so many minutes, weighted by what a report shows to be weak."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from difflib import get_close_matches

from stavewright.papers.blueprint import TITLES, Blueprint, ExtractSlot, Slot, fill, spread, usable_recipes
from stavewright.papers.errors import CannotSet
from stavewright.questions.catalogue import kind as kind_of
from stavewright.syllabus.edition import Recipe, edition

USUAL_MARKS = 30
"""The length of a focus paper when no minutes are named."""
MOST_ITEMS = 10


def focus(
    grade: int,
    edition_id: str,
    *,
    topics: Sequence[str] = (),
    kinds: Sequence[str] = (),
    minutes: int | None = None,
    lost: Mapping[str, int] | None = None,
) -> Blueprint:
    """A blueprint of just these topics or kinds, as long as `minutes` at the edition's own pace (else 30 marks).

    `lost` are the marks a report shows to be lost by topic: topics get marks in that proportion, and those that lost
    nothing are left out. Without it they share as the edition shares.

    Raises:
        CannotSet: an unknown topic or kind (near ones are named), or one that the grade or edition does not ask.
    """
    chosen = edition(edition_id, grade)
    usable = usable_recipes(grade, edition_id)
    if kinds:
        usable = {name: usable.get(name) or _own_recipe(name, grade, edition_id) for name in kinds}
    if topics:
        _known(topics, sorted(chosen.marks))
        usable = {name: one for name, one in usable.items() if one.topic in topics}
    weights = {topic: marks for topic, marks in chosen.marks.items() if topic in {one.topic for one in usable.values()}}
    if lost is not None:
        weights = {topic: lost.get(topic, 0) for topic in weights if lost.get(topic, 0)}
    if not weights:
        raise CannotSet(f"grade {grade}, {edition_id}: nothing to set; those topics and kinds leave no question")
    total = USUAL_MARKS if minutes is None else max(len(weights), round(100 * minutes / chosen.minutes))
    slots: list[Slot | ExtractSlot] = []
    for topic, marks in share(total, weights).items():
        found = _fill_nearly(topic, marks, usable, edition_id)
        extract = [one for one in found if usable[one.kind].extract]
        slots += [one for one in found if one not in extract]
        slots += spread([], [replace(one, items=1) for one in extract for _ in range(one.items)])
    made = Blueprint(grade, edition_id, chosen.minutes, tuple(slots))
    return replace(made, minutes=minutes or max(1, round(chosen.minutes * made.total / 100)))


def _fill_nearly(topic: str, marks: int, usable: Mapping[str, Recipe], edition_id: str) -> list[Slot]:
    """As many of the marks as the recipes make up: two-mark questions alone cannot fill an odd number."""
    for fewer in range(marks, 0, -1):
        try:
            return fill(topic, fewer, usable, edition_id)
        except CannotSet:
            continue
    least = min(one.marks[edition_id] for one in usable.values() if one.topic == topic)
    return fill(topic, least, usable, edition_id)


def share(total: int, weights: Mapping[str, int]) -> dict[str, int]:
    """Share whole marks out in proportion, the largest remainders rounded up (the method of largest remainders).

    >>> share(10, {"notes": 1, "keys": 2})
    {'notes': 3, 'keys': 7}
    """
    whole = sum(weights.values())
    exact = {name: total * weight / whole for name, weight in weights.items()}
    found = {name: int(value) for name, value in exact.items()}
    for name in sorted(exact, key=lambda n: found[n] - exact[n])[: total - sum(found.values())]:
        found[name] += 1
    return {name: marks for name, marks in found.items() if marks}


def _own_recipe(name: str, grade: int, edition_id: str) -> Recipe:
    """A recipe for a kind that papers do not set by themselves."""
    kind = kind_of(name)
    if grade < kind.since or edition_id not in kind.forms:
        raise CannotSet(f"{name} is asked from grade {kind.since} in {', '.join(kind.forms)}")
    marks = dict.fromkeys(kind.forms, kind.marks)
    return Recipe(kind.topic, name, marks, (1, MOST_ITEMS), 1, extract=kind.extract)


def _known(topics: Sequence[str], known: Sequence[str]) -> None:
    for topic in topics:
        if topic not in known:
            near = get_close_matches(topic, [*known, *TITLES], 1)
            hint = f"did you mean {near[0]}? " if near else ""
            raise CannotSet(f"no topic {topic!r} here: {hint}the topics are {', '.join(known)}")
