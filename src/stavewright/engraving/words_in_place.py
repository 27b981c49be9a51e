"""Words and signs over the stave, moved where verovio leaves them cut off or on top of each other."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final

from stavewright.engraving.text_width import advance
from stavewright.engraving.toolkit import SPACE

_WORDS: Final = re.compile(
    r'<g class="(tempo|dir|repeatMark|mNum)"[^>]*><text stroke="none" (?:x="(-?\d+)" )?y="(-?\d+)"(.*?)</text>',
    re.DOTALL,
)
_SIZE: Final = re.compile(r'font-size="(\d+)px"')
_PIECE: Final = re.compile(r'font-size="([1-9]\d*)px">([^<]*)<')
_SIGN: Final = re.compile(r'(<g class="(repeatMark|turn|mordent)"[^>]*><use [^>]*translate\(-?\d+, )(-?\d+)\)')
_LIFT: Final = {"repeatMark": SPACE // 2, "turn": SPACE // 4, "mordent": SPACE // 4}
_RISE: Final = 300


@dataclass(frozen=True, slots=True)
class _Line:
    kind: str
    start: int
    end: int
    x: float
    y: float
    width: float

    def over(self, other: _Line) -> bool:
        """Whether the two would print on each other (or within a hair)."""
        return self.x < other.x + other.width and other.x < self.x + self.width and abs(self.y - other.y) < 1.8 * SPACE


def settle(svg: str, right: float) -> str:
    """Keep words inside the picture and clear of bar numbers; `right` is where the picture ends inside its margin.

    Words too long for the line are moved left, then made smaller; words on a bar number are moved up.
    """
    lines = [_line(found) for found in _WORDS.finditer(svg)]
    numbers = [line for line in lines if line.kind == "mNum"]
    for line in reversed(lines):
        if line.kind == "mNum":
            continue
        lift = SPACE / 2 if line.kind == "tempo" else 0
        clear = _Line(line.kind, line.start, line.end, line.x, line.y - lift, line.width)
        while any(clear.over(number) for number in numbers):
            clear = _Line(clear.kind, clear.start, clear.end, clear.x, clear.y - _RISE, clear.width)
        x, scale = line.x, 1.0
        if x + line.width > right:
            x = max(0.0, right - line.width)
            scale = min(1.0, right / line.width)
        if (x, clear.y, scale) != (line.x, line.y, 1.0):
            svg = svg[: line.start] + _moved(svg[line.start : line.end], x, clear.y, scale) + svg[line.end :]
    return _SIGN.sub(lambda one: f"{one.group(1)}{int(one.group(3)) - _LIFT[one.group(2)]})", svg)


def _line(found: re.Match[str]) -> _Line:
    kind, x, y, inside = found.group(1), float(found.group(2) or 0), float(found.group(3)), found.group(4)
    width = sum(int(size) * advance(said) for size, said in _PIECE.findall(inside))
    if kind == "mNum":
        return _Line(kind, found.start(), found.end(), x - width / 2 - 60, y, width + 120)
    return _Line(kind, found.start(), found.end(), x, y, width)


def _moved(part: str, x: float, y: float, scale: float) -> str:
    part = re.sub(r' x="-?\d+"', f' x="{x:.0f}"', part, count=1)
    part = re.sub(r' y="-?\d+"', f' y="{y:.0f}"', part, count=1)
    return _SIZE.sub(lambda one: f'font-size="{int(one.group(1)) * scale:.0f}px"', part) if scale < 1 else part
