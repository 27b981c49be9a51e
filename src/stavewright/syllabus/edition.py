"""Editions as data: marks by topic, minutes, bands, and the recipes that turn marks into questions."""

from __future__ import annotations

import tomllib
from functools import lru_cache
from importlib.resources import files
from typing import Any

from msgspec import Struct, ValidationError, convert, field

from stavewright.syllabus.errors import BadSyllabus, UnknownEdition

EDITIONS = ("written", "on-screen")


class Recipe(Struct, frozen=True, forbid_unknown_fields=True):
    """One family of questions within a topic: marks an item by edition, fewest and most items, share of the topic.

    `until` is the last grade that sets it; `extract` families are asked of the shared extract only.
    """

    topic: str
    kind: str
    marks: dict[str, int]
    items: tuple[int, int]
    share: int
    until: int = 5
    extract: bool = False


class ExtractPart(Struct, frozen=True, forbid_unknown_fields=True):
    """A part that is asked of the shared extract beside the reading parts."""

    kind: str
    topic: str
    marks: int
    until: int = 5


class Edition(Struct, frozen=True, forbid_unknown_fields=True):
    """One edition at one grade: marks by topic (sum 100), minutes, and what it is in words."""

    id: str
    grade: int
    title: str
    says: str
    minutes: int
    marks: dict[str, int]


class Bands(Struct, frozen=True, forbid_unknown_fields=True):
    """The lowest mark (of 100) of each band; common practice, to be confirmed by the teacher."""

    pass_: int = field(name="pass")
    merit: int
    distinction: int

    def band(self, marks: int, of: int) -> str:
        """The band of so many marks.

        >>> bands().band(66, 100), bands().band(65, 100), bands().band(45, 50)
        ('pass', 'below pass', 'distinction')
        """
        for name, least in (("distinction", self.distinction), ("merit", self.merit), ("pass", self.pass_)):
            if marks * 100 >= least * of:
                return name
        return "below pass"


@lru_cache(maxsize=4)
def _table(name: str) -> dict[str, Any]:
    return tomllib.loads(files("stavewright.syllabus").joinpath(f"data/{name}").read_text("utf-8"))


def _read(value: Any, type_: type[Any], where: str) -> Any:
    try:
        return convert(value, type_)
    except ValidationError as error:
        raise BadSyllabus(f"{where}: {error}") from error


@lru_cache(maxsize=1)
def bands() -> Bands:
    """The bands.

    Raises:
        BadSyllabus: the data file is broken.
    """
    found: Bands = _read(_table("editions.toml")["bands"], Bands, "editions.toml, bands")
    return found


@lru_cache(maxsize=16)
def edition(id: str, grade: int) -> Edition:
    """An edition at a grade.

    Raises:
        UnknownEdition: not "written" or "on-screen".
        BadSyllabus: the data file is broken or the marks do not add up to 100.

    >>> sum(edition("written", 3).marks.values())
    100
    """
    if id not in EDITIONS:
        raise UnknownEdition(f"no edition {id[:60]!r}: editions are {' and '.join(EDITIONS)}")
    row = _table("editions.toml")[id]
    marks = {topic: by_grade[grade - 1] for topic, by_grade in row["marks"].items() if by_grade[grade - 1]}
    if sum(marks.values()) != 100:
        raise BadSyllabus(f"editions.toml, {id} grade {grade}: marks add up to {sum(marks.values())}, not 100")
    fields = {"id": id, "grade": grade, "title": row["title"], "says": row["says"], "marks": marks}
    found: Edition = _read({**fields, "minutes": row["minutes"][grade - 1]}, Edition, f"editions.toml, {id}")
    return found


@lru_cache(maxsize=4)
def retired(id: str) -> dict[str, str]:
    """The kinds that an edition no longer asks, each with the reason.

    Raises:
        BadSyllabus: the data file is broken.
    """
    found: dict[str, str] = _read(_table("editions.toml")[id].get("retired", {}), dict[str, str], f"{id}, retired")
    return found


@lru_cache(maxsize=8)
def moves(topic: str, grade: int) -> tuple[str, ...]:
    """Where the marks of a topic go when it has no kinds to set."""
    return tuple(_table("editions.toml").get("move", {}).get(topic, [[]] * 5)[grade - 1])


@lru_cache(maxsize=1)
def recipes() -> tuple[Recipe, ...]:
    """Every recipe, in print order.

    Raises:
        BadSyllabus: the data file is broken.
    """
    found: tuple[Recipe, ...] = _read(_table("recipes.toml")["recipe"], tuple[Recipe, ...], "recipes.toml")
    return found


@lru_cache(maxsize=1)
def extract_parts() -> tuple[ExtractPart, ...]:
    """The parts asked of the shared extract beside reading, in order.

    Raises:
        BadSyllabus: the data file is broken.
    """
    found: tuple[ExtractPart, ...] = _read(
        _table("recipes.toml")["extract-part"], tuple[ExtractPart, ...], "recipes.toml, extract-part"
    )
    return found
