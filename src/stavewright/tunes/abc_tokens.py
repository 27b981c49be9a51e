"""The symbols of ABC music lines, and how a note is spelled.

Source: the ABC music standard 2.1 (2011).
"""

from __future__ import annotations

import re
from functools import lru_cache
from typing import Final

from stavewright.theory.pitch import STEPS
from stavewright.tunes.errors import NotUnderstoodTune

__all__ = ["GROUP_OF", "MARKS", "NAMED_MARKS", "PARTS", "TOKENS", "spelled", "ticks_of", "tuplet_of"]

_NOTE: Final = r"(?:\^\^|\^|__|_|=)?[A-Ga-g][',]*\d{0,3}/{0,8}\d{0,3}"
TOKENS: Final = re.compile(
    rf"""(?P<space>[ \t`\\y]+)
    |(?P<note>{_NOTE})
    |(?P<bar>:*\[\|\]:*|:*\|+\]?:*|:*\[\|:*|::+)(?P<ending>\s*\[[1-9](?![a-zA-Z:])|[1-9])?
    |(?P<inline>\[[A-Za-z]:[^\]]*\])
    |(?P<volta>\[[1-9](?:[,-][1-9])*)
    |(?P<chord>\[(?:{_NOTE}|[ .uv])+\](?P<span>\d{{0,3}}/{{0,8}}\d{{0,3}}))
    |(?P<rest>[zx](?P<silence>\d{{0,3}}/{{0,8}}\d{{0,3}}))
    |(?P<tuplet>\((?P<p>\d)(?::(?P<q>\d{{0,2}})(?::(?P<r>\d{{0,2}}))?)?)
    |(?P<broken>>+|<+)
    |(?P<tie>-)
    |(?P<slur>[()])
    |(?P<grace>\{{[^}}]*\}})
    |(?P<words>"[^"]*")
    |(?P<sign_name>![^!\s|]{{1,15}}!|\+[A-Za-z.]{{2,12}}\+)
    |(?P<mark>[.~H-Wh-w])
    |(?P<newline>!)
    |(?P<other>.)""",
    re.VERBOSE,
)
PARTS: Final = re.compile(r"(\^\^|\^|__|_|=)?([A-Ga-g])([',]*)(\d{0,3}/{0,8}\d{0,3})")
ALTER: Final = {"^^": 2, "^": 1, "=": 0, "_": -1, "__": -2}
MARKS: Final = {
    ".": "staccato", "T": "trill", "H": "fermata", "L": "accent", "M": "mordent", "P": "upper-mordent", "u": "up-bow",
    "v": "down-bow",
}  # fmt: skip
NAMED_MARKS: Final = {"!trill!": "trill", "!fermata!": "fermata", "!accent!": "accent", "!tenuto!": "tenuto"}
_TUPLET_TIMES: Final = {2: 3, 3: 2, 4: 3, 6: 2, 8: 3}


@lru_cache(maxsize=4096)
def spelled(text: str) -> tuple[int, int | None, str]:
    """The diatonic place, the sign (None for none) and the length of a note as it is spelled."""
    found = PARTS.fullmatch(text)
    if found is None:
        raise NotUnderstoodTune(f"the note {text[:20]!r}")
    sign, letter, marks, length = found.groups()
    octave = (4 if letter.isupper() else 5) + marks.count("'") - marks.count(",")
    return 7 * octave + STEPS.index(letter.upper()), None if sign is None else ALTER[sign], length


def ticks_of(unit: int, text: str) -> int | None:
    """The ticks of a length figure after a note, or None where no note is as long.

    >>> [ticks_of(80640, text) for text in ("", "2", "/", "3/2", "//", "/7")]
    [80640, 161280, 40320, 120960, 20160, 11520]
    >>> ticks_of(80640, "/11") is None
    True
    """
    upper, slash, lower = text.partition("/")
    ticks = unit * int(upper or 1)
    if not slash:
        return ticks
    divisor = int(lower.strip("/") or 2 ** (1 + lower.count("/")))
    return None if not divisor or ticks % divisor else ticks // divisor


def tuplet_of(found: re.Match[str], *, compound: bool) -> tuple[int, int, int]:
    """Of a tuplet sign: how many notes, in the time of how many, and how many notes it covers."""
    count = int(found.group("p"))
    normal = int(found.group("q") or _TUPLET_TIMES.get(count, 3 if compound else 2))
    return count, normal, int(found.group("r") or count)


GROUP_OF: Final = {
    "ending": "bar", "span": "chord", "silence": "rest", "p": "tuplet", "q": "tuplet", "r": "tuplet",
}  # fmt: skip
"""The symbol that a named part of it belongs to."""
