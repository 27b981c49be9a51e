"""Where things stand in a picture: staves, bars, note heads and rests, read from verovio's drawing."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from dataclasses import dataclass, field
from typing import Final

from stavewright.engraving.box import Box
from stavewright.engraving.ink import reach

_PLACE = re.compile(r"translate\((-?[\d.]+), ?(-?[\d.]+)\)")
_POINT = re.compile(r"[ML]?(-?[\d.]+)[ ,](-?[\d.]+)")
# Widths of note heads and rests in Leland, in units, by SMuFL code; anything else is taken as one head wide.
_WIDTHS: Final = {
    "E0A0": 560, "E0A2": 304, "E4E2": 120, "E4E3": 260, "E4E4": 260, "E4E5": 200, "E4E6": 210, "E4E7": 240,
}  # fmt: skip
_HEAD: Final = 234


@dataclass(frozen=True, slots=True)
class Spot:
    """Where one event stands, in the picture's units: the middle of its head (or rest) and half its width.

    `heads` are the heights of its heads, `foot` is the lowest ink of head and stem.
    """

    x: float
    y: float
    half: float
    heads: tuple[float, ...] = ()
    foot: float = 0.0


@dataclass(slots=True)
class Places:
    """All that was found in a drawing: `bars` by index from 0, `staves` one a system and stave,
    `ink` how far each system reaches, `spots` by id.
    """

    spots: dict[str, Spot] = field(default_factory=dict)
    bars: list[Box] = field(default_factory=list)
    staves: list[Box] = field(default_factory=list)
    systems: list[Box] = field(default_factory=list)
    ink: list[Box] = field(default_factory=list)
    brackets: dict[str, list[Box]] = field(default_factory=dict)
    note_heads: int = 0


def places(svg: str) -> Places:
    """Read the places of everything from verovio's SVG text, margins included."""
    root = ET.fromstring(svg)  # noqa: S314 (verovio's own text)
    margin = next(one for one in root.iter() if one.get("class") == "page-margin")
    dx, dy = _translate(margin)
    found = Places()
    for system in margin.iter():
        if system.get("class") == "system":
            _system(system, found, dx, dy)
    return found


def _translate(element: ET.Element) -> tuple[float, float]:
    place = _PLACE.search(element.get("transform", ""))
    return (float(place.group(1)), float(place.group(2))) if place else (0.0, 0.0)


def _system(system: ET.Element, found: Places, dx: float, dy: float) -> None:
    boxes: list[Box] = []
    for measure in system.iter():
        if measure.get("class") != "measure":
            continue
        staves = [_stave(one, dx, dy) for one in measure if one.get("class") == "staff"]
        bar = Box(staves[0].left, staves[0].top, staves[0].right, staves[-1].bottom)
        found.bars.append(bar)
        boxes.append(bar)
        if not found.staves or staves[0].top != found.staves[-len(staves)].top:
            found.staves += staves
        for element in measure.iter():
            kind, name = element.get("class"), element.get("id")
            if kind in ("note", "rest", "mRest", "chord") and name:
                _spot(element, kind, name, found, dx, dy)
            elif kind == "bracketSpan" and name:
                _bracket(element, name, found, dx, dy)
    if boxes:
        whole = Box(boxes[0].left, boxes[0].top, boxes[-1].right, boxes[0].bottom)
        found.ink.append(reach(system, dx, dy) or whole)
        found.systems.append(whole)


def _stave(staff: ET.Element, dx: float, dy: float) -> Box:
    lines = [one for one in staff if one.tag.endswith("path")][:5]
    ends = [[(float(x), float(y)) for x, y in _POINT.findall(line.get("d", ""))] for line in lines]
    return Box(ends[0][0][0] + dx, ends[0][0][1] + dy, ends[0][1][0] + dx, ends[-1][0][1] + dy)


def _spot(element: ET.Element, kind: str, name: str, found: Places, dx: float, dy: float) -> None:
    glyphs: list[tuple[float, float, str]] = []
    if kind in ("note", "chord"):
        for head in element.iter():
            if head.get("class") == "notehead":
                glyphs += _glyphs(head)
        if kind == "note":
            found.note_heads += len(glyphs)
    else:
        glyphs = _glyphs(element)
    if not glyphs:
        return
    half = _WIDTHS.get(glyphs[0][2], _HEAD) / 2
    ys = tuple(sorted(y + dy for _, y, _ in glyphs))
    ink = reach(element, dx, dy)
    foot = ink.bottom if ink else ys[-1]
    found.spots[name] = Spot(min(x for x, _, _ in glyphs) + dx + half, (ys[0] + ys[-1]) / 2, half, ys, foot)


def _glyphs(element: ET.Element) -> list[tuple[float, float, str]]:
    out: list[tuple[float, float, str]] = []
    for use in element:
        if use.tag.endswith("use"):
            x, y = _translate(use)
            link = use.get("{http://www.w3.org/1999/xlink}href", "")
            out.append((x, y, link[1:5]))
    return out


def _bracket(element: ET.Element, name: str, found: Places, dx: float, dy: float) -> None:
    points: list[tuple[float, float]] = []
    for line in element.iter():
        text = line.get("points") or line.get("d") or ""
        points += [(float(x) + dx, float(y) + dy) for x, y in _POINT.findall(text)]
    if points:
        xs, ys = [x for x, _ in points], [y for _, y in points]
        found.brackets.setdefault(name, []).append(Box(min(xs), min(ys), max(xs), max(ys)))
