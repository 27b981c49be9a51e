"""What goes with a term: how it is said, what it is mixed up with, its opposite, and its senses by context."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from functools import lru_cache
from importlib.resources import files

from msgspec import Struct

from stavewright.syllabus.errors import BadSyllabus
from stavewright.syllabus.terms import Term, all_terms
from stavewright.theory.errors import together

COLUMNS = ("term", "language", "said", "look-alikes", "opposites", "in context")
_SAID = re.compile(r"[A-Za-z()' -]+")
_STRESSED = re.compile(r"[A-Z][A-Z]*")


class Companion(Struct, frozen=True):
    """How a term is said, and the keys of the terms it is mixed up with and of those that say the opposite.

    `said` spells it for an English reader, the stressed syllable in capitals: "ow" as in cow, "(n)" through the nose,
    "kh" as in loch. `senses` are pairs (where it stands, what it means there); empty where it has one meaning.
    """

    said: str
    look_alikes: tuple[str, ...]
    opposites: tuple[str, ...]
    senses: tuple[tuple[str, str], ...]


def read_companions(text: str, terms: Sequence[Term]) -> dict[str, Companion]:
    """Read the table that goes with a table of terms: COLUMNS, one line for each term, lists parted by ";".

    Raises:
        BadSyllabus: with the faults: wrong columns, no way to say a term or no stressed syllable in it, a term that is
            not there, stands twice or is missing, an unknown key, a pair told of one of the two only, a term that is
            its own look-alike or opposite, a sense with no place.
    """
    header, *lines = text.splitlines() or [""]
    if tuple(header.split("\t")) != COLUMNS:
        raise BadSyllabus(f"terms_more.tsv: the first line must name the columns {', '.join(COLUMNS)}")
    known = {term.key for term in terms}
    found: dict[str, Companion] = {}
    faults: list[str] = []
    for number, line in enumerate(lines, 2):
        fields = [field.strip() for field in line.split("\t")]
        if len(fields) != len(COLUMNS):
            faults.append(f"line {number} has {len(fields)} fields, it needs {len(COLUMNS)}")
            continue
        term, language, said, alike, against, context = fields
        key = f"{term}|{language}"
        wrong = [] if key in known else [f"no such term {key!r} in terms.tsv"]
        wrong += ["stands twice"] if key in found else []
        wrong += _said_faults(said)
        pieces = _pieces(context)
        wrong += [f"{piece!r} must be: where it stands: what it means" for piece in pieces if ": " not in piece]
        if wrong:
            faults += [f"line {number} ({term or '?'}): {fault}" for fault in wrong]
            continue
        parted = (piece.partition(": ") for piece in pieces)
        senses = tuple((place.strip(), sense.strip()) for place, _, sense in parted)
        found[key] = Companion(said, _pieces(alike), _pieces(against), senses)
    faults += [f"{key} has no line" for key in sorted(known - set(found))]
    faults += _one_sided(found, "look-alikes", lambda one: one.look_alikes)
    faults += _one_sided(found, "opposites", lambda one: one.opposites)
    if faults:
        raise BadSyllabus(f"terms_more.tsv: {together(faults)}")
    return found


def _pieces(text: str) -> tuple[str, ...]:
    return tuple(piece.strip() for piece in text.split(";") if piece.strip())


def _said_faults(said: str) -> list[str]:
    if not said:
        return ["no pronunciation: spell it for an English reader, like al-LEH-groh"]
    if not _SAID.fullmatch(said):
        return [f"{said!r} is spelt with letters, hyphens and (n) only"]
    return [] if _STRESSED.search(said) else [f"{said!r} has no stressed syllable in capitals"]


def _one_sided(found: dict[str, Companion], name: str, side: Callable[[Companion], tuple[str, ...]]) -> list[str]:
    faults = []
    for key, one in found.items():
        for other in side(one):
            if other == key:
                faults.append(f"{key} stands among its own {name}")
            elif other not in found:
                faults.append(f"{key}, {name}: no term {other!r}; a key is the term and its language")
            elif key not in side(found[other]):
                faults.append(f"{key} has {other} among its {name}, but {other} does not have {key}")
        if len(set(side(one))) != len(side(one)):
            faults.append(f"{key} has one of its {name} twice")
    return faults


@lru_cache(maxsize=1)
def companions() -> dict[str, Companion]:
    """What goes with each term, by its key.

    Raises:
        BadSyllabus: the data file is broken.

    >>> companions()["Allegro|Italian"].said
    'ahl-LEH-groh'
    """
    text = files("stavewright.syllabus").joinpath("data/terms_more.tsv").read_text("utf-8")
    return read_companions(text, all_terms())


def companion_of(key: str) -> Companion:
    """What goes with one term.

    Raises:
        BadSyllabus: no such term.

    >>> companion_of("Rallentando|Italian").opposites
    ('Accelerando|Italian',)
    """
    found = companions().get(key)
    if found is None:
        raise BadSyllabus(f"no term {key!r}: a key is the term and its language, like 'Allegro|Italian'")
    return found
