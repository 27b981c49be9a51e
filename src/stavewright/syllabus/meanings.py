"""Reading the meaning of a term: one sense for the many words a pupil may say it in."""

from __future__ import annotations

import re
import tomllib
import unicodedata
from functools import lru_cache
from importlib.resources import files

from msgspec import Struct, ValidationError, convert

from stavewright.syllabus.errors import BadSyllabus


class _Change(Struct, frozen=True, forbid_unknown_fields=True):
    """A speed or loudness that changes: its comparatives, the verbs of more or less, and what grows or shrinks."""

    than: tuple[str, ...]
    verbs: tuple[str, ...]
    things: tuple[str, ...]

    def ways(self, turning: tuple[str, ...]) -> list[str]:
        """Every way to say it: "gets slower", "gradually decreasing in speed", "reduce the tempo gradually"."""
        said = [f"{verb} {than}" for verb in turning for than in self.than]
        inside = [f"{verb} gradually {than}" for verb in turning for than in self.than]
        said += [
            f"{verb} {link}{thing}" for verb in self.verbs for link in ("", "in ", "the ") for thing in self.things
        ]
        said += [f"{than} and {than}" for than in self.than]
        said += [f"{verb} {than} and {than}" for verb in turning for than in self.than]
        whole = [*said, *(f"gradually {than}" for than in self.than), *(f"{than} gradually" for than in self.than)]
        slowly = ("gradually", "little by little", "bit by bit", "slowly", "over time")
        return [
            *whole,
            *inside,
            *(f"{how} {way}" for how in ("gradually", "slowly") for way in said),
            *(f"{way} {how}" for way in said for how in slowly),
        ]


class _Table(Struct, frozen=True, forbid_unknown_fields=True):
    fillers: tuple[str, ...]
    degrees: frozenset[str]
    turning: tuple[str, ...]
    changes: dict[str, _Change]
    senses: dict[str, tuple[str, ...]]
    opposites: dict[str, str]


class Lexicon(Struct, frozen=True):
    """Phrases with their senses (None for words that add nothing), which senses are degrees, opposites both ways."""

    phrases: dict[tuple[str, ...], str | None]
    longest: int
    degrees: frozenset[str]
    opposites: dict[str, str]


_MILD = frozenset({"fairly", "moderately", "half"})
"""Degrees that say the same before another word, and each its own alone: "half" is no speed, "moderate" is one."""


@lru_cache(maxsize=4096)
def fold(text: str) -> tuple[str, ...]:
    """The plain words of a text: no case, accents or punctuation.

    >>> fold("Più mosso: faster, at once")
    ('piu', 'mosso', 'faster', 'at', 'once')
    """
    plain = unicodedata.normalize("NFKD", text.casefold())
    plain = "".join(c for c in plain if not unicodedata.combining(c))
    return tuple(re.findall(r"[a-z0-9']+", plain.replace("’", "'")))


@lru_cache(maxsize=1)
def lexicon() -> Lexicon:
    """The table of senses.

    Raises:
        BadSyllabus: the data file is broken.

    >>> lexicon().phrases[("swiftly",)]
    'fast'
    """
    raw = tomllib.loads(files("stavewright.syllabus").joinpath("data/meanings.toml").read_text("utf-8"))
    try:
        table = convert(raw, _Table)
    except ValidationError as error:
        raise BadSyllabus(f"meanings.toml: {error}") from error
    phrases: dict[tuple[str, ...], str | None] = {fold(filler): None for filler in table.fillers}
    faults: list[str] = []
    changes = {sense: change.ways(table.turning) for sense, change in table.changes.items()}
    for sense, ways in (*table.senses.items(), *changes.items()):
        for way in ways:
            known = phrases.setdefault(fold(way), sense)
            if known != sense:
                faults.append(f"{way!r} stands under {known!r} and under {sense!r}")
    if faults:
        raise BadSyllabus(f"meanings.toml: {'; '.join(faults)}")
    both = table.opposites | {right: left for left, right in table.opposites.items() if right not in table.opposites}
    return Lexicon(phrases, max(map(len, phrases)), table.degrees, both)


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
    return frozenset(senses_in_order(text))


@lru_cache(maxsize=8192)
def senses_in_order(text: str) -> tuple[str, ...]:
    """The senses in the order they are said.

    >>> senses_in_order("loud, then soft")
    ('loud', 'then', 'soft')
    """
    table = lexicon()
    words = fold(text)
    found: list[str] = []
    place = 0
    while place < len(words):
        for size in range(min(table.longest, len(words) - place), 0, -1):
            piece = words[place : place + size]
            if piece in table.phrases:
                sense = table.phrases[piece]
                if sense is not None:
                    found.append(sense)
                place += size
                break
        else:
            found.append(words[place])
            place += 1
    senses = tuple(found or words)
    return senses if set(senses) <= _MILD else tuple("fairly" if sense in _MILD else sense for sense in senses)


def same_meaning(one: str, other: str) -> bool:
    """Whether two meanings say the same in other words; where one thing turns into its opposite, in the same order.

    >>> same_meaning("lively and quick", "fast, spirited")
    True
    >>> same_meaning("loud, then soft", "soft, then loud")
    False
    """
    return read_meaning(one) == read_meaning(other) and _turns(one) == _turns(other)


def _turns(text: str) -> tuple[str, ...]:
    """The senses of a meaning that are opposites of each other, in the order they are said."""
    senses, opposites = senses_in_order(text), lexicon().opposites
    return tuple(sense for sense in senses if opposites.get(sense) in senses)


def too_near(one: str, other: str) -> bool:
    """Whether two meanings cannot fairly stand side by side: the same degree, and one says no more than the other.

    >>> too_near("fast and lively", "lively"), too_near("fast", "very fast")
    (True, False)
    """
    degrees = lexicon().degrees
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
    opposites = lexicon().opposites
    left, right = (_one_sided(read_meaning(said)) for said in (one, other))
    return any(opposites.get(sense) in right for sense in left) or any(opposites.get(sense) in left for sense in right)


def _one_sided(senses: frozenset[str]) -> frozenset[str]:
    """The senses of a meaning without those it holds both ways, as "loud, then at once soft" does."""
    opposites = lexicon().opposites
    both = {sense for sense in senses if opposites.get(sense) in senses}
    return senses - both - {opposites[sense] for sense in both}
