"""The themes of the terms: title, place on a scale, and the colour, pattern, icon and tag they are known by."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Iterable
from functools import lru_cache
from importlib.resources import files
from itertools import combinations

from msgspec import Struct, ValidationError, convert

from stavewright.syllabus.colour import contrast, linear
from stavewright.syllabus.errors import BadSyllabus
from stavewright.syllabus.terms import FAMILY_OF, THEMES
from stavewright.theory.errors import together

INKS = ("#1c1b1a", "#ffffff")
SMALL_TEXT = 7.0
SCALES = ("speed", "change of speed", "loudness", "change of loudness")
PATTERNS = (
    "plain", "solid", "dashes", "dots-fine", "dots-wide", "rings", "scales", "bricks", "grid", "trellis",
    "bars-level-fine", "bars-level-wide", "bars-upright-fine", "bars-upright-wide", "stripes-rising-fine",
    "stripes-rising-wide", "stripes-falling-fine", "stripes-falling-wide", "waves-fine", "waves-wide", "zigzag-fine",
    "zigzag-wide", "steps-up", "steps-down", "triangles-up", "triangles-down",
)  # fmt: skip


class Theme(Struct, frozen=True, forbid_unknown_fields=True):
    """One theme: its title, and four ways to tell it by, a colour, a pattern, an icon and a tag of two letters.

    `scale` names the line it stands on, one of SCALES, and `place` where, the slow, soft or falling end first.
    """

    id: str
    title: str
    tag: str
    colour: str
    pattern: str
    icon: str
    scale: str | None = None
    place: int | None = None

    @property
    def family(self) -> str:
        """The family of themes it belongs to; "own" for a theme of one's own."""
        return FAMILY_OF.get(self.id, "own")

    @property
    def ink(self) -> str:
        """The colour of text on its colour: dark or white, whichever reads better."""
        return ink_on(self.colour)


def ink_on(colour: str) -> str:
    """The text colour that reads best on a colour.

    >>> ink_on("#ffee88"), ink_on("#102040")
    ('#1c1b1a', '#ffffff')
    """
    return max(INKS, key=lambda ink: contrast(colour, ink))


def look_faults(name: str, tag: str, colour: str, pattern: str) -> list[str]:
    """What is wrong with the tag, colour or pattern of a theme, in words."""
    found = []
    if len(tag) != 2 or not (tag.isascii() and tag.isalpha() and tag.isupper()):
        found.append(f"{name}: the tag {tag!r} must be two capital letters")
    if pattern not in PATTERNS:
        found.append(f"{name}: no pattern {pattern!r}; known are {', '.join(PATTERNS)}")
    try:
        linear(colour)
    except BadSyllabus as error:
        return [*found, f"{name}: {error}"]
    best = contrast(colour, ink_on(colour))
    if best < SMALL_TEXT:
        found.append(f"{name}: text on {colour} has a contrast of {best:.1f}, 7 is needed; go lighter or darker")
    return found


def read_themes(text: str) -> dict[str, Theme]:
    """Read a table of themes.

    Raises:
        BadSyllabus: with the faults: a theme that is not there, missing or twice, two with one tag, colour, pattern or
            icon, a colour that small text cannot stand on, a scale without a place or with two themes at one place.
    """
    try:
        rows = convert(tomllib.loads(text).get("theme", []), tuple[Theme, ...])
    except (ValidationError, tomllib.TOMLDecodeError) as error:
        raise BadSyllabus(f"themes.toml: {error}") from error
    faults = [f"no theme {theme!r}" for theme in THEMES if theme not in {row.id for row in rows}]
    faults += [f"{row.id!r} is not a theme of the terms" for row in rows if row.id not in THEMES]
    faults += _twice((row.id for row in rows), "stands twice")
    ways: dict[str, Callable[[Theme], str]] = {
        "tag": lambda row: row.tag,
        "colour": lambda row: row.colour,
        "pattern": lambda row: row.pattern,
        "icon": lambda row: row.icon,
        "title": lambda row: row.title,
    }
    for way, of in ways.items():
        faults += _twice(map(of, rows), f"is the {way} of two themes")
    faults += _twice((f"{row.scale} {row.place}" for row in rows if row.scale), "is the place of two themes")
    for row in rows:
        faults += look_faults(row.id, row.tag, row.colour, row.pattern)
        if (row.scale is None) != (row.place is None) or (row.scale is not None and row.scale not in SCALES):
            faults.append(f"{row.id}: give a scale ({', '.join(SCALES)}) and a place on it, or neither")
    if faults:
        raise BadSyllabus(f"themes.toml: {together(faults)}")
    return {row.id: row for row in rows}


def _twice(values: Iterable[str], said: str) -> list[str]:
    listed = list(values)
    return [f"{value} {said}" for value in dict.fromkeys(listed) if listed.count(value) > 1]


@lru_cache(maxsize=1)
def all_themes() -> dict[str, Theme]:
    """Every theme by its id, in the order they are shown.

    Raises:
        BadSyllabus: the data file is broken.

    >>> all_themes()["getting slower"].tag
    'SR'
    """
    return read_themes(files("stavewright.syllabus").joinpath("data/themes.toml").read_text("utf-8"))


def theme_of(id: str) -> Theme:
    """The theme with that id.

    Raises:
        BadSyllabus: no such theme.

    >>> theme_of("loud").scale
    'loudness'
    """
    found = all_themes().get(id)
    if found is None:
        raise BadSyllabus(f"no theme {id!r}: known are {', '.join(THEMES)}")
    return found


def scale_of(name: str) -> tuple[Theme, ...]:
    """The themes on a scale, from its slow or soft end.

    >>> [theme.title for theme in scale_of("speed")]
    ['Slow', 'Medium speeds', 'Fast']
    """
    return tuple(sorted((t for t in all_themes().values() if t.scale == name), key=lambda t: t.place or 0))


def side_by_side() -> tuple[tuple[Theme, Theme], ...]:
    """Pairs of themes that stand beside each other: all of one family, and neighbours on a scale."""
    listed = list(all_themes().values())
    family = [(a, b) for a, b in combinations(listed, 2) if a.family == b.family]
    scales = [pair for name in SCALES for pair in zip(scale_of(name), scale_of(name)[1:], strict=False)]
    return tuple(dict.fromkeys([*family, *scales]))
