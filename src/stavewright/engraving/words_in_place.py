"""Words and signs over the stave, moved where verovio leaves them cut off or on top of each other."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import Final

from stavewright.engraving.box import Box
from stavewright.engraving.text_width import advance
from stavewright.engraving.toolkit import SPACE

_WORDS: Final = re.compile(
    r'<g class="(tempo|dir|repeatMark|mNum)"[^>]*><text stroke="none" (?:x="(-?\d+)" )?y="(-?\d+)"(.*?)</text>',
    re.DOTALL,
)
_SIZE: Final = re.compile(r'font-size="(\d+)px"')
_PIECE: Final = re.compile(r'font-size="([1-9]\d*)px">([^<]*)<')
_SIGN: Final = re.compile(r'(<g class="(repeatMark|turn|mordent)"[^>]*><use [^>]*translate\()(-?\d+), (-?\d+)\)')
_STAFF: Final = re.compile(r'class="staff"><path d="M-?\d+ -?\d+ L(-?\d+) ')
_AT_BAR_END: Final = ("Fine", "D.C.", "D.S.", "To Coda")
_ASIDE: Final = {"repeatMark": 110}
_LIFT: Final = {"repeatMark": SPACE // 2, "turn": SPACE // 4, "mordent": SPACE // 4}
_BEAM: Final = re.compile(r'<polygon points="([^"]*)"')
_BRACKET: Final = re.compile(r'<g class="voltaBracket">.*?<path d="M(-?\d+) (-?\d+) L(-?\d+) -?\d+"', re.DOTALL)
_BRACKET_ROOM: Final = 60
_BEAM_ROOM: Final = 80
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

    def hits(self, beam: Box) -> bool:
        """Whether the words stand on a beam or touch it."""
        aside = 2 * _BEAM_ROOM
        beside = self.x > beam.right + aside or self.x + self.width < beam.left - aside
        return not beside and self.y - 1.8 * SPACE < beam.bottom and self.y > beam.top - _BEAM_ROOM

    def at(self, y: float) -> _Line:
        """The same words at another height."""
        return replace(self, y=y)


def _beam(points: str) -> Box:
    numbers = [float(one) for one in points.replace(",", " ").split()]
    return Box(min(numbers[::2]), min(numbers[1::2]), max(numbers[::2]), max(numbers[1::2]))


def settle(svg: str, right: float) -> str:
    """Keep words inside the picture and clear of bar numbers; `right` is where the picture ends inside its margin.

    Words too long for the line are moved left, then made smaller; words on a bar number or a beam are moved up, and so
    are bar numbers on a bracket.
    """
    svg = _to_bar_ends(_over_brackets(svg))
    lines = [_line(found) for found in _WORDS.finditer(svg)]
    numbers = [line for line in lines if line.kind == "mNum"]
    beams = [_beam(points) for points in _BEAM.findall(svg)]
    for line in reversed(lines):
        if line.kind == "mNum":
            continue
        lift = SPACE / 2 if line.kind == "tempo" else 0
        clear = line.at(line.y - lift)
        while any(clear.over(number) for number in numbers):
            clear = clear.at(clear.y - _RISE)
        if line.kind == "tempo":
            for beam in sorted(beams, key=lambda box: -box.top):
                if clear.hits(beam):
                    clear = clear.at(beam.top - _BEAM_ROOM)
        x, scale = line.x, 1.0
        if x + line.width > right:
            x = max(0.0, right - line.width)
            scale = min(1.0, right / line.width)
        if (x, clear.y, scale) != (line.x, line.y, 1.0):
            svg = svg[: line.start] + _moved(svg[line.start : line.end], x, clear.y, scale) + svg[line.end :]
    return _SIGN.sub(_sign, svg)


def _sign(one: re.Match[str]) -> str:
    """A sign a little higher; segno and coda clear of the bar number beside them."""
    kind, x, y = one.group(2), int(one.group(3)), int(one.group(4))
    return f"{one.group(1)}{x + _ASIDE.get(kind, 0)}, {y - _LIFT[kind]})"


def _to_bar_ends(svg: str) -> str:
    """Words that hold at the end of a bar ("Fine", "D.S. al Coda") end there, not in the next bar.

    Source: common practice.
    """
    for found in reversed(list(_WORDS.finditer(svg))):
        line, said = _line(found), "".join(word for _, word in _PIECE.findall(found.group(4)))
        staff = _STAFF.search(svg, svg.rfind('class="measure"', 0, line.start))
        if staff is None or line.kind not in ("repeatMark", "dir") or not said.startswith(_AT_BAR_END):
            continue
        x = max(0.0, float(staff.group(1)) - line.width - SPACE / 4)
        svg = svg[: line.start] + _moved(svg[line.start : line.end], x, line.y, 1.0) + svg[line.end :]
    return svg


def _over_brackets(svg: str) -> str:
    """Bar numbers on the end of a first- or second-time bracket, put above its line (2 and 1 are not 21)."""
    brackets = [tuple(map(float, one.groups())) for one in _BRACKET.finditer(svg)]
    numbers = [line for line in map(_line, _WORDS.finditer(svg)) if line.kind == "mNum"]
    for line in reversed(numbers):
        for left, top, right in brackets:
            beside = top < line.y < top + 4 * SPACE
            if beside and any(line.x < end < line.x + line.width for end in (left, right)):
                part = re.sub(r' y="-?\d+"', f' y="{top - _BRACKET_ROOM:.0f}"', svg[line.start : line.end], count=1)
                svg = svg[: line.start] + part + svg[line.end :]
                break
    return svg


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
