"""How far the ink of a drawing reaches, sign by sign, so that a picture is cut close and nothing is cut off."""

from __future__ import annotations

import os
import re
import xml.etree.ElementTree as ET
from functools import lru_cache
from typing import Final

from stavewright.engraving.box import Box, joined
from stavewright.engraving.text_width import advance
from stavewright.engraving.toolkit import DATA

_PLACE: Final = re.compile(r"translate\((-?[\d.]+), ?(-?[\d.]+)\)(?: scale\((-?[\d.]+), ?(-?[\d.]+)\))?")
_NUMBER: Final = re.compile(r"-?\d+(?:\.\d+)?")
_SIZE: Final = re.compile(r"([1-9]\d*)px")
_LINK: Final = "{http://www.w3.org/1999/xlink}href"


@lru_cache(maxsize=1)
def glyph_boxes() -> dict[str, Box]:
    """The box of every Leland sign by SMuFL code, in thousandths of an em, y downwards."""
    root = ET.parse(os.path.join(DATA, "Leland.xml")).getroot()  # noqa: S314 (verovio's own file)
    found: dict[str, Box] = {}
    for glyph in root:
        code = glyph.get("c")
        if code:
            x, y, w, h = (float(glyph.get(key, "0")) for key in "xywh")
            found[code] = Box(x, -(y + h), x + w, -y)
    return found


def reach(system: ET.Element, dx: float, dy: float) -> Box | None:
    """The box of all ink inside an element, moved by (dx, dy); None when it holds none."""
    found: Box | None = None
    for one in _boxes(system):
        found = one if found is None else joined(found, one)
    return None if found is None else Box(found.left + dx, found.top + dy, found.right + dx, found.bottom + dy)


def _boxes(element: ET.Element) -> list[Box]:
    out: list[Box] = []
    for child in element:
        kind = child.get("class", "")
        if kind.endswith("placeholder") or "placeholder " in kind or child.get("visibility") == "hidden":
            continue
        box = _box(child)
        if box is not None:
            out.append(box)
        elif len(child):
            out += _boxes(child)
    return out


def _box(one: ET.Element) -> Box | None:
    tag = one.tag.rpartition("}")[2]
    if tag == "path":
        return _points(one.get("d", ""), float(one.get("stroke-width", "0")) / 2)
    if tag in ("polygon", "polyline"):
        return _points(one.get("points", ""), float(one.get("stroke-width", "0")) / 2)
    if tag == "use":
        return _glyph(one)
    if tag == "text":
        return _text(one)
    if tag == "ellipse":
        x, y, wide, high = (float(one.get(key, "0")) for key in ("cx", "cy", "rx", "ry"))
        return Box(x - wide, y - high, x + wide, y + high)
    if tag == "rect":
        x, y, wide, high = (float(one.get(key, "0")) for key in ("x", "y", "width", "height"))
        return Box(x, y, x + wide, y + high)
    return None


def _points(said: str, half: float) -> Box | None:
    numbers = [float(number) for number in _NUMBER.findall(said)]
    xs, ys = numbers[::2], numbers[1::2]
    if not xs or not ys:
        return None
    return Box(min(xs) - half, min(ys) - half, max(xs) + half, max(ys) + half)


def _glyph(use: ET.Element) -> Box | None:
    place = _PLACE.search(use.get("transform", ""))
    box = glyph_boxes().get(use.get(_LINK, "")[1:5])
    if place is None or box is None:
        return None
    x, y = float(place.group(1)), float(place.group(2))
    across, down = float(place.group(3) or 1), float(place.group(4) or 1)
    return Box(x + box.left * across, y + box.top * down, x + box.right * across, y + box.bottom * down)


def _text(text: ET.Element) -> Box | None:
    y, x = float(text.get("y", "0")), float(text.get("x", "0"))
    width, size = 0.0, 0.0
    for piece in text.iter():
        asked = _SIZE.search(piece.get("font-size", ""))
        if asked and piece.text:
            size = max(size, float(asked.group(1)))
            width += float(asked.group(1)) * advance(piece.text)
    if not width:
        return None
    left = x - width * {"middle": 0.5, "end": 1.0}.get(text.get("text-anchor", ""), 0.0)
    return Box(left, y - 0.8 * size, left + width, y + 0.26 * size)
