"""Looking through the collections once: every extract that qualifies and proves its key, and what was skipped."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Executor
from dataclasses import dataclass, field
from functools import partial
from hashlib import blake2b
from pathlib import Path
from typing import Final

from stavewright.score.event import Event, Note
from stavewright.theory.duration import VALUES
from stavewright.theory.errors import StavewrightError
from stavewright.tunes.abc_read import read_tune, tune_texts
from stavewright.tunes.choral import CHOIR, Choir, choirs
from stavewright.tunes.collections import FOLK, SCORES, Collection, corpus_folder, corpus_version, files_of
from stavewright.tunes.errors import NotUnderstoodTune
from stavewright.tunes.extract import Line, Passage, cut
from stavewright.tunes.index import FORMAT, Census, ChoirEntry, Entry, TuneIndex
from stavewright.tunes.tune import LineBar, ReadMusic
from stavewright.tunes.window import Window, phrase_windows, strain_windows

__all__ = ["Found", "build_index", "measures_of", "parts_of"]

Measured = tuple[int, int, int, int, int, int, bool, str, int, int, int, int, int]
"""An extract as a worker sends it: an `Entry` without its file, with its time in words, and a fingerprint."""

Sung = tuple[int, int, bool, str, str, int]
"""A passage in four parts as a worker sends it: a `ChoirEntry` without its file, time in words, and a fingerprint."""

_VALUE_BITS: Final = {value: 1 << place for place, value in enumerate(VALUES)}
_VOICES: Final = ("Soprano", "Bass")
_CHUNK: Final = 12


@dataclass(slots=True)
class Found:
    """What one file gave."""

    extracts: list[Measured] = field(default_factory=list)
    choirs: list[Sung] = field(default_factory=list)
    read: int = 0
    skipped: Counter[str] = field(default_factory=Counter)
    bars: int = 0
    bars_left_out: Counter[str] = field(default_factory=Counter)
    windows: int = 0

    def look(self, item: int, bars: Sequence[LineBar], windows: Iterator[Window]) -> None:
        """Take in one line of music."""
        self.read += 1
        self.bars += len(bars)
        self.bars_left_out.update(read.reason for read in bars if read.bar is None)
        line = Line(bars)
        for window in windows:
            self.windows += 1
            passage = cut(line, window, proved=True)
            if passage is not None:
                self.extracts.append(_measured(item, window, passage))


def parts_of(collection: Collection) -> frozenset[int]:
    """Which parts of a score are looked at: soprano and bass of a chorale, the first violin of a quartet.

    >>> sorted(parts_of(SCORES[0]))
    [0, 3]
    """
    return frozenset((0, 3)) if collection.id == "bach" else frozenset((0,))


def build_index(
    read: ReadMusic, progress: Callable[[int, int], None], *, executor: Executor | None = None
) -> TuneIndex:
    """Look through all collections and make the index; the same collections give the same index.

    ``read`` reads MusicXML, ``progress`` hears how many of how many files are done, ``executor`` shares the work.

    Raises:
        NoCollections: they are not installed.
    """
    folder = corpus_folder()
    version = corpus_version()
    tasks = [(one, path) for one in (*SCORES, *FOLK) for path in files_of(one, folder)]
    scan = partial(scan_file, read)
    results = map(scan, tasks) if executor is None else executor.map(scan, tasks, chunksize=_CHUNK)
    times: dict[str, int] = {}
    entries: list[Entry] = []
    choral: list[ChoirEntry] = []
    seen: set[int] = set()
    sums: dict[str, Found] = {}
    for number, ((collection, _), found) in enumerate(zip(tasks, results, strict=True)):
        total = sums.setdefault(collection.id, Found())
        for item, first, bars, pick_up, fifths, mark, minor, time, low, high, values, dots, tuplets in found.extracts:
            if mark not in seen:
                seen.add(mark)
                place = times.setdefault(time, len(times))
                entries.append(
                    Entry(number, item, first, bars, pick_up, fifths, minor, place, low, high, values, dots, tuplets)
                )
                total.extracts.append(found.extracts[0])
        for first, fifths, minor, time, cadence, mark in found.choirs:
            if mark not in seen:
                seen.add(mark)
                place = times.setdefault(time, len(times))
                choral.append(ChoirEntry(number, first, fifths, minor, place, cadence))
        _add(total, found)
        progress(number + 1, len(tasks))
    return TuneIndex(
        format=FORMAT,
        version=version,
        files=tuple((one.id, path.relative_to(folder).as_posix()) for one, path in tasks),
        times=tuple(times),
        entries=tuple(entries),
        choirs=tuple(choral),
        census={name: _census(total) for name, total in sums.items()},
    )


def scan_file(read: ReadMusic, task: tuple[Collection, Path]) -> Found:
    """What one file of a collection gives; a file or tune that is not understood is counted with its reason."""
    collection, path = task
    found = Found()
    if path.suffix == ".abc":
        for item, text in enumerate(tune_texts(path.read_text("utf-8", errors="replace"))):
            try:
                tune = read_tune(text)
            except NotUnderstoodTune as refusal:
                found.skipped[refusal.what] += 1
                continue
            found.look(item, tune.bars, strain_windows(tune.bars))
        return found
    parts = parts_of(collection)
    choral = collection.id == "bach"
    try:
        document = read(path.read_bytes(), parts=CHOIR if choral else parts)
    except StavewrightError as refusal:
        found.skipped[refusal.what] += 1
        return found
    if choral:
        found.choirs += [_sung(one) for one in choirs(document)]
    for item, stave in enumerate(document.staves):
        if item not in parts:
            continue
        if collection.id == "bach" and not stave.name.startswith(_VOICES):
            found.skipped["an instrument's part of a chorale"] += 1
            continue
        found.look(item, stave.bars, phrase_windows(stave.bars))
    return found


def measures_of(passage: Passage) -> tuple[int, int, int]:
    """The values (as bits), most dots and tuplets (as bits) of a passage."""
    values = dots = tuplets = 0
    for bar in passage.bars:
        for event in bar:
            duration = event.duration
            values |= _VALUE_BITS[duration.type]
            dots = max(dots, duration.dots)
            if duration.tuplet is not None:
                tuplets |= 1 << duration.tuplet.actual
    return values, dots, tuplets


def _measured(item: int, window: Window, passage: Passage) -> Measured:
    values, dots, tuplets = measures_of(passage)
    minor = passage.key is not None and passage.key.is_minor
    return (
        item, window.first, window.bars, window.pick_up, passage.fifths, _fingerprint(passage), minor,
        passage.time.text, passage.low.diatonic, passage.high.diatonic, values, dots, tuplets,
    )  # fmt: skip


def _fingerprint(passage: Passage) -> int:
    """A number that two passages share when they have the same notes at any pitch: one of them is enough."""
    return _mark(f"{passage.time.text} {passage.pick_up}", [event for bar in passage.bars for event in bar])


def _sung(one: Choir) -> Sung:
    mark = _mark(f"choir {one.time.text}", list(one.score.events()))
    return one.first, one.key.fifths, one.key.is_minor, one.time.text, one.cadence, mark


def _mark(heading: str, events: Sequence[Event]) -> int:
    base = next(event.pitch.midi for event in events if isinstance(event, Note))
    notes = [(event.pitch.midi - base if isinstance(event, Note) else None, event.ticks) for event in events]
    text = f"{heading} {notes}"
    return int.from_bytes(blake2b(text.encode(), digest_size=8).digest(), "big")


def _add(total: Found, found: Found) -> None:
    total.read += found.read
    total.skipped += found.skipped
    total.bars += found.bars
    total.bars_left_out += found.bars_left_out
    total.windows += found.windows


def _census(total: Found) -> Census:
    return Census(
        read=total.read,
        skipped=dict(total.skipped.most_common()),
        bars=total.bars,
        bars_left_out=dict(total.bars_left_out.most_common()),
        windows=total.windows,
        provable=len(total.extracts),
    )
