"""How wide words are in the letters of music, near enough to keep them apart and on the page."""

from __future__ import annotations

import re
from typing import Final

_NARROW: Final = frozenset("fijlrt.,;:!'()[]|I ")
_ENTITY: Final = re.compile(r"&[a-z]+;")


def advance(said: str) -> float:
    """About how many ems the words take, on the wide side (letters of a bold Times); `said` may be escaped.

    >>> advance("ill") < advance("MOM")
    True
    """
    said = _ENTITY.sub("M", said)
    return sum(
        0.36 if sign in _NARROW else 0.94 if sign in "MWmw" else 0.72 if sign.isupper() else 0.54 for sign in said
    )
