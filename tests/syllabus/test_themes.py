"""The themes: told by colour, pattern, icon and tag; the colours measured for four kinds of eyes."""

from __future__ import annotations

import sys
from collections.abc import Callable
from itertools import combinations
from pathlib import Path

import pytest

from stavewright.syllabus.colour import VISIONS, contrast, difference
from stavewright.syllabus.errors import BadSyllabus
from stavewright.syllabus.terms import THEMES, all_terms
from stavewright.syllabus.themes import SCALES, all_themes, read_themes, scale_of, side_by_side, theme_of

# Smallest differences (CIEDE2000) of this palette, rounded down: (side by side, any two).
MEASURED = {"usual": (19.0, 8.7), "protan": (16.6, 5.0), "deutan": (17.9, 5.2), "tritan": (16.0, 5.5)}


def smallest(vision: str) -> tuple[float, float]:
    beside = min(difference(a.colour, b.colour, vision) for a, b in side_by_side())
    colours = [theme.colour for theme in all_themes().values()]
    return beside, min(difference(a, b, vision) for a, b in combinations(colours, 2))


@pytest.mark.parametrize("vision", VISIONS)
def test_themes_side_by_side_differ_to_every_eye(vision: str, record_property: Callable[[str, object], None]) -> None:
    """15 is plain at a glance; any two of all 24 differ by 5, so pattern, icon and tag carry the rest."""
    beside, any_two = smallest(vision)
    record_property(f"smallest difference, {vision}", (round(beside, 2), round(any_two, 2)))
    assert beside >= MEASURED[vision][0] >= 15
    assert any_two >= MEASURED[vision][1] >= 5


def test_small_text_stands_on_every_colour() -> None:
    """WCAG 2.2: 7 for small text."""
    assert min(contrast(theme.colour, theme.ink) for theme in all_themes().values()) >= 7


def test_every_theme_of_the_terms_is_here_and_used() -> None:
    assert set(all_themes()) == set(THEMES) == {term.theme for term in all_terms()}
    assert len(all_themes()) == 24


def test_never_colour_alone() -> None:
    for way in ("tag", "pattern", "icon", "colour", "title"):
        assert len({getattr(theme, way) for theme in all_themes().values()}) == len(THEMES)


def test_scales_run_from_slow_to_fast_and_soft_to_loud() -> None:
    assert [theme.id for theme in scale_of("speed")] == ["tempo slow", "medium and other speeds", "tempo fast"]
    turning = ["getting slower", "back to a speed", "getting faster"]
    assert [theme.id for theme in scale_of("change of speed")] == turning
    assert [theme.id for theme in scale_of("loudness")] == ["soft", "loud"]
    assert all(len(scale_of(name)) >= 2 for name in SCALES)


def table(**changed: str) -> str:
    found = []
    for theme in all_themes().values():
        fields = {"id": theme.id, "title": theme.title, "tag": theme.tag, "colour": theme.colour}
        fields |= {"pattern": theme.pattern, "icon": theme.icon}
        fields |= changed if theme.id == "sad" else {}
        found.append("[[theme]]\n" + "\n".join(f'{name} = "{value}"' for name, value in fields.items()))
    return "\n".join(found)


@pytest.mark.parametrize(
    "changed, said",
    [
        ({"id": "snail"}, "no theme 'sad'"),
        ({"id": "soft"}, "soft stands twice"),
        ({"tag": "sad"}, "two capital letters"),
        ({"tag": "SO"}, "SO is the tag of two themes"),
        ({"colour": "#777777"}, "contrast of"),
        ({"colour": "blue"}, "not a colour"),
        ({"pattern": "stars"}, "no pattern 'stars'"),
        ({"icon": "feather"}, "feather is the icon of two themes"),
        ({"scale": "loudness"}, "a place on it"),
        ({"font": "x"}, "unknown field"),
    ],
)
def test_a_broken_table_is_refused(changed: dict[str, str], said: str) -> None:
    with pytest.raises(BadSyllabus) as fault:
        read_themes(table(**changed))
    assert said in str(fault.value)


def test_a_table_that_is_right_is_read() -> None:
    assert set(read_themes(table())) == set(THEMES)
    with pytest.raises(BadSyllabus, match="no theme 'snail'"):
        theme_of("snail")


def test_the_picture_of_the_palette_is_up_to_date() -> None:
    """docs/pictures/palette.svg is drawn from the themes (else: run scripts/draw_palette.py)."""
    sys.path.insert(0, str(Path(__file__).parents[2] / "scripts"))
    from draw_palette import FILE, picture  # type: ignore[import-not-found]

    assert FILE.read_text("utf-8") == picture()
