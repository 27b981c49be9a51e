"""Blueprints for a purpose: some topics or kinds only, so many minutes, weighted by what a report shows to be weak."""

from __future__ import annotations

import zlib
from collections.abc import Mapping, Sequence
from dataclasses import replace
from difflib import get_close_matches

from stavewright.papers.blueprint import TITLES, Blueprint, ExtractSlot, Slot, predicted, slot_of, spread
from stavewright.papers.errors import CannotSet
from stavewright.papers.menu import Menu, menus
from stavewright.papers.offer import Offer, offers, offers_of
from stavewright.questions.catalogue import kind as kind_of
from stavewright.syllabus.edition import Edition, Recipe, edition

USUAL_MARKS = 30
"""The length of a focus paper when no minutes are named."""
MOST_ITEMS = 10
_LONGEST_NAME = 40


def focus(
    grade: int,
    edition_id: str | Edition,
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
    chosen = edition(edition_id, grade) if isinstance(edition_id, str) else edition_id
    usable = list(offers(grade, chosen))
    if kinds:
        known = {one.kind for one in usable}
        usable = [one for one in usable if one.kind in kinds]
        usable += [one for name in kinds if name not in known for one in _own_offers(name, grade, chosen)]
    if topics:
        _known(topics, sorted(chosen.marks))
        usable = [one for one in usable if one.topic in topics]
    weights = {topic: marks for topic, marks in chosen.marks.items() if topic in {one.topic for one in usable}}
    if lost is not None:
        weights = {topic: lost.get(topic, 0) for topic in weights if lost.get(topic, 0)}
    if not weights:
        raise CannotSet(f"grade {grade}, {chosen.id}: nothing to set; those topics and kinds leave no question")
    total = USUAL_MARKS if minutes is None else max(len(weights), round(chosen.total * minutes / chosen.minutes))
    slots: list[Slot | ExtractSlot] = []
    for topic, marks in share(total, weights).items():
        offered = [one for one in usable if one.topic == topic]
        menu = _nearly(topic, marks, offered)
        slots += [slot_of(one, items, offered) for one, items in menu if not one.extract]
        slots += spread([], [slot_of(one, 1, offered) for one, items in menu if one.extract for _ in range(items)])
    name = focus_name(topics, kinds, minutes, weights if lost is not None else {})
    made = Blueprint(grade, chosen.id, chosen.minutes, tuple(slots), (0.0, 0.0, 0.0), name)
    made = replace(made, aim=predicted(made.families()))
    return replace(made, minutes=minutes or max(1, round(chosen.minutes * made.total / chosen.total)))


def focus_name(topics: Sequence[str], kinds: Sequence[str], minutes: int | None, lost: Mapping[str, int]) -> str:
    """What a focus paper is called after: its topics, kinds and length; long ones by a short digest of all of it.

    >>> focus_name(("scales", "keys"), (), 20, {})
    'focus-scales-keys-20min'
    """
    weak = [f"weak-{zlib.crc32(repr(sorted(lost.items())).encode()):08x}"] if lost else []
    parts = ["focus", *topics, *kinds, *weak, *([f"{minutes}min"] if minutes else [])]
    name = "-".join(parts)
    return name if len(name) <= _LONGEST_NAME else f"focus-{zlib.crc32(name.encode()):08x}"


def _nearly(topic: str, marks: int, offered: Sequence[Offer]) -> Menu:
    """As many of the marks as the families make up: two-mark questions alone cannot fill an odd number."""
    ranked = sorted(offered, key=lambda one: -one.share)
    for fewer in range(marks, 0, -1):
        try:
            return menus(topic, fewer, ranked, families=len(ranked))[0]
        except CannotSet:
            continue
    return ((min(ranked, key=lambda one: one.marks), 1),)


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


def _own_offers(name: str, grade: int, chosen: Edition) -> list[Offer]:
    """What a kind offers that papers do not set by themselves."""
    kind = kind_of(name)
    forms = chosen.forms_of(name, kind.topic, tuple(kind.forms))
    if grade < kind.since or not forms:
        raise CannotSet(f"{name} is asked from grade {kind.since} in {', '.join(kind.forms)}")
    marks = dict.fromkeys(kind.forms, kind.marks)
    recipe = Recipe(kind.topic, name, marks, (1, MOST_ITEMS), 1, extract=kind.extract)
    return offers_of(recipe, grade, forms)


def _known(topics: Sequence[str], known: Sequence[str]) -> None:
    for topic in topics:
        if topic not in known:
            near = get_close_matches(topic, [*known, *TITLES], 1)
            hint = f"did you mean {near[0]}? " if near else ""
            raise CannotSet(f"no topic {topic!r} here: {hint}the topics are {', '.join(known)}")
