"""Choosing what a paper is set by: an edition, a mix of editions, or a teacher's own edition file."""

from __future__ import annotations

from collections.abc import Sequence
from difflib import get_close_matches
from pathlib import PurePath

from stavewright.questions.catalogue import kinds
from stavewright.syllabus.edition import EDITIONS, Edition, edition
from stavewright.syllabus.errors import BadSyllabus, UnknownEdition
from stavewright.syllabus.own_edition import read_edition, topics
from stavewright.theory.errors import together

Named = str | tuple[str, bytes]
"""The name of an edition, or the name and the bytes of a file."""


def choose_edition(named: Sequence[Named], grade: int) -> Edition:
    """One edition; two or more names are a mix: both forms of every kind are in use, marks and minutes half-way.

    Raises:
        UnknownEdition: a name that is none, or a file mixed with something else.
        BadSyllabus: the file is broken, or names kinds that there are not (near ones are named).

    >>> choose_edition(["written", "on-screen"], 3).id
    'written+on-screen'
    """
    files = [one for one in named if not isinstance(one, str)]
    if files and len(named) > 1:
        raise UnknownEdition(
            "an edition file stands alone: say in the file what it is based on (base = \"written+on-screen\" mixes)"
        )
    if files:
        return own_edition(files[0][1], grade, PurePath(files[0][0]).name)
    names = dict.fromkeys(name for one in named if isinstance(one, str) for name in one.split("+"))
    return edition("+".join(sorted(names, key=lambda n: EDITIONS.index(n) if n in EDITIONS else -1)), grade)


def own_edition(data: bytes, grade: int, where: str) -> Edition:
    """A teacher's own edition at a grade, its kinds checked against the catalogue.

    Raises:
        BadSyllabus: the file is broken, or names kinds that there are not.
    """
    found = read_edition(data, grade, where)
    known = kinds()
    faults = []
    for place, names in (("kinds", found.kinds or ()), ("retired", found.retired), ("forms", found.own)):
        for name in names:
            if name in known or (place == "forms" and name in topics()):
                continue
            near = get_close_matches(name, [*known, *topics()] if place == "forms" else list(known), 1)
            hint = f"did you mean {near[0]}?" if near else "`stavewright kinds` lists them."
            faults.append(f"{place}: no kind {name!r}: {hint}")
    if faults:
        raise BadSyllabus(f"{where}: {together(faults)}")
    return found
