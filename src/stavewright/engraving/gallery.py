"""Pictures for printed pages: each engraved once and shared between the documents of one paper."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Final

from stavewright.engraving.box import Box
from stavewright.engraving.errors import EngravingError
from stavewright.engraving.layout import Shown
from stavewright.engraving.svg import Fit, Picture, engrave, sized
from stavewright.score.event import Chord, Gap, Note
from stavewright.score.stave import Score

_TALL: Final = 0.42
_INK: Final = "#1F4E79"


@dataclass(slots=True)
class Gallery:
    """Engraved pictures by score and width. `stave_mm`: height of every stave; `page_mm`: height of a page's text."""

    stave_mm: float
    page_mm: float
    kept: dict[tuple[Score, float | None, Fit], Picture] = field(default_factory=dict)

    def of(self, score: Score, width: float | None = None, fit: Fit = "auto") -> Picture:
        """The picture of a score at most so wide, engraved once.

        Raises:
            EngravingError: the score cannot be drawn.
        """
        key = (score, None if width is None else round(width, 2), fit if width else "auto")
        found = self.kept.get(key)
        if found is None:
            natural = None if width is None else self.of(score)
            prefix = natural.prefix if natural else f"m{len(self.kept) + 1}"
            found = engrave(score, prefix=prefix, stave_mm=self.stave_mm, width_mm=width, fit=fit, natural=natural)
            self.kept[key] = found
        return found

    def shown(self, picture: Picture, alt: str) -> list[Shown]:
        """The picture as it stands on a page: one piece, or one a system when it is too tall to keep together.

        Raises:
            EngravingError: it has no text alternative.
        """
        if not alt.strip():
            raise EngravingError("a picture of music needs a text alternative: say what is there without the answer")
        if picture.height_mm <= _TALL * self.page_mm or len(picture.places.systems) < 2:
            return [shown_as(picture, alt)]
        pieces = [strip(picture, index) for index in range(len(picture.places.systems))]
        more = [f"The music goes on, line {index} of {len(pieces)}." for index in range(2, len(pieces) + 1)]
        return [shown_as(piece, said) for piece, said in zip(pieces, [alt, *more], strict=True)]


def shown_as(picture: Picture, alt: str) -> Shown:
    """A picture as a thing on the page."""
    above = round(picture.above_mm, 2)
    return Shown(picture.svg, round(picture.width_mm, 2), round(picture.height_mm, 2), alt, above, picture.stave_mm)


def strip(picture: Picture, index: int) -> Picture:
    """One system of a picture, with all ink that belongs to it."""
    ink, view = picture.places.ink, picture.view
    first, last = index == 0, index == len(ink) - 1
    top = view.top if first else ink[index].top - 40
    bottom = view.bottom if last else ink[index].bottom + 40
    return sized(replace(picture, view=Box(view.left, top, view.right, bottom)))


def scaled(picture: Picture, stave_mm: float) -> Picture:
    """The same picture with staves of another height."""
    return sized(replace(picture, stave_mm=stave_mm))


def systems_with(picture: Picture, own_ids: list[str]) -> list[int]:
    """Which systems the events with these ids stand in, first to last."""
    found: set[int] = set()
    for own in own_ids:
        spot = picture.places.spots.get(picture.ids.get(own, ""))
        if spot is not None:
            middles = [(box.top + box.bottom) / 2 for box in picture.places.systems]
            found.add(min(range(len(middles)), key=lambda i: abs(middles[i] - spot.y)))
    return sorted(found)


def in_ink(picture: Picture, *, all_of_it: bool) -> Picture:
    """The picture as a pupil's hand has it: the notes in ink blue, or all that is drawn."""
    if all_of_it:
        return replace(picture, svg=picture.svg.replace('color="#000"', f'color="{_INK}"', 1))
    svg = picture.svg
    for kind in ("note", "rest", "keyAccid"):
        svg = svg.replace(f'class="{kind}"', f'class="{kind}" color="{_INK}"')
    return replace(picture, svg=svg)


def has_gaps(score: Score) -> bool:
    """Whether a score leaves room to write."""
    return any(isinstance(event, Gap) for event in score.events())


def places_of(score: Score, bar: int, note: int | None) -> tuple[list[str], list[int]]:
    """What a pointed-at place means in a picture: ids of notes to ring, or indexes of bars to frame."""
    for index, one in enumerate(score.staves[0].bars):
        if score.bar_number(index) != bar:
            continue
        if note is None:
            return [], [index]
        sounding = [event for event in one.events if isinstance(event, Note | Chord)]
        return ([sounding[note - 1].id] if 0 < note <= len(sounding) and sounding[note - 1].id else []), []
    return [], []
