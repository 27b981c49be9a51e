"""Colours as they are seen: against published pairs, the standard, and a general-purpose library's values."""

from __future__ import annotations

import pytest

from stavewright.syllabus.colour import VISIONS, ciede2000, contrast, difference, lab, linear, seen
from stavewright.syllabus.errors import BadSyllabus

# fmt: off
# Sharma, Wu and Dalal, The CIEDE2000 Color-Difference Formula (2005), table 1: all 34 pairs and differences (written
# down from memory; that every one agrees to four places is the check of the memory as well).
SHARMA = [
    (50, 2.6772, -79.7751, 50, 0, -82.7485, 2.0425), (50, 3.1571, -77.2803, 50, 0, -82.7485, 2.8615),
    (50, 2.8361, -74.0200, 50, 0, -82.7485, 3.4412), (50, -1.3802, -84.2814, 50, 0, -82.7485, 1.0000),
    (50, -1.1848, -84.8006, 50, 0, -82.7485, 1.0000), (50, -0.9009, -85.5211, 50, 0, -82.7485, 1.0000),
    (50, 0, 0, 50, -1, 2, 2.3669), (50, -1, 2, 50, 0, 0, 2.3669),
    (50, 2.4900, -0.0010, 50, -2.4900, 0.0009, 7.1792), (50, 2.4900, -0.0010, 50, -2.4900, 0.0010, 7.1792),
    (50, 2.4900, -0.0010, 50, -2.4900, 0.0011, 7.2195), (50, 2.4900, -0.0010, 50, -2.4900, 0.0012, 7.2195),
    (50, -0.0010, 2.4900, 50, 0.0009, -2.4900, 4.8045), (50, -0.0010, 2.4900, 50, 0.0010, -2.4900, 4.8045),
    (50, -0.0010, 2.4900, 50, 0.0011, -2.4900, 4.7461), (50, 2.5, 0, 50, 0, -2.5, 4.3065),
    (50, 2.5, 0, 73, 25, -18, 27.1492), (50, 2.5, 0, 61, -5, 29, 22.8977),
    (50, 2.5, 0, 56, -27, -3, 31.9030), (50, 2.5, 0, 58, 24, 15, 19.4535),
    (50, 2.5, 0, 50, 3.1736, 0.5854, 1.0000), (50, 2.5, 0, 50, 3.2972, 0, 1.0000),
    (50, 2.5, 0, 50, 1.8634, 0.5757, 1.0000), (50, 2.5, 0, 50, 3.2592, 0.3350, 1.0000),
    (60.2574, -34.0099, 36.2677, 60.4626, -34.1751, 39.4387, 1.2644),
    (63.0109, -31.0961, -5.8663, 62.8187, -29.7946, -4.0864, 1.2630),
    (61.2901, 3.7196, -5.3901, 61.4292, 2.2480, -4.9620, 1.8731),
    (35.0831, -44.1164, 3.7933, 35.0232, -40.0716, 1.5901, 1.8645),
    (22.7233, 20.0904, -46.6940, 23.0331, 14.9730, -42.5619, 2.0373),
    (36.4612, 47.8580, 18.3852, 36.2715, 50.5065, 21.2231, 1.4146),
    (90.8027, -2.0831, 1.4410, 91.1528, -1.6435, 0.0447, 1.4441),
    (90.9257, -0.5406, -0.9208, 88.6381, -0.8985, -0.7239, 1.5381),
    (6.7747, -0.2908, -2.4247, 5.8714, -0.0985, -2.2286, 0.6377),
    (2.0776, 0.0795, -1.1350, 0.9033, -0.0636, -0.5514, 0.9082),
]
# fmt: on


@pytest.mark.parametrize("row", SHARMA)
def test_difference_agrees_with_the_published_pairs(row: tuple[float, ...]) -> None:
    *six, wanted = row
    one, other = tuple(map(float, six[:3])), tuple(map(float, six[3:]))
    assert ciede2000(one, other) == pytest.approx(wanted, abs=5.1e-5)
    assert ciede2000(other, one) == pytest.approx(wanted, abs=5.1e-5)


def test_contrast_of_the_standard() -> None:
    """WCAG 2.2: black on white is 21; #767676 on white is the darkest well-known grey that just passes 4.5."""
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0, abs=1e-3)
    assert 4.5 <= contrast("#767676", "#ffffff") < 4.6
    assert contrast("#777777", "#ffffff") < 4.5
    assert contrast("#123456", "#123456") == 1.0


def test_grey_stays_grey_to_every_eye() -> None:
    """The rows of each matrix add up to 1 (Machado, Oliveira and Fernandes 2009)."""
    for vision in VISIONS:
        for grey in ("#000000", "#808080", "#ffffff"):
            assert difference(seen(grey, vision), grey) < 0.2


def test_what_each_eye_loses() -> None:
    """Red and green lie close for protan and deutan eyes, blue and green for tritan ones."""
    for vision in ("protan", "deutan"):
        assert difference("#b05030", "#707010", vision) < difference("#b05030", "#707010") / 2
    assert difference("#2090c0", "#209080", "tritan") < difference("#2090c0", "#209080")


def test_bad_colours_are_refused() -> None:
    for bad in ("red", "#fff", "#12345g", ""):
        with pytest.raises(BadSyllabus, match="six of"):
            linear(bad)
    with pytest.raises(BadSyllabus, match="no vision"):
        seen("#ffffff", "owl")


def test_lightness() -> None:
    assert lab("#ffffff")[0] == pytest.approx(100, abs=1e-3)
    assert lab("#000000") == pytest.approx((0, 0, 0), abs=1e-9)


# The package colorspacious 1.1.2 (sRGB1+CVD, severity 100, cut to 0..1), run once and written down.
SECOND_OPINION = [
    ("#b05030", "#6a602c", "#82752e", "#c13c49"),
    ("#2090c0", "#788fc2", "#6380bf", "#009da0"),
    ("#ffcc33", "#e5ca06", "#f1d83d", "#ffbab0"),
    ("#6a2c91", "#004894", "#1a4b8f", "#64425b"),
    ("#103820", "#38331e", "#332f22", "#033732"),
    ("#ff0000", "#6d5f00", "#a39000", "#ff000f"),
]


@pytest.mark.parametrize("colour, protan, deutan, tritan", SECOND_OPINION)
def test_simulation_agrees_with_a_library(colour: str, protan: str, deutan: str, tritan: str) -> None:
    assert [seen(colour, vision) for vision in VISIONS] == [colour, protan, deutan, tritan]
