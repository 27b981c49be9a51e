"""The index of extracts: where in the installed collections each one lies and what a grade must allow for it.

The index holds places and measures, never notes: an extract is read again from the collection when it is chosen.
"""

from __future__ import annotations

import os
import tempfile
from collections.abc import Mapping
from pathlib import Path
from typing import Annotated, Final

import msgspec
from msgspec import Meta, Struct

from stavewright.tunes.errors import BadIndex

__all__ = ["FORMAT", "Census", "ChoirEntry", "Entry", "TuneIndex", "index_path", "load_index", "save_index"]

FORMAT: Final = 2
"""Raised whenever the readers or the rules for an extract change, so that an older index is made anew."""

Count = Annotated[int, Meta(ge=0, le=10_000_000)]
Place = Annotated[int, Meta(ge=0, le=200)]


class Entry(Struct, frozen=True, array_like=True, forbid_unknown_fields=True):
    """One extract: its place (file, tune or part, first bar, bars, ticks of pick-up) and its measures.

    ``low`` and ``high`` are diatonic places as written in the source; ``values`` and ``tuplets`` are sets of bits,
    ``time`` an index into the times of the whole index.
    """

    file: Count
    item: Count
    first: Count
    bars: Annotated[int, Meta(ge=1, le=16)]
    pick_up: Count
    fifths: Annotated[int, Meta(ge=-7, le=7)]
    minor: bool
    time: Count
    low: Place
    high: Place
    values: Count
    dots: Annotated[int, Meta(ge=0, le=3)]
    tuplets: Count


class ChoirEntry(Struct, frozen=True, array_like=True, forbid_unknown_fields=True):
    """One passage of a chorale in four parts: file, first bar, key, an index into the times, and its cadence or ""."""

    file: Count
    first: Count
    fifths: Annotated[int, Meta(ge=-7, le=7)]
    minor: bool
    time: Count
    cadence: Annotated[str, Meta(max_length=20)]


class Census(Struct, frozen=True, forbid_unknown_fields=True):
    """What a collection gave: tunes or parts read and skipped, bars not understood, windows and provable extracts."""

    read: Count = 0
    skipped: dict[str, int] = {}
    bars: Count = 0
    bars_left_out: dict[str, int] = {}
    windows: Count = 0
    provable: Count = 0


class TuneIndex(Struct, frozen=True, forbid_unknown_fields=True):
    """All extracts of the installed collections, with the version of the package that holds them."""

    format: int
    version: str
    files: tuple[tuple[str, str], ...]
    times: tuple[str, ...]
    entries: tuple[Entry, ...]
    choirs: tuple[ChoirEntry, ...]
    census: dict[str, Census]


def index_path(environ: Mapping[str, str], version: str) -> Path:
    """Where the index of a version lies: in the user's cache folder.

    >>> index_path({"XDG_CACHE_HOME": "/c"}, "10.5").as_posix()
    '/c/stavewright/tunes-10.5-2.json'
    """
    root = environ.get("XDG_CACHE_HOME") or environ.get("LOCALAPPDATA")
    folder = Path(root) if root else Path(environ.get("HOME") or environ.get("USERPROFILE") or ".") / ".cache"
    return folder / "stavewright" / f"tunes-{version}-{FORMAT}.json"


def load_index(path: Path, version: str) -> TuneIndex | None:
    """The index at a path, or None when there is none that fits this version and these rules.

    A broken or foreign file counts as none: it is only a cache, and is made anew.
    """
    try:
        found = msgspec.json.decode(path.read_bytes(), type=TuneIndex)
    except (OSError, msgspec.DecodeError, ValueError, RecursionError):
        return None
    fits = found.format == FORMAT and found.version == version
    files, times = len(found.files), len(found.times)
    placed = all(one.file < files and one.time < times for one in found.entries)
    placed = placed and all(one.file < files and one.time < times for one in found.choirs)
    return found if fits and placed else None


def save_index(index: TuneIndex, path: Path) -> None:
    """Write the index whole or not at all.

    Raises:
        BadIndex: the folder cannot be made or written to.
    """
    data = msgspec.json.encode(index)
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handle, temporary = tempfile.mkstemp(prefix=f".{path.name}.", dir=path.parent)
        try:
            with os.fdopen(handle, "wb") as out:
                out.write(data)
            Path(temporary).replace(path)
        except BaseException:
            Path(temporary).unlink(missing_ok=True)
            raise
    except OSError as error:
        raise BadIndex(
            f"the index of tunes cannot be written to {path}: {error.strerror or error}",
            right="set XDG_CACHE_HOME to a folder that can be written to",
        ) from error
