"""Beams as one group number for each event of a bar."""

from __future__ import annotations

from collections.abc import Sequence

Groups = tuple[int | None, ...]
"""One beam group number for each event (from 0, in order); None where there is no beam."""


def numbered(beams: Sequence[Sequence[int]], size: int) -> Groups:
    """Group numbers in reading order from lists of event places; a beam of one note is none.

    >>> numbered([[2, 3], [0, 1], [4]], 5)
    (0, 0, 1, 1, None)
    """
    groups: list[int | None] = [None] * size
    for number, beam in enumerate(sorted(list(beam) for beam in beams if len(beam) > 1)):
        for index in beam:
            groups[index] = number
    return tuple(groups)
