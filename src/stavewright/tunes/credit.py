"""The words that are printed with an extract: tune, collection and transcriber, or composer and work."""

from __future__ import annotations

import re
from pathlib import PurePosixPath
from typing import Final

from stavewright.tunes.collections import FOLK, SCORES, Collection

__all__ = ["collection_of", "score_credit", "tune_credit", "work_title"]

_BY_ID: Final = {one.id: one for one in (*FOLK, *SCORES)}
_OPUS: Final = re.compile(r"opus(\d+)(?:no(\d+))?")
_PERMISSION: Final = re.compile(r"(?i)\s*(?:- used by permission.*|\bwww\.\S+|https?:\S+)")
_LONGEST: Final = 90


def collection_of(name: str) -> Collection | None:
    """The collection of an id, or None for one that is not allowed."""
    return _BY_ID.get(name)


def tune_credit(title: str, collection: Collection, transcriber: str, composer: str = "") -> str:
    """The credit of a folk tune.

    >>> tune_credit("The White Cockade", FOLK[0], "Ann Example")
    "'The White Cockade' from Aird's Airs (Glasgow, from 1778), transcribed by Ann Example"
    """
    composer = _short(composer.strip('"'))
    by = ""
    if composer and composer[:4].lower() not in ("trad", "anon"):
        by = f", {composer}," if composer.lower().startswith("collected") else f" by {composer}"
    who = f"transcribed by {transcriber}" if transcriber else "transcriber not named"
    name = f"'{_in_order(_short(title))}'{by} from " if title else "A tune from "
    return f"{name}{collection.title}, {who}"


def _in_order(title: str) -> str:
    """A title sorted under its second word, put back in order."""
    head, comma, article = title.rpartition(", ")
    return f"{article} {head}" if comma and article in ("The", "A", "An") else title


def work_title(path: str) -> str:
    """The work a file of the corpus holds, told from its name.

    >>> work_title("bach/bwv10.7.mxl"), work_title("mozart/k458/movement2.mxl")
    ('Chorale, BWV 10.7', 'String Quartet, K. 458, movement 2')
    >>> work_title("beethoven/opus59no3/movement4.mxl")
    'String Quartet, Op. 59 No. 3, movement 4'
    """
    name = PurePosixPath(path)
    if name.parts[0] == "bach":
        return f"Chorale, BWV {name.stem.removeprefix('bwv').split('-')[0]}"
    where = name.parts[1].removesuffix(".mxl")
    movement = f", movement {name.stem.removeprefix('movement')}" if name.stem.startswith("movement") else ""
    found = _OPUS.match(where)
    if found:
        number = f" No. {found.group(2)}" if found.group(2) else ""
        return f"String Quartet, Op. {found.group(1)}{number}{movement}"
    return f"String Quartet, K. {where.removeprefix('k')}{movement}"


def score_credit(composer: str, title: str, part: str = "", rights: str = "") -> str:
    """The credit of a passage from a score; addresses in what the file says of its rights are left out.

    >>> score_credit("J. S. Bach", "Chorale, BWV 10.7", "Soprano")
    'J. S. Bach, Chorale, BWV 10.7 (Soprano)'
    """
    rights = _PERMISSION.sub("", rights)
    said = ", ".join(_short(one) for one in (composer, title) if one) or "composer not named"
    return f"{said}{f' ({_short(part)})' if part else ''}{f'; {_short(rights)}' if rights else ''}"


def _short(text: str) -> str:
    plain = " ".join(text.split())
    return plain if len(plain) <= _LONGEST else f"{plain[: _LONGEST - 1]}…"
