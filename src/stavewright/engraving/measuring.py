"""How wide and how tall things will be on the page, near enough to lay them out."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from msgspec.structs import replace

from stavewright.engraving.layout import Beside, Item, Lines, Options, Pairs, Part, Shown
from stavewright.engraving.text_width import advance

_LINE: Final = 62.0
_DOT: Final = 13.0
_BETWEEN: Final = 34.0
"""Room for the letter and the dot of a thing to join, and for the lines between the two sides, in mm."""
_PAIR_LINES: Final = 1.5
_PENCIL: Final = 2.0
"""How wide an em of a pupil's writing is, in widths of a letter."""


def width_of(item: Item, char: float) -> float:
    """How wide an item wants to be at least, in mm."""
    if isinstance(item, Shown):
        return item.width
    if isinstance(item, Options):
        widest = max((len(one.text) for one in item.options), default=0)
        pictures = max((one.picture.width for one in item.options if one.picture), default=0.0)
        return max(13 * char / 1.95 + widest * char, pictures + 7.2 * char)
    if isinstance(item, Lines):
        written = max((_PENCIL * advance(one) * char for one in item.written), default=0.0)
        return max(min(item.width or _LINE, _LINE), written) + _around(item, char)
    if isinstance(item, Pairs):
        widest = max((len(one.text) for one in (*item.left, *item.right)), default=0)
        return 2 * (widest * char + _DOT * char / 1.95) + _BETWEEN
    return 60.0


def narrowed(item: Item, width: float, char: float) -> Item:
    """Things to pick from in as few columns as a narrow place holds, and lines to write on that end inside it."""
    if isinstance(item, Options):
        return replace(item, columns=max(1, min(item.columns, int(width // width_of(item, char)))))
    if isinstance(item, Lines) and item.count == 1:
        room = width - _around(item, char)
        return replace(item, width=min(item.width or room, room))
    return item


def _around(item: Lines, char: float) -> float:
    words = item.lead + item.tail
    return len(words) * char + 2 if words else 0.0


def height_of(items: Sequence[Item], char: float) -> float:
    """About how tall items are on the page, in mm."""
    line = 2.9 * char
    total = 0.0
    for item in items:
        if isinstance(item, Shown):
            total += item.height + 4
        elif isinstance(item, Options):
            rows = -(-len(item.options) // item.columns)
            tallest = max((one.picture.height + 4 for one in item.options if one.picture), default=0.0)
            total += rows * (line + tallest)
        elif isinstance(item, Pairs):
            total += _PAIR_LINES * line * max(len(item.left), len(item.right))
        elif isinstance(item, Beside):
            total += max(height_of(item.left, char), height_of(item.right, char))
        else:
            total += line * (1 + len(getattr(item, "steps", ())) + len(getattr(item, "rows", ())))
    return total


def level_row(parts: Sequence[Part], columns: int) -> list[Part]:
    """Pictures side by side: room above the shorter ones, so that all rows of lines to write on are level."""
    out: list[Part] = []
    for start in range(0, len(parts), columns):
        row = parts[start : start + columns]
        shown = [item for part in row for item in part.items if isinstance(item, Shown)]
        above = max((item.above for item in shown), default=0.0)
        below = max((item.height - item.above for item in shown), default=0.0)
        for part in row:
            items = [
                replace(item, drop=above - item.above, sink=below - item.height + item.above)
                if isinstance(item, Shown)
                else item
                for item in part.items
            ]
            out.append(Part(part.letter, part.marks, tuple(items), part.keep))
    return out
