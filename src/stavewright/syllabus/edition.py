"""Editions as data: marks by topic, minutes, bands, and the recipes that turn marks into questions."""

from __future__ import annotations

import tomllib
from collections.abc import Collection
from functools import lru_cache
from importlib.resources import files
from typing import Any

from msgspec import Struct, ValidationError, convert, field

from stavewright.syllabus.errors import BadSyllabus, UnknownEdition

EDITIONS = ("written", "on-screen")


class Recipe(Struct, frozen=True, forbid_unknown_fields=True):
    """One family of questions within a topic: marks an item by edition, fewest and most items, share of the topic.

    `since` and `until` are the first and last grade that set it; `extract` families are asked of the shared extract
    only.
    """

    topic: str
    kind: str
    marks: dict[str, int]
    items: tuple[int, int]
    share: int
    since: int = 1
    until: int = 5
    extract: bool = False


class ExtractPart(Struct, frozen=True, forbid_unknown_fields=True):
    """A part that is asked of the shared extract beside the reading parts."""

    kind: str
    topic: str
    marks: int
    until: int = 5


class Edition(Struct, frozen=True, forbid_unknown_fields=True):
    """One edition at one grade: marks by topic, minutes, what it is in words, and the forms in use.

    `forms` are the editions of the program whose forms are used, `own` says so for single kinds or topics. `retired`
    are kinds that are not asked, with the reason; `kinds`, if given, are the only ones that are.
    """

    id: str
    grade: int
    title: str
    says: str
    minutes: int
    marks: dict[str, int]
    forms: tuple[str, ...]
    own: dict[str, tuple[str, ...]] = {}
    retired: dict[str, str] = {}
    kinds: tuple[str, ...] | None = None

    @property
    def total(self) -> int:
        """The marks of a whole paper."""
        return sum(self.marks.values())

    def forms_of(self, kind: str, topic: str, known: Collection[str]) -> tuple[str, ...]:
        """Whose forms a kind is asked in (of those it is `known` to have): none where the edition leaves it out.

        >>> edition("written", 3).forms_of("which-clef", "notes", ("written", "on-screen"))
        ('written',)
        >>> edition("on-screen", 3).forms_of("copy-the-bars", "notes", ("written",))
        ()
        """
        if kind in self.retired or (self.kinds is not None and kind not in self.kinds):
            return ()
        chosen = self.own.get(kind) or self.own.get(topic) or self.forms
        return tuple(name for name in chosen if name in known and kind not in retired(name))

    def reason(self, kind: str, topic: str) -> str:
        """Why the edition does not ask a kind."""
        if kind in self.retired:
            return self.retired[kind]
        if self.kinds is not None and kind not in self.kinds:
            return f"not among the kinds of {self.title}"
        for name in self.own.get(kind) or self.own.get(topic) or self.forms:
            if kind in retired(name):
                return retired(name)[kind]
        return "this edition has no form for it"


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


@lru_cache(maxsize=32)
def edition(id: str, grade: int) -> Edition:
    """An edition at a grade, or a mix of editions, joined with a plus: both forms of a kind are in use.

    Raises:
        UnknownEdition: not "written" or "on-screen", nor both joined with a plus.
        BadSyllabus: the data file is broken or the marks do not add up to 100.

    >>> sum(edition("written", 3).marks.values())
    100
    >>> edition("written+on-screen", 3).minutes
    82
    """
    names = id.split("+")
    if any(name not in EDITIONS for name in names) or len(set(names)) < len(names):
        raise UnknownEdition(
            f"no edition {id[:60]!r}: editions are {' and '.join(EDITIONS)} (or both: {'+'.join(EDITIONS)})"
        )
    return _one(id, grade) if len(names) == 1 else _mix(tuple(_one(name, grade) for name in names))


def _one(id: str, grade: int) -> Edition:
    row = _table("editions.toml")[id]
    marks = {topic: by_grade[grade - 1] for topic, by_grade in row["marks"].items() if by_grade[grade - 1]}
    if sum(marks.values()) != 100:
        raise BadSyllabus(f"editions.toml, {id} grade {grade}: marks add up to {sum(marks.values())}, not 100")
    fields = {"id": id, "grade": grade, "title": row["title"], "says": row["says"], "marks": marks}
    fields |= {"minutes": row["minutes"][grade - 1], "forms": (id,), "retired": retired(id)}
    found: Edition = _read(fields, Edition, f"editions.toml, {id}")
    return found


def _mix(parts: tuple[Edition, ...]) -> Edition:
    """Editions mixed: marks and minutes half-way (odd halves rounded up in turn), every form of each in use."""
    marks: dict[str, int] = {}
    over = 0
    for topic in dict.fromkeys(topic for part in parts for topic in part.marks):
        over += sum(part.marks.get(topic, 0) for part in parts)
        marks[topic] = over // len(parts)
        over -= marks[topic] * len(parts)
    return Edition(
        id="+".join(part.id for part in parts),
        grade=parts[0].grade,
        title=" and ".join(part.title for part in parts),
        says="; ".join(part.says for part in parts),
        minutes=sum(part.minutes for part in parts) // len(parts),
        marks={topic: value for topic, value in marks.items() if value},
        forms=tuple(name for part in parts for name in part.forms),
    )


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
    """Where the marks of a topic go when it has no kinds to set (none known: an empty tuple)."""
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
def training() -> dict[str, str]:
    """The kinds that papers leave to practice, each with the reason.

    Raises:
        BadSyllabus: the data file is broken.
    """
    found: dict[str, str] = _read(_table("recipes.toml")["training"], dict[str, str], "recipes.toml, training")
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
