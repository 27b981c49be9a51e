"""How pupils write: the small words, the other ways to say a thing, and which senses lie near or against each other."""

from __future__ import annotations

import tomllib
from functools import lru_cache
from importlib.resources import files

from msgspec import Struct, ValidationError, convert

from stavewright.syllabus.errors import BadSyllabus
from stavewright.syllabus.meanings import fold, lexicon


class Ways(Struct, frozen=True, forbid_unknown_fields=True):
    """How pupils write: words that add nothing or do no harm, other ways to say a word, real words, changes."""

    padding: frozenset[str]
    loose: frozenset[str]
    instead: dict[str, str]
    own: frozenset[str]
    roots: dict[str, str]
    against: dict[str, str]
    near: dict[str, frozenset[str]]
    beside: dict[str, frozenset[str]]


@lru_cache(maxsize=1)
def ways() -> Ways:
    """The table of ways.

    Raises:
        BadSyllabus: the data file is broken, or names a sense that is not in meanings.toml.

    >>> "you" in ways().padding
    True
    """
    raw = tomllib.loads(files("stavewright.syllabus").joinpath("data/typed.toml").read_text("utf-8"))
    try:
        found = convert(raw, Ways)
    except ValidationError as error:
        raise BadSyllabus(f"typed.toml: {error}") from error
    unknown = sorted({*found.roots, *found.roots.values()} - set(lexicon().phrases.values()))
    if unknown:
        raise BadSyllabus(f"typed.toml: roots of senses that are not in meanings.toml: {', '.join(map(str, unknown))}")
    return found


@lru_cache(maxsize=1)
def instead() -> tuple[dict[tuple[str, ...], tuple[str, ...]], int]:
    """What is said instead of which words, and the length of the longest.

    >>> instead()[0][("4", "4")]
    ('common', 'time')
    """
    table = {fold(said): fold(plain) for said, plain in ways().instead.items()}
    return table, max(map(len, table))


@lru_cache(maxsize=4096)
def near_to(sense: str, other: str) -> bool:
    """Whether a sense may stand for another that says nearly the same.

    >>> near_to("tender", "gentle"), near_to("tender", "loud")
    (True, False)
    """
    return other in ways().near.get(sense, ())


def beside(sense: str, others: frozenset[str]) -> bool:
    """Whether a sense does no harm beside one of the others.

    >>> beside("calm", frozenset({"slow"})), beside("loud", frozenset({"slow"}))
    (True, False)
    """
    table = ways().beside
    return any(sense in table.get(other, ()) for other in others)


def is_loose(sense: str) -> bool:
    """Whether a word does no harm beside a meaning that does not have it.

    >>> is_loose("piece"), is_loose("loud")
    (True, False)
    """
    return sense in ways().loose


@lru_cache(maxsize=1024)
def root_of(sense: str) -> str:
    """The state that a change leads to: slow for "getting slower"; a sense that is no change is its own.

    >>> root_of("getting slower"), root_of("loud")
    ('slow', 'loud')
    """
    return ways().roots.get(sense, sense)


@lru_cache(maxsize=1024)
def opposite_of(sense: str) -> frozenset[str]:
    """The senses that cannot be true together with this one.

    >>> "getting faster" in opposite_of("slower")
    True
    """
    pairs = (*lexicon().opposites.items(), *ways().against.items())
    roots = ways().roots.values()

    def facing(one: str) -> set[str]:
        return {right for left, right in pairs if left == one} | {left for left, right in pairs if right == one}

    found = facing(sense)
    root = root_of(sense)
    if root in roots:
        against = facing(root)
        found |= against | {other for other in ways().roots if root_of(other) in against}
    return frozenset(found)
