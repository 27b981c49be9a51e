"""What we draw over verovio's picture ourselves: letters on brackets, rings and colour for notes pointed at."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Final

from stavewright.engraving.box import Box
from stavewright.engraving.geometry import Places, Spot
from stavewright.engraving.mei_marks import words
from stavewright.engraving.toolkit import SPACE

_OVER_STEM: Final = 5.2 * SPACE
"""How far above a note head a bracket stands clear of its stem."""

TEXT_FONT: Final = "Liberation Serif, Times New Roman, serif"
"""The letters of music: verovio measures words with the widths of this family."""

POINTED: Final = "#1F4E79"
"""The one colour of notes pointed at, an ink blue (contrast 8.7 : 1 on white); the ring says it without colour."""


def text(x: float, y: float, said: str, size: float = 1.9 * SPACE, *, bold: bool = False) -> str:
    """Words as SVG text of the music font's letters, `y` the base line."""
    weight = ' font-weight="bold"' if bold else ""
    return (
        f'<text x="{x:.0f}" y="{y:.0f}" font-size="{size:.0f}" text-anchor="middle" stroke="none"{weight}>'
        f"{words(said)}</text>"
    )


def centred_labels(
    svg: str, labelled: Iterable[tuple[str, str]], found: Places, dx: float, dy: float
) -> tuple[str, float]:
    """Move each label under the middle of its event, upright and clear of its stem; `labelled`: (label, event) ids.

    Labels of one line stay level. Returns the drawing and the lowest ink of any label (units).
    """
    here: list[tuple[re.Match[str], Spot | None]] = []
    for label, event in labelled:
        place = re.search(
            rf'<g id="{re.escape(label)}" class="dir"[^>]*><text stroke="none" x="(-?\d+)" y="(-?\d+)"', svg
        )
        if place:
            here.append((place, found.spots.get(event)))
    level: dict[str, float] = {}
    for place, spot in here:
        y = place.group(2)
        level[y] = max(level.get(y, float(y)), spot.foot - dy + 1.9 * SPACE if spot else float(y))
    for place, spot in sorted(here, key=lambda one: -one[0].start()):
        x = f'{spot.x - dx:.0f}" text-anchor="middle' if spot else place.group(1)
        said = place.group(0).rpartition(' x="')[0]
        moved = f'{said} x="{x}" y="{level[place.group(2)]:.0f}" font-style="normal"'
        svg = svg[: place.start()] + moved + svg[place.end() :]
    return svg, max(level.values(), default=-dy) + dy + 0.7 * SPACE


def lone_brackets(found: Places, over: dict[str, str]) -> tuple[str, float]:
    """Brackets over one note each, which verovio leaves out: the lines, and how high they reach (the least y).

    `over`: the note's id by the bracket's; the brackets drawn are added to the places found.
    """
    out: list[str] = []
    top = 0.0
    for name, event in over.items():
        spot = found.spots.get(event)
        if spot is None or name in found.brackets:
            continue
        stave = min(found.staves, key=lambda one: abs((one.top + one.bottom) / 2 - spot.y))
        y = min(stave.top - 1.5 * SPACE, min(spot.heads, default=spot.y) - _OVER_STEM)
        wide = spot.half + 0.7 * SPACE
        box = Box(spot.x - wide, y, spot.x + wide, y + SPACE)
        found.brackets[name] = [box]
        points = f"{box.left:.0f},{box.bottom:.0f} {box.left:.0f},{y:.0f} {box.right:.0f},{y:.0f}"
        out.append(
            f'<polyline points="{points} {box.right:.0f},{box.bottom:.0f}" fill="none" stroke="currentColor" '
            'stroke-width="18"/>'
        )
        top = min(top, y - 0.3 * SPACE)
    return "".join(out), top


def bracket_letters(found: Places, letters: dict[str, str]) -> tuple[str, float]:
    """The letters on top of brackets, and how high they reach (units; the least y)."""
    out: list[str] = []
    top = 0.0
    for name, letter in letters.items():
        for box in found.brackets.get(name, ())[:1]:
            if letter:
                out.append(text((box.left + box.right) / 2, box.top - 0.45 * SPACE, letter, bold=True))
                top = min(top, box.top - 2.2 * SPACE)
    return "".join(out), top


def rings(spots: Iterable[Spot], colour: str = POINTED) -> tuple[str, list[Box]]:
    """A ring around each note, and the rectangles they take up."""
    out: list[str] = []
    taken: list[Box] = []
    for spot in spots:
        high = (max(spot.heads, default=spot.y) - min(spot.heads, default=spot.y)) / 2 + 1.15 * SPACE
        wide = spot.half + 0.75 * SPACE
        out.append(
            f'<ellipse cx="{spot.x:.0f}" cy="{spot.y:.0f}" rx="{wide:.0f}" ry="{high:.0f}" fill="none" '
            f'stroke="{colour}" stroke-width="34"/>'
        )
        taken.append(Box(spot.x - wide - 20, spot.y - high - 20, spot.x + wide + 20, spot.y + high + 20))
    return "".join(out), taken


def frames(bars: Iterable[Box], colour: str = POINTED) -> tuple[str, list[Box]]:
    """A round-cornered frame around each bar, and the rectangles they take up."""
    out: list[str] = []
    taken: list[Box] = []
    for bar in bars:
        left, top, right, bottom = bar.left + 20, bar.top - 1.6 * SPACE, bar.right - 20, bar.bottom + 1.6 * SPACE
        out.append(
            f'<rect x="{left:.0f}" y="{top:.0f}" width="{right - left:.0f}" height="{bottom - top:.0f}" rx="{SPACE}" '
            f'fill="none" stroke="{colour}" stroke-width="34"/>'
        )
        taken.append(Box(left - 20, top - 20, right + 20, bottom + 20))
    return "".join(out), taken
