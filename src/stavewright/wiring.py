"""The only place that picks adapters: who gives melodies, who writes MusicXML, who engraves."""

from __future__ import annotations

from contextlib import contextmanager, suppress
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable, Collection, Iterator
    from concurrent.futures import Executor
    from pathlib import Path

    from stavewright.engraving.printer import Printer
    from stavewright.engraving.sheet_printer import SheetPrinter
    from stavewright.exchange.reading import Reading
    from stavewright.questions.melodies import Melodies
    from stavewright.score.stave import Score
    from stavewright.services.ports import Progress, WriteMusic
    from stavewright.tunes.index import TuneIndex


def composed_melodies() -> Melodies:
    """Only melodies composed by rule: the same on every machine."""
    from stavewright.tunes.composed import ComposedMelodies

    return ComposedMelodies()


def melodies(folder: str | None = None, progress: Progress | None = None) -> Melodies:
    """The teacher's own folder if given, then real tunes where the extra is installed, then composed ones.

    With a `progress` to tell, collections that are installed and not yet indexed are looked through first; without
    one only an index that is there already is used.
    """
    from stavewright.tunes.source import TuneMelodies, installed_index

    index = None
    if progress is not None:
        from stavewright.tunes.errors import BadIndex, NoCollections

        index = installed_index()
        with suppress(NoCollections, BadIndex):
            index = index or find_tunes(progress)[0]
    return TuneMelodies(folder, composed_melodies(), read=_read_music, index=index)


def find_tunes(progress: Progress) -> tuple[TuneIndex, Path]:
    """Look through the installed collections, on two processors if there are two, and keep the index in the cache.

    Raises:
        NoCollections: they are not installed.
        BadIndex: the index cannot be written.
    """
    import os
    from concurrent.futures import ProcessPoolExecutor

    from stavewright.exchange.musicxml_read import read_musicxml
    from stavewright.tunes.index import index_path, save_index
    from stavewright.tunes.survey import build_index

    workers = min(4, os.cpu_count() or 1)
    with ProcessPoolExecutor(workers) as executor:
        found = build_index(read_musicxml, progress, executor=executor if workers > 1 else None)
    path = index_path(os.environ, found.version)
    save_index(found, path)
    return found, path


def _read_music(
    data: bytes, *, parts: Collection[int] | None = None, since: int = 0, until: int | None = None
) -> Reading:
    """Read MusicXML; the reader is loaded when the first document comes."""
    from stavewright.exchange.musicxml_read import read_musicxml

    return read_musicxml(data, parts=parts, since=since, until=until)


def music_file_reader() -> Callable[[bytes], Score]:
    """The reader of whole MusicXML files, with an id for every event."""
    from stavewright.exchange.musicxml_read import from_musicxml
    from stavewright.score.writing import with_ids

    return lambda data: with_ids(from_musicxml(data))


def music_writer() -> WriteMusic:
    """The writer of MusicXML."""
    from stavewright.exchange.musicxml_write import to_musicxml

    return to_musicxml


def engraver(*, size: str = "a4", stave_mm: int = 7) -> Printer:
    """The printer of papers on that paper size, staves so many mm high."""
    from stavewright.engraving.printer import Printer

    return Printer(size=size, stave_mm=stave_mm)


@contextmanager
def executor(jobs: int, cluster: str | None = None) -> Iterator[Executor]:
    """Processes of this machine, or the workers of a Dask cluster at an address: both take the same calls.

    Raises:
        NoCluster: the extra is not installed, or nothing answers at the address.
    """
    from concurrent.futures import ProcessPoolExecutor

    from stavewright.services.errors import NoCluster

    if cluster is None:
        with ProcessPoolExecutor(jobs) as pool:
            yield pool
        return
    try:
        from distributed import Client
    except ImportError as error:
        raise NoCluster("a cluster needs the extra: install stavewright[cluster]") from error
    if not cluster.rpartition(":")[2].isdigit():  # a client that cannot begin complains once more when it is collected
        raise NoCluster(f"{cluster!r} is no address of a Dask scheduler: it is like tcp://192.0.2.7:8786")
    try:
        client = Client(cluster, timeout=5, set_as_default=False)  # type: ignore[no-untyped-call]
    except (OSError, ValueError) as error:
        raise NoCluster(f"no Dask scheduler answers at {cluster!r}: {error}") from error
    with client, client.get_executor() as pool:  # type: ignore[no-untyped-call]
        yield pool


def sheet_engraver(*, size: str = "a4", stave_mm: int = 7) -> SheetPrinter:
    """The printer of sheets for lessons and of notes on that paper size, staves so many mm high."""
    from stavewright.engraving.sheet_printer import SheetPrinter

    return SheetPrinter(size=size, stave_mm=stave_mm)
