"""Verses to set to music: two lines each, our own or in the public domain, their syllables and stresses marked."""

from __future__ import annotations

import tomllib
from functools import cached_property, lru_cache
from importlib.resources import files
from typing import Any

from msgspec import Struct, ValidationError, convert

from stavewright.syllabus.errors import BadSyllabus
from stavewright.theory.verse import METRES, Syllable, VerseError, line_words, metre_of, read_line

THEMES = ("animals", "garden", "home", "night", "play", "sea", "seasons", "sky", "travel", "weather")
FREE_BEFORE = 1926
"""A poet who died before this year is in the public domain where the rule is life and a hundred years or less."""
TRADITIONAL = "traditional"


class Verse(Struct, frozen=True, forbid_unknown_fields=True, dict=True):
    """A couplet: its lines as `theory.verse.read_line` reads them, who wrote it (nobody: our own), what it is about.

    `years` are the poet's birth and death.
    """

    id: str
    lines: tuple[str, str]
    metre: str
    theme: str
    title: str = ""
    author: str = ""
    years: tuple[int, int] | None = None

    @cached_property
    def syllables(self) -> tuple[tuple[Syllable, ...], tuple[Syllable, ...]]:
        """The syllables of both lines."""
        return read_line(self.lines[0]), read_line(self.lines[1])

    @property
    def words(self) -> tuple[str, str]:
        """Both lines as they are read."""
        return line_words(self.syllables[0]), line_words(self.syllables[1])

    @property
    def credit(self) -> str:
        """Who wrote it, and what it is taken from; nothing for a verse of our own.

        >>> verse_of("twinkle").credit, verse_of("kite").credit
        ('Jane Taylor (1783–1824), The Star', '')
        """
        if not self.author:
            return ""
        if self.years is None:
            return f"{self.author.capitalize()}, {self.title}"
        return f"{self.author} ({self.years[0]}–{self.years[1]}), {self.title}"


def _faults(row: Verse) -> list[str]:
    found: list[str] = []
    try:
        metre = metre_of(row.syllables)
    except VerseError as error:
        return [f"{row.id}: {error}"]
    if row.metre not in METRES.values():
        found.append(f"{row.id}: the metre {row.metre!r} is not one of {', '.join(METRES.values())}")
    elif row.metre != metre:
        found.append(f"{row.id}: said to be {row.metre}, but its marks are {metre}")
    if row.theme not in THEMES:
        found.append(f"{row.id}: the theme {row.theme!r} is not one of {', '.join(THEMES)}")
    if row.author and not row.title:
        found.append(f"{row.id}: a verse by {row.author} needs its title")
    if row.author not in ("", TRADITIONAL) and (row.years is None or row.years[1] >= FREE_BEFORE):
        found.append(f"{row.id}: give the years of {row.author}, who must have died before {FREE_BEFORE}")
    if row.author in ("", TRADITIONAL) and row.years is not None:
        found.append(f"{row.id}: years go with a poet's name")
    return found


def read_verses(text: str) -> dict[str, Verse]:
    """Read a table of verses.

    Raises:
        BadSyllabus: with every fault: an id that stands twice, a line that cannot be read, marks that do not give the
            metre named, an unknown theme, a poet who is not long enough dead.
    """
    try:
        raw: Any = tomllib.loads(text)
        rows = convert(raw.get("verse", []), tuple[Verse, ...])
    except (ValidationError, tomllib.TOMLDecodeError) as error:
        raise BadSyllabus(f"verses.toml: {error}") from error
    found = {row.id: row for row in rows}
    faults = [f"{id_} stands twice" for id_ in sorted(found) if sum(row.id == id_ for row in rows) > 1]
    for row in rows:
        faults += _faults(row)
    if faults or not rows:
        raise BadSyllabus(f"verses.toml: {'; '.join(faults) or 'there is no verse in it'}")
    return found


@lru_cache(maxsize=1)
def all_verses() -> dict[str, Verse]:
    """Every verse by id.

    Raises:
        BadSyllabus: the data file is broken.

    >>> all_verses()["kite"].words[1]
    'And pulls to touch the sky.'
    """
    return read_verses(files("stavewright.syllabus").joinpath("data/verses.toml").read_text("utf-8"))


def verse_of(id: str) -> Verse:
    """The verse with that id.

    Raises:
        BadSyllabus: no such verse.

    >>> verse_of("tyger").author
    'William Blake'
    """
    found = all_verses().get(id)
    if found is None:
        raise BadSyllabus(f"no verse {id!r}: known are {', '.join(all_verses())}")
    return found
