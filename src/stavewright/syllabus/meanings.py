"""Reading the meaning of a term: one sense for the many words a pupil may say it in."""

from __future__ import annotations

import re
import tomllib
import unicodedata
from functools import lru_cache
from importlib.resources import files

from msgspec import Struct, ValidationError, convert

from stavewright.syllabus.errors import BadSyllabus


class _Table(Struct, frozen=True, forbid_unknown_fields=True):
    fillers: tuple[str, ...]
    degrees: frozenset[str]
    senses: dict[str, tuple[str, ...]]
    opposites: dict[str, str]


class _Lexicon(Struct, frozen=True):
    phrases: dict[tuple[str, ...], str | None]
    longest: int
    degrees: frozenset[str]
    opposites: dict[str, str]


def fold(text: str) -> tuple[str, ...]:
    """The plain words of a text: no case, accents or punctuation.

    >>> fold("Più mosso: faster, at once")
    ('piu', 'mosso', 'faster', 'at', 'once')
    """
    plain = unicodedata.normalize("NFKD", text.casefold())
    plain = "".join(c for c in plain if not unicodedata.combining(c))
    return tuple(re.findall(r"[a-z0-9']+", plain.replace("’", "'")))


@lru_cache(maxsize=1)
def _lexicon() -> _Lexicon:
    raw = tomllib.loads(files("stavewright.syllabus").joinpath("data/meanings.toml").read_text("utf-8"))
    try:
        table = convert(raw, _Table)
    except ValidationError as error:
        raise BadSyllabus(f"meanings.toml: {error}") from error
    phrases: dict[tuple[str, ...], str | None] = {fold(filler): None for filler in table.fillers}
    faults: list[str] = []
    for sense, ways in table.senses.items():
        for way in ways:
            known = phrases.setdefault(fold(way), sense)
            if known != sense:
                faults.append(f"{way!r} stands under {known!r} and under {sense!r}")
    if faults:
        raise BadSyllabus(f"meanings.toml: {'; '.join(faults)}")
    both = table.opposites | {right: left for left, right in table.opposites.items() if right not in table.opposites}
    return _Lexicon(phrases, max(map(len, phrases)), table.degrees, both)


@lru_cache(maxsize=8192)
def read_meaning(text: str) -> frozenset[str]:
    """The senses a meaning names, whatever words it uses; words of no known sense stand for themselves.

    Raises:
        BadSyllabus: the data file is broken.

    >>> read_meaning("Gradually slowing down.") == read_meaning("getting gradually slower")
    True
    >>> read_meaning("loud") == read_meaning("louder")
    False
    """
    lexicon = _lexicon()
    words = fold(text)
    found: list[str] = []
    place = 0
    while place < len(words):
        for size in range(min(lexicon.longest, len(words) - place), 0, -1):
            piece = words[place : place + size]
            if piece in lexicon.phrases:
                sense = lexicon.phrases[piece]
                if sense is not None:
                    found.append(sense)
                place += size
                break
        else:
            found.append(words[place])
            place += 1
    return frozenset(found or words)


def same_meaning(one: str, other: str) -> bool:
    """Whether two meanings say the same in other words.

    >>> same_meaning("lively and quick", "fast, spirited")
    True
    """
    return read_meaning(one) == read_meaning(other)


def too_near(one: str, other: str) -> bool:
    """Whether two meanings cannot fairly stand side by side: the same degree, and one says no more than the other.

    >>> too_near("fast and lively", "lively"), too_near("fast", "very fast")
    (True, False)
    """
    degrees = _lexicon().degrees
    left, right = read_meaning(one), read_meaning(other)
    if left & degrees != right & degrees:
        return False
    left, right = left - degrees, right - degrees
    return left <= right or right <= left


def opposed(one: str, other: str) -> bool:
    """Whether a meaning says the opposite of another.

    >>> opposed("gradually getting slower", "getting faster")
    True
    """
    opposites = _lexicon().opposites
    right = read_meaning(other)
    return any(opposites.get(sense) in right for sense in read_meaning(one)) or any(
        opposites.get(sense) in read_meaning(one) for sense in right
    )
