"""The terms: what they mean, in which language, which belong together, and when they are learnt."""

from __future__ import annotations

from functools import lru_cache
from importlib.resources import files

from msgspec import Struct

from stavewright.syllabus.errors import BadSyllabus
from stavewright.syllabus.meanings import fold

COLUMNS = ("term", "other", "language", "meaning", "accepted", "theme", "grade", "core", "source", "confirmed")
LANGUAGES = ("Italian", "French", "German", "Latin")
FAMILIES = {
    "speed": (
        "tempo slow", "tempo fast", "medium and other speeds", "getting slower", "getting faster", "back to a speed",
        "free and strict time",
    ),
    "sound": ("loud", "soft", "getting louder", "getting softer"),
    "touch": ("articulation",),
    "mood": (
        "sad", "happy and playful", "gentle and tender", "calm and simple", "strong and fiery", "grand and solemn",
        "singing and other manners",
    ),
    "words": ("how much and how", "little words"),
    "playing": ("technique and players",),
    "form": ("repeats and form", "musical nouns"),
}  # fmt: skip
"""Themes by family: terms of one family may be mixed up, terms of one theme belong together by meaning."""

FAMILY_OF = {theme: family for family, themes in FAMILIES.items() for theme in themes}
THEMES = tuple(FAMILY_OF)
LEVELS = (1, 2, 3, 4, 5)


class Term(Struct, frozen=True):
    """One term: its usual print, other spellings, meaning, other meanings that are right, theme, level, source.

    `level` is the grade that adds it (common practice); `core` marks the terms that papers ask. `source` names the
    books that have it, and `confirmed` says that one of them was read.
    """

    term: str
    other: tuple[str, ...]
    language: str
    meaning: str
    accepted: tuple[str, ...]
    theme: str
    level: int
    core: bool
    source: str
    confirmed: bool

    @property
    def key(self) -> str:
        """The term and its language, the only name that is never shared ("triste" is Italian and French)."""
        return f"{self.term}|{self.language}"

    @property
    def family(self) -> str:
        """The family of its theme: "speed", "sound", "mood" and so on; "own" for a theme of one's own."""
        return FAMILY_OF.get(self.theme, "own")

    @property
    def meanings(self) -> tuple[str, ...]:
        """The meaning and every other that is right."""
        return (self.meaning, *self.accepted)


def _pieces(text: str) -> tuple[str, ...]:
    return tuple(piece.strip() for piece in text.split("|") if piece.strip())


def read_terms(text: str) -> tuple[Term, ...]:
    """Read a table of terms: a header of COLUMNS, then one term a line, fields parted by tabs, lists by "|".

    Raises:
        BadSyllabus: with every fault of the table: wrong columns, a missing meaning, an unknown theme, language or
            level, a term that stands twice.
    """
    header, *lines = text.splitlines() or [""]
    if tuple(header.split("\t")) != COLUMNS:
        raise BadSyllabus(f"terms.tsv: the first line must name the columns {', '.join(COLUMNS)}")
    found: dict[tuple[str, tuple[str, ...]], Term] = {}
    faults: list[str] = []
    for number, line in enumerate(lines, 2):
        fields = line.split("\t")
        if len(fields) != len(COLUMNS):
            faults.append(f"line {number} has {len(fields)} fields, it needs {len(COLUMNS)}")
            continue
        row = dict(zip(COLUMNS, (field.strip() for field in fields), strict=True))
        wrong = _faults(row)
        faults += [f"line {number} ({row['term'] or '?'}): {fault}" for fault in wrong]
        if wrong:
            continue
        key = (row["language"], fold(row["term"]))
        if key in found:
            faults.append(f"line {number}: {row['term']} ({row['language']}) stands twice")
            continue
        found[key] = Term(
            row["term"], _pieces(row["other"]), row["language"], row["meaning"], _pieces(row["accepted"]), row["theme"],
            int(row["grade"]), row["core"] == "yes", row["source"], row["confirmed"] == "yes",
        )  # fmt: skip
    if faults:
        raise BadSyllabus(f"terms.tsv: {'; '.join(faults)}")
    return tuple(found.values())


def _faults(row: dict[str, str]) -> list[str]:
    found = [f"no {name}" for name in ("term", "meaning", "source") if not row[name]]
    for name, known in (("theme", THEMES), ("language", LANGUAGES), ("grade", tuple(map(str, LEVELS)))):
        if row[name] not in known:
            found.append(f"the {name} {row[name]!r} is not one of {', '.join(known)}")
    found += [
        f"{name} is {row[name]!r}, not yes or no" for name in ("core", "confirmed") if row[name] not in ("yes", "no")
    ]
    return found


@lru_cache(maxsize=1)
def all_terms() -> tuple[Term, ...]:
    """Every term of the table.

    Raises:
        BadSyllabus: the data file is broken.

    >>> next(term.meaning for term in all_terms() if term.term == "Rallentando")
    'gradually getting slower'
    """
    return read_terms(files("stavewright.syllabus").joinpath("data/terms.tsv").read_text("utf-8"))


@lru_cache(maxsize=8)
def core_terms(level: int) -> tuple[Term, ...]:
    """The terms that papers ask up to a level.

    >>> [len(core_terms(level)) for level in (1, 2)]
    [28, 62]
    """
    return tuple(term for term in all_terms() if term.core and term.level <= level)


@lru_cache(maxsize=1)
def _by_key() -> dict[str, Term]:
    return {term.key: term for term in all_terms()}


def term_of(key: str) -> Term:
    """The term with that key.

    Raises:
        BadSyllabus: no such term.

    >>> term_of("Triste|French").meaning
    'sad'
    """
    found = _by_key().get(key)
    if found is None:
        raise BadSyllabus(f"no term {key!r}: a key is the term and its language, like 'Allegro|Italian'")
    return found
