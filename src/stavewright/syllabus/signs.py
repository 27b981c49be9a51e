"""The signs of the score: name, meaning, what they are mixed up with, and what a picture of them shows."""

from __future__ import annotations

import re
import tomllib
from functools import lru_cache
from importlib.resources import files
from typing import Any

from msgspec import Struct, ValidationError, convert

from stavewright.syllabus.errors import BadSyllabus

PICTURES = (
    "mark", "dot", "chord", "dynamic", "hairpin", "curve", "line", "ending", "direction", "grace", "tuplet", "time",
    "rest", "glyph",
)  # fmt: skip
ASKED = ("name", "meaning")
_GLYPH = re.compile(r"U\+E[0-9A-F]{3}")


class Sign(Struct, frozen=True, forbid_unknown_fields=True):
    """One sign: name and other names, meaning and other right meanings, the grade that adds it, how it is shown.

    `where` points at it in a prompt and `looks` describes it to a listener, neither with its name. `shown` is what the
    picture is built from, one of PICTURES and which one; a "glyph" has a SMuFL code point and is in the list only:
    no stave of three notes shows it, so no question asks it. `confused` lists the signs it is taken for.
    """

    id: str
    name: str
    meaning: str
    level: int
    family: str
    where: str
    looks: str
    shown: tuple[str, str]
    confused: tuple[str, ...]
    source: str
    names: tuple[str, ...] = ()
    accepted: tuple[str, ...] = ()
    asks: tuple[str, ...] = ASKED

    def right(self, ask: str) -> tuple[str, ...]:
        """Everything that is right when its "name" or its "meaning" is asked, the usual one first."""
        return (self.name, *self.names) if ask == "name" else (self.meaning, *self.accepted)


def read_signs(text: str) -> dict[str, Sign]:
    """Read a table of signs.

    Raises:
        BadSyllabus: with every fault: a sign that stands twice, a sign it is confused with that is not there, a
            picture or a question that does not exist.
    """
    try:
        raw: Any = tomllib.loads(text)
        rows = convert(raw.get("sign", []), tuple[Sign, ...])
    except (ValidationError, tomllib.TOMLDecodeError) as error:
        raise BadSyllabus(f"signs.toml: {error}") from error
    found = {row.id: row for row in rows}
    faults = [f"{id_} stands twice" for id_ in sorted(found) if sum(row.id == id_ for row in rows) > 1]
    for row in rows:
        faults += [
            f"{row.id} is confused with {other!r}, which is not there" for other in row.confused if other not in found
        ]
        if row.shown[0] not in PICTURES:
            faults.append(f"{row.id} is shown by {row.shown[0]!r}, which is not one of {', '.join(PICTURES)}")
        if row.shown[0] == "glyph" and not _GLYPH.fullmatch(row.shown[1]):
            faults.append(f"{row.id} is shown by the glyph {row.shown[1]!r}, which is not one like U+E262")
        if sum(row.shown == other.shown for other in rows) > 1:
            faults.append(f"{row.id} looks the same as another: {' '.join(row.shown)}")
        if not row.asks or not set(row.asks) <= set(ASKED):
            faults.append(f"{row.id} asks {row.asks}, it must be some of {', '.join(ASKED)}")
    if faults or not rows:
        raise BadSyllabus(f"signs.toml: {'; '.join(faults) or 'there is no sign in it'}")
    return found


@lru_cache(maxsize=1)
def listed_signs() -> dict[str, Sign]:
    """Every sign of the list by id, those of the questions first.

    Raises:
        BadSyllabus: the data file is broken.

    >>> listed_signs()["natural"].meaning
    'cancel a sharp or a flat'
    """
    return read_signs(files("stavewright.syllabus").joinpath("data/signs.toml").read_text("utf-8"))


@lru_cache(maxsize=1)
def all_signs() -> dict[str, Sign]:
    """Every sign that a stave of three notes can show, by id: those that questions ask.

    Raises:
        BadSyllabus: the data file is broken.

    >>> all_signs()["fermata"].right("name")[:2]
    ('pause', 'fermata')
    """
    return {id_: sign for id_, sign in listed_signs().items() if sign.shown[0] != "glyph"}


@lru_cache(maxsize=8)
def signs_known(level: int) -> tuple[Sign, ...]:
    """The signs a pupil has met up to a level.

    >>> [len(signs_known(level)) for level in (1, 2, 3, 4, 5)]
    [18, 32, 37, 45, 46]
    """
    return tuple(sign for sign in all_signs().values() if sign.level <= level)


def sign_of(id: str) -> Sign:
    """The sign with that id.

    Raises:
        BadSyllabus: no such sign.

    >>> sign_of("mf").meaning
    'moderately loud'
    """
    found = listed_signs().get(id)
    if found is None:
        raise BadSyllabus(f"no sign {id!r}: known are {', '.join(listed_signs())}")
    return found
