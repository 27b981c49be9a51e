"""Menus: the ways to make up a topic's marks from a few families of questions."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from itertools import islice

from stavewright.papers.errors import CannotSet
from stavewright.papers.offer import Offer

Menu = tuple[tuple[Offer, int], ...]
"""Families with the number of items of each."""
MOST_LOOKED_AT = 32
"""So many menus are weighed against each other; more would cost time and change little."""
STEPS = 500


def anything(menu: Menu) -> bool:
    """Any menu will do."""
    return True


def menus(
    topic: str,
    marks: int,
    offered: Sequence[Offer],
    fits: Callable[[Menu], bool] = anything,
    families: int = 0,
    wish: Mapping[Offer, float] | None = None,
) -> list[Menu]:
    """Ways to make up `marks` exactly, families that stand first preferred, with at most so many families.

    `wish` is how many marks each family would like: the number of items nearest to it is tried first.

    Where few families cannot do it more are taken, then more or fewer items of one than its recipe says.

    Raises:
        CannotSet: no way at all; the message says what there was.
    """
    least = families or most_families(marks)
    for loose in (False, True):
        for most in range(least, max(least, len(offered)) + 1):
            found = list(islice(filter(fits, _ways(offered, marks, most, loose, wish or {})), MOST_LOOKED_AT))
            if found:
                return found
    names = ", ".join(f"{one.kind} ({one.marks})" for one in offered)
    raise CannotSet(f"{topic}: {marks} marks cannot be made up from {names or 'no kinds at all'}")


def most_families(marks: int) -> int:
    """How many printed questions a topic of so many marks has at most: about two for five marks, seven in all.

    >>> [most_families(marks) for marks in (2, 5, 8, 10, 18)]
    [2, 3, 4, 5, 7]
    """
    return max(1, min(7, (2 * marks + 6) // 5))


def _ways(
    offered: Sequence[Offer], marks: int, most: int, loose: bool, wish: Mapping[Offer, float]
) -> Iterator[Menu]:
    """Menus depth first: each family in turn is taken, with the number of items it would like first, or passed over."""
    counts = [_items(one, loose, wish.get(one)) for one in offered]
    room = [0] * (len(offered) + 1)
    for index in range(len(offered) - 1, -1, -1):
        room[index] = room[index + 1] + max(counts[index]) * offered[index].marks
    left_steps = STEPS

    def search(index: int, left: int, chosen: Menu) -> Iterator[Menu]:
        nonlocal left_steps
        left_steps -= 1
        if left == 0:
            yield chosen
            return
        if index == len(offered) or len(chosen) == most or room[index] < left or left_steps < 0:
            return
        one = offered[index]
        if not any(taken.kind == one.kind for taken, _ in chosen):
            for items in counts[index]:
                if items * one.marks <= left:
                    yield from search(index + 1, left - items * one.marks, (*chosen, (one, items)))
        yield from search(index + 1, left, chosen)

    return search(0, marks, ())


def _items(one: Offer, loose: bool, wish: float | None) -> list[int]:
    fewest, most = (1, 3 * one.items[1]) if loose else one.items
    liked = (one.items[0] + one.items[1]) / 2 if wish is None else wish / one.marks
    return sorted(range(fewest, most + 1), key=lambda items: abs(items - liked))
