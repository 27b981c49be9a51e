"""Colours as they are seen, by all eyes: lightness, contrast, difference, and the three kinds of colour blindness.

sRGB by IEC 61966-2-1; contrast by WCAG 2.2; colour blindness by Machado, Oliveira and Fernandes (2009), their matrices
at severity 1, on linear light; difference by CIEDE2000 (Sharma, Wu and Dalal 2005).
"""

from __future__ import annotations

import re
from functools import lru_cache
from math import atan2, cos, degrees, exp, hypot, radians, sin, sqrt

from stavewright.syllabus.errors import BadSyllabus

Triple = tuple[float, float, float]
VISIONS = ("usual", "protan", "deutan", "tritan")
_SEEN: dict[str, tuple[Triple, Triple, Triple]] = {
    "protan": (
        (0.152286, 1.052583, -0.204868), (0.114503, 0.786281, 0.099216), (-0.003882, -0.048116, 1.051998)),
    "deutan": (
        (0.367322, 0.860646, -0.227968), (0.280085, 0.672501, 0.047413), (-0.011820, 0.042940, 0.968881)),
    "tritan": (
        (1.255528, -0.076749, -0.178779), (-0.078411, 0.930809, 0.147602), (0.004733, 0.691367, 0.303900)),
}  # fmt: skip
_TO_XYZ: tuple[Triple, Triple, Triple] = (
    (0.4124564, 0.3575761, 0.1804375), (0.2126729, 0.7151522, 0.0721750), (0.0193339, 0.119192, 0.9503041))  # fmt: skip
_WHITE = (0.95047, 1.0, 1.08883)
_HEX = re.compile(r"#[0-9A-Fa-f]{6}")
_FAR = 25.0**7


def _times(matrix: tuple[Triple, Triple, Triple], value: Triple) -> Triple:
    first, second, third = (sum(a * b for a, b in zip(row, value, strict=True)) for row in matrix)
    return first, second, third


def linear(colour: str) -> Triple:
    """The light of a colour "#rrggbb": red, green and blue from 0 to 1, in proportion to energy.

    Raises:
        BadSyllabus: not a colour.

    >>> linear("#ffffff")
    (1.0, 1.0, 1.0)
    """
    if not _HEX.fullmatch(colour):
        raise BadSyllabus(f"{colour!r} is not a colour: write # and six of 0-9 and a-f, like #1b6ca8")
    parts = (int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5))
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return red, green, blue


def _hex(light: Triple) -> str:
    held = (min(1.0, max(0.0, part)) for part in light)
    coded = (part * 12.92 if part <= 0.0031308 else 1.055 * part ** (1 / 2.4) - 0.055 for part in held)
    return "#" + "".join(f"{round(part * 255):02x}" for part in coded)


@lru_cache(maxsize=4096)
def seen(colour: str, vision: str) -> str:
    """The colour that a "protan", "deutan" or "tritan" eye makes of a colour; a "usual" eye leaves it.

    Raises:
        BadSyllabus: no such colour, or vision.

    >>> seen("#FF0000", "usual"), seen("#ff0000", "deutan")
    ('#ff0000', '#a39000')
    """
    light = linear(colour)
    if vision == "usual":
        return colour.lower()
    if vision not in _SEEN:
        raise BadSyllabus(f"no vision {vision!r}: known are {', '.join(VISIONS)}")
    return _hex(_times(_SEEN[vision], light))


def contrast(one: str, other: str) -> float:
    """The contrast of two colours, 1 to 21 (WCAG 2.2: 4.5 for text, 7 for small text).

    >>> round(contrast("#000000", "#ffffff"), 1)
    21.0
    """
    dark, light = sorted(_times(_TO_XYZ, linear(colour))[1] for colour in (one, other))
    return (light + 0.05) / (dark + 0.05)


@lru_cache(maxsize=4096)
def lab(colour: str) -> Triple:
    """Lightness 0 to 100, redness and yellowness of a colour (CIE L*a*b*, D65).

    >>> tuple(round(part) for part in lab("#ff0000"))
    (53, 80, 67)
    """
    scaled = (part / white for part, white in zip(_times(_TO_XYZ, linear(colour)), _WHITE, strict=True))
    x, y, z = (part ** (1 / 3) if part > 216 / 24389 else (24389 / 27 * part + 16) / 116 for part in scaled)
    return 116 * y - 16, 500 * (x - y), 200 * (y - z)


def ciede2000(one: Triple, other: Triple) -> float:
    """How different two L*a*b* colours look: about 1 is just seen, 10 is plain at a glance.

    >>> round(ciede2000((50.0, 2.6772, -79.7751), (50.0, 0.0, -82.7485)), 4)
    2.0425
    """
    (l1, a1, b1), (l2, a2, b2) = one, other
    mean = (hypot(a1, b1) + hypot(a2, b2)) / 2
    grey = 0.5 * (1 - sqrt(mean**7 / (mean**7 + _FAR)))
    a1, a2 = a1 * (1 + grey), a2 * (1 + grey)
    c1, c2 = hypot(a1, b1), hypot(a2, b2)
    h1, h2 = (degrees(atan2(b, a)) % 360 if (a, b) != (0, 0) else 0.0 for a, b in ((a1, b1), (a2, b2)))
    turn = 0.0 if c1 * c2 == 0 else (h2 - h1 + 180) % 360 - 180
    turn = 180.0 if turn == -180 and h2 > h1 else turn
    light, chroma, hue = l2 - l1, c2 - c1, 2 * sqrt(c1 * c2) * sin(radians(turn) / 2)
    l_mean, c_mean = (l1 + l2) / 2, (c1 + c2) / 2
    h_mean = h1 + h2 if c1 * c2 == 0 else _middle(h1, h2)
    t = (
        1
        - 0.17 * cos(radians(h_mean - 30))
        + 0.24 * cos(radians(2 * h_mean))
        + 0.32 * cos(radians(3 * h_mean + 6))
        - 0.20 * cos(radians(4 * h_mean - 63))
    )
    s_l = 1 + 0.015 * (l_mean - 50) ** 2 / sqrt(20 + (l_mean - 50) ** 2)
    s_c, s_h = 1 + 0.045 * c_mean, 1 + 0.015 * c_mean * t
    spread = 30 * exp(-(((h_mean - 275) / 25) ** 2))
    turned = -2 * sqrt(c_mean**7 / (c_mean**7 + _FAR)) * sin(radians(2 * spread))
    return sqrt((light / s_l) ** 2 + (chroma / s_c) ** 2 + (hue / s_h) ** 2 + turned * (chroma / s_c) * (hue / s_h))


def _middle(h1: float, h2: float) -> float:
    """The hue halfway between two, the short way round."""
    if abs(h1 - h2) <= 180:
        return (h1 + h2) / 2
    return (h1 + h2 + 360) / 2 if h1 + h2 < 360 else (h1 + h2 - 360) / 2


def difference(one: str, other: str, vision: str = "usual") -> float:
    """How different two colours look to an eye (CIEDE2000).

    >>> difference("#000000", "#ffffff") > 99
    True
    """
    return ciede2000(lab(seen(one, vision)), lab(seen(other, vision)))
