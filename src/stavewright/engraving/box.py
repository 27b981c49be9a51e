"""Rectangles in a picture's units."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Box:
    """A rectangle in the picture's units, y downwards: a bar of one system, a stave, or how far ink reaches."""

    left: float
    top: float
    right: float
    bottom: float


def joined(one: Box, other: Box) -> Box:
    """The smallest rectangle that holds both.

    >>> joined(Box(0, 0, 2, 2), Box(1, -1, 3, 1))
    Box(left=0, top=-1, right=3, bottom=2)
    """
    return Box(
        min(one.left, other.left), min(one.top, other.top), max(one.right, other.right), max(one.bottom, other.bottom)
    )
