"""Scores as pictures: SVG with exact sizes in millimetres, and the place of every note in it."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Any, Final, Literal

from stavewright.engraving import overlay
from stavewright.engraving.box import Box, joined
from stavewright.engraving.errors import EngravingError
from stavewright.engraving.geometry import Places, places
from stavewright.engraving.long_rows import cut_rows
from stavewright.engraving.mei import Encoded, encode
from stavewright.engraving.systems import bar_lengths, breaks_of, longest
from stavewright.engraving.toolkit import UNITS, draw, weights
from stavewright.engraving.words_in_place import settle
from stavewright.score.event import Gap
from stavewright.score.stave import Score

STAVE_SIZES: Final = (7.0, 8.0, 10.0, 14.0, 16.0)
"""Stave heights on paper in millimetres, from usual print to large print."""

Fit = Literal["natural", "full", "auto"]

_SPACES: Final = 'xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"'
_ROOM: Final = 0.7 * UNITS
_EDGE: Final = 8
SQUEEZED: Final = 1.2
_FEW_BARS: Final = 4
_TIGHT: Final = {"spacingLinear": 0.2, "spacingNonLinear": 0.55}

_VIEW = re.compile(r'<svg class="definition-scale"[^>]*viewBox="0 0 (\d+) (\d+)">')
_DEFS = re.compile(r"<defs>.*?</defs>", re.DOTALL)
_MARGIN = re.compile(r'<g class="page-margin" transform="translate\((-?\d+), (-?\d+)\)">')
_OWN_ID = re.compile(r' id="([^"]*)"')
_PLACEHOLDER = re.compile(r'<g class="[a-zA-Z ]*placeholder[a-zA-Z ]*"><ellipse[^>]*/></g>')
_STYLES = (("tempo", 'font-weight="bold"'), ("dir", 'font-style="italic"'), ("dynam", 'font-style="italic"'),
           ("mNum", 'font-style="italic"'), ("ending", 'font-weight="bold"'))  # fmt: skip


@dataclass(frozen=True, slots=True)
class Picture:
    """An engraved score: SVG text and its size on paper.

    `width_mm`, `height_mm`: printed size. `stave_mm`: height of one stave in it. `above_mm`: room above the first
    stave's top line; `below_mm`: room under the last stave's bottom line. `places` holds every note head, rest, bar
    and stave in units of the view box (720 units a stave); `ids` leads from an event's own id to its id in the SVG.
    `origins`: for each drawn bar its index in the score, where a long row was cut into pieces.
    """

    svg: str
    width_mm: float
    height_mm: float
    stave_mm: float
    above_mm: float
    below_mm: float
    places: Places
    ids: dict[str, str]
    view: Box
    prefix: str = ""
    origins: tuple[int, ...] = ()


def engrave(
    score: Score,
    *,
    prefix: str,
    stave_mm: float = 7.0,
    width_mm: float | None = None,
    fit: Fit = "auto",
    options: dict[str, Any] | None = None,
    natural: Picture | None = None,
) -> Picture:
    """Draw a score. Same arguments: same bytes, in every thread and process.

    `prefix` begins every id, so that two pictures of one page never share any. Without `width_mm` the picture is
    as wide as its music. With it, music that is wider is laid out in systems of nearly equal length; `fit` "full"
    always fills the width (a stave to write on), "auto" fills it when the music takes two thirds of it or more.

    `natural` is the picture as wide as its music where it was drawn before, with the same prefix and size.

    Raises:
        EngravingError: the score holds what cannot be drawn, or fewer or more notes came out than went in.

    >>> from stavewright.score.stave import single
    >>> from stavewright.score.event import Note
    >>> from stavewright.theory.duration import Duration
    >>> from stavewright.theory.pitch import Pitch
    >>> one = engrave(single("treble", (Note(Pitch("G", 0, 4), Duration("semibreve"), id="n1"),)), prefix="q1")
    >>> one.ids, one.stave_mm, one.svg.count('class="note"')
    ({'n1': 'q1_n1'}, 7.0, 1)
    """
    if stave_mm <= 0 or (width_mm is not None and width_mm < 2 * stave_mm):
        raise EngravingError(f"picture {prefix}: a stave of {stave_mm} mm does not fit a width of {width_mm} mm")
    asked = {**weights(stave_mm), **_margins(score), **(options or {})}
    encoded = encode(score, prefix)
    if width_mm is None:
        return _picture(score, encoded, prefix, stave_mm, asked)
    natural = natural or _picture(score, encoded, prefix, stave_mm, asked)
    page = _page(natural, width_mm, asked)
    filled = {**asked, "adjustPageWidth": False, "pageWidth": page, "breaks": "auto"}
    if natural.width_mm <= width_mm:
        full = fit == "full" or (fit == "auto" and natural.width_mm >= 0.66 * width_mm)
        return _picture(score, encoded, prefix, stave_mm, filled) if full else natural
    room = 10.0 * (page - int(asked["pageMarginLeft"]) - 4)
    sizes, lead = bar_lengths(natural.places)
    pieces, origins = cut_rows(score, sizes, room - lead)
    few = natural.width_mm <= SQUEEZED * width_mm and (len(natural.places.bars) <= _FEW_BARS or not score.numbered)
    row = pieces is not score and _only_read(score)
    if few or row:
        squeezed = _picture(score, encoded, prefix, stave_mm, {**asked, **_TIGHT})
        if squeezed.width_mm <= width_mm:
            return _picture(score, encoded, prefix, stave_mm, {**filled, **_TIGHT})
        if row:
            sizes, lead = bar_lengths(squeezed.places)
            pieces, origins = cut_rows(score, sizes, room - lead)
            options = {**(options or {}), **_TIGHT}
    if pieces is not score and natural.width_mm > SQUEEZED * width_mm:
        made = engrave(pieces, prefix=prefix, stave_mm=stave_mm, width_mm=width_mm, fit=fit, options=options)
        return replace(made, origins=origins)
    breaks = breaks_of(natural.places, room)
    # A bar longer than the page is not squeezed: it keeps its length, and the whole picture is made smaller.
    filled["pageWidth"] = max(page, math.ceil(longest(natural.places) / 10))
    # Without a break verovio would choose its own, and leave one stretched bar on the second line.
    filled["breaks"] = "encoded" if breaks else "none"
    fitted = _picture(score, encode(score, prefix, breaks), prefix, stave_mm, filled)
    return _shrunk(fitted, width_mm)


def _only_read(score: Score) -> bool:
    """Whether music without metre, a scale say, is only to be read: its notes may stand close."""
    return score.staves[0].time is None and not any(isinstance(event, Gap) for event in score.events())


def _page(natural: Picture, width_mm: float, asked: dict[str, Any]) -> int:
    """The page verovio must be given so that the picture, brace and bar numbers included, is as wide as asked."""
    over = natural.places.staves[0].left - natural.view.left + _EDGE
    stave = width_mm / natural.stave_mm * UNITS - over - 44
    return int(stave / 10) + int(asked["pageMarginLeft"]) + int(asked.get("pageMarginRight", 4))


def _margins(score: Score) -> dict[str, int]:
    left = 34 if score.join == "brace" else 22 if score.join == "bracket" else 14 if score.numbered else 4
    return {"pageMarginLeft": left, "pageMarginTop": 14 if score.numbered or score.brackets else 8}


def _picture(score: Score, encoded: Encoded, prefix: str, stave_mm: float, options: dict[str, Any]) -> Picture:
    raw = draw(encoded.text, prefix, options)
    view = _VIEW.search(raw)
    if view is None or not (int(view.group(1)) and int(view.group(2))):
        raise EngravingError(f"picture {prefix}: verovio drew an empty picture; this thread found no music font")
    margin = _MARGIN.search(raw)
    dx, dy = (float(margin.group(1)), float(margin.group(2))) if margin else (0.0, 0.0)
    svg = settle(_own(raw, prefix), float(view.group(1)) - dx - 40)
    found = places(f"<svg {_SPACES}>{svg}")
    _all_there(encoded, found, raw, prefix)
    labelled = [(f"{name}.label", name) for name in encoded.ids if f'id="{name}.label"' in svg]
    svg, low = overlay.centred_labels(svg, labelled, found, dx, dy)
    letters = {f"{prefix}-k{place}": bracket.label for place, bracket in enumerate(score.brackets, 1)}
    named = zip(letters, score.brackets, strict=True)
    lone = {name: encoded.own_ids[one.first] for name, one in named if one.first == one.last}
    lines, highest = overlay.lone_brackets(found, lone)
    drawn, top = overlay.bracket_letters(found, letters)
    drawn, top = lines + drawn, min(top, highest)
    svg = svg.replace("</svg>", f"{drawn}</svg>") if drawn else svg
    box = _cut(found, top, low, room=any(isinstance(event, Gap) for event in score.events()))
    return sized(Picture(svg, 0, 0, stave_mm, 0, 0, found, dict(encoded.own_ids), box, prefix))


def _cut(found: Places, top: float, low: float, *, room: bool) -> Box:
    """The view: close around the ink, and with room above and below the stave where a pupil writes on it."""
    box = found.ink[0]
    for one in (*found.ink[1:], *found.staves):
        box = joined(box, one)
    box = joined(box, Box(box.left, min(box.top, top or box.top), box.right, max(box.bottom, low)))
    if room:
        first, last = found.staves[0], found.staves[-1]
        box = joined(box, Box(first.left, first.top - _ROOM, first.right, last.bottom + _ROOM))
    return Box(box.left - _EDGE, box.top - 3 * _EDGE, box.right + _EDGE, box.bottom + 3 * _EDGE)


def _all_there(encoded: Encoded, found: Places, raw: str, prefix: str) -> None:
    if found.note_heads != encoded.heads:
        raise EngravingError(f"picture {prefix}: {encoded.heads} notes went in and {found.note_heads} came out")
    missing = [name for name in encoded.ids if f'id="{name}"' not in raw]
    if missing:
        raise EngravingError(f"picture {prefix}: not drawn: {', '.join(missing)}")


def _own(raw: str, prefix: str) -> str:
    """The drawing with our ids only, no style sheet (a strict page refuses one) and the letters of our font."""
    glyphs = _DEFS.search(raw)
    view = _VIEW.search(raw)
    if view is None:
        raise EngravingError(f"picture {prefix}: verovio's drawing has not the parts it used to have")
    body = raw[view.end() : raw.rindex("</svg>", 0, raw.rindex("</svg>"))]
    svg = (glyphs.group(0) if glyphs else "<defs></defs>") + body
    mark = raw[raw.index(' id="') + 5 : raw.index('"', raw.index(' id="') + 5)]
    svg = svg.replace(f"-{mark}", f"-{prefix}")
    kept = (f"{prefix}_", f"{prefix}-", "E", "U")
    svg = _OWN_ID.sub(lambda one: one.group(0) if one.group(1).startswith(kept) else "", svg)
    svg = _PLACEHOLDER.sub("", svg)
    for kind, style in _STYLES:
        svg = svg.replace(f'class="{kind}"', f'class="{kind}" {style}')
        svg = svg.replace(f'class="{kind} ', f'{style} class="{kind} ')
    svg = svg.replace("<text ", '<text stroke="none" ')
    svg = svg.replace('font-family="Leland"', 'font-family="Stavewright Notes"')
    return svg.replace('font-size="720px"', 'font-size="540px"') + "</svg>"


def sized(picture: Picture) -> Picture:
    """Put the head on the drawing: its view box, and its size on paper."""
    box, mm = picture.view, picture.stave_mm / UNITS
    width, height = (box.right - box.left) * mm, (box.bottom - box.top) * mm
    head = (
        f'<svg {_SPACES} class="music" '
        f'viewBox="{box.left:.0f} {box.top:.0f} {box.right - box.left:.0f} {box.bottom - box.top:.0f}" '
        f'width="{width:.2f}mm" height="{height:.2f}mm" color="#000" fill="currentColor" stroke="currentColor" '
        f'font-family="{overlay.TEXT_FONT}">'
    )
    body = picture.svg[picture.svg.index("<defs>") :]
    first, last = picture.places.staves[0], picture.places.staves[-1]
    return replace(
        picture,
        svg=head + body,
        width_mm=width,
        height_mm=height,
        above_mm=(first.top - box.top) * mm,
        below_mm=(box.bottom - last.bottom) * mm,
    )


def _shrunk(picture: Picture, width_mm: float) -> Picture:
    """A bar too long for the page makes the stave smaller; nothing is ever cut off."""
    widest = max((bar.right for bar in picture.places.bars), default=0.0)
    box = replace(picture.view, right=max(picture.view.right, widest + 40))
    size = picture.stave_mm * min(1.0, width_mm / ((box.right - box.left) * picture.stave_mm / UNITS))
    return sized(replace(picture, view=box, stave_mm=size))


def point_at(picture: Picture, notes: Iterable[str] = (), bars: Iterable[int] = ()) -> Picture:
    """The same picture with notes ringed and coloured, and bars framed: `notes` by own id, `bars` by index from 0.

    Raises:
        EngravingError: a note or bar that the picture does not have.
    """
    svg = picture.svg
    spots, frames = [], []
    for own in notes:
        name = picture.ids.get(own, "")
        if name not in picture.places.spots:
            known = ", ".join(picture.ids) or "none"
            raise EngravingError(f"there is no note or rest {own!r} to point at; the picture has {known}")
        spots.append(picture.places.spots[name])
        svg = svg.replace(f'<g id="{name}" ', f'<g id="{name}" color="{overlay.POINTED}" ', 1)
    for index in bars:
        origins = picture.origins or tuple(range(len(picture.places.bars)))
        if index not in origins:
            raise EngravingError(f"no bar {index + 1} to point at; the picture has {max(origins) + 1}")
        frames += [box for box, origin in zip(picture.places.bars, origins, strict=True) if origin == index]
    drawn, ring_reach = overlay.rings(spots)
    framed, frame_reach = overlay.frames(frames)
    wide = picture.view
    for box in (*ring_reach, *frame_reach):
        wide = joined(wide, box)
    return sized(replace(picture, svg=svg.replace("</svg>", f"{drawn}{framed}</svg>"), view=wide))
