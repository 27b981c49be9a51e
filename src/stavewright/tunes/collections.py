"""The collections that may be used, by name, and where an installed package keeps their files.

Only what stands in `FOLK` and `SCORES` is ever opened. The files are read where they lie and never copied.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from importlib.util import find_spec
from pathlib import Path
from typing import Final

from stavewright.tunes.errors import NoCollections

__all__ = ["FOLK", "SCORES", "Collection", "corpus_folder", "corpus_version", "files_of"]


@dataclass(frozen=True, slots=True)
class Collection:
    """One collection: its folder and files in the corpus, and the words of its credit."""

    id: str
    patterns: tuple[str, ...]
    title: str
    composer: str = ""


FOLK: Final = (
    Collection("aird", ("airdsAirs/*.abc",), "Aird's Airs (Glasgow, from 1778)"),
    Collection("ryan", ("ryansMammoth/*.abc",), "Ryan's Mammoth Collection (Boston, 1883)"),
    Collection("oneill", ("oneills1850/*.abc",), "O'Neill's Music of Ireland (Chicago, 1903)"),
    Collection("fife", ("miscFolk/americanfifeopus.abc",), "Colonial and Civil War American fife music"),
    Collection("northumbrian", ("miscFolk/northumbrianminstrelsyopus.abc",), "Northumbrian Minstrelsy (1882)"),
)
"""Books of tunes in ABC notation; every one names its transcriber tune by tune."""

SCORES: Final = (
    Collection("bach", ("bach/bwv*.mxl",), "chorales", "J. S. Bach"),
    Collection(
        "beethoven", ("beethoven/opus*.mxl", "beethoven/opus*/movement*.mxl"), "string quartets", "L. van Beethoven"
    ),
    Collection("haydn", ("haydn/opus*/movement*.mxl",), "string quartets", "J. Haydn"),
    Collection(
        "mozart",
        tuple(f"mozart/{work}/movement*.mxl" for work in ("k80", "k155", "k156", "k458")),
        "string quartets",
        "W. A. Mozart",
    ),
)
"""Chorales and string quartets in packed MusicXML."""


def corpus_folder() -> Path:
    """The folder of the corpus inside the installed package, found without importing the package.

    Raises:
        NoCollections: the package is not installed, or was installed without its corpus.
    """
    spec = find_spec("music21")
    folder = Path(spec.origin).parent / "corpus" if spec is not None and spec.origin else None
    if folder is None or not folder.is_dir():
        raise NoCollections(
            "the collections of real tunes are not installed",
            right="install the extra: pip install 'stavewright[tunes]'",
        )
    return folder


def corpus_version() -> str:
    """The version of the installed package, by which an index is known to fit.

    Raises:
        NoCollections: the package is not installed.
    """
    from importlib.metadata import PackageNotFoundError, version

    try:
        return version("music21")
    except PackageNotFoundError:
        raise NoCollections("the collections of real tunes are not installed") from None


def files_of(collection: Collection, folder: Path) -> Iterator[Path]:
    """The files of a collection in a fixed order."""
    for pattern in collection.patterns:
        yield from sorted(folder.glob(pattern))
