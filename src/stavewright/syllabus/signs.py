"""The signs of the score: name, meaning, what they are mixed up with, and what a picture of them shows."""

from __future__ import annotations

import tomllib
from functools import lru_cache
from importlib.resources import files
from typing import Any

from msgspec import Struct, ValidationError, convert

from stavewright.syllabus.errors import BadSyllabus

PICTURES = (
    "mark", "dot", "chord", "dynamic", "hairpin", "curve", "line", "ending", "direction", "grace", "tuplet", "time",
    "rest",
)  # fmt: skip
ASKED = ("name", "meaning")


class Sign(Struct, frozen=True, forbid_unknown_fields=True):
    """One sign: name and other names, meaning and other right meanings, the grade that adds it, how it is shown.

    `where` points at it in a prompt and `looks` describes it to a listener, neither with its name. `shown` is what the
    picture is built from, one of PICTURES and which one. `confused` lists the signs it is taken for.
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
        if not row.asks or not set(row.asks) <= set(ASKED):
            faults.append(f"{row.id} asks {row.asks}, it must be some of {', '.join(ASKED)}")
    if faults or not rows:
        raise BadSyllabus(f"signs.toml: {'; '.join(faults) or 'there is no sign in it'}")
    return found


@lru_cache(maxsize=1)
def all_signs() -> dict[str, Sign]:
    """Every sign by id.

    Raises:
        BadSyllabus: the data file is broken.

    >>> all_signs()["fermata"].right("name")[:2]
    ('pause', 'fermata')
    """
    return read_signs(files("stavewright.syllabus").joinpath("data/signs.toml").read_text("utf-8"))


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
    found = all_signs().get(id)
    if found is None:
        raise BadSyllabus(f"no sign {id!r}: known are {', '.join(all_signs())}")
    return found
