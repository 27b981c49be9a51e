"""The source of melodies for questions: the teacher's own music, then real tunes, then composed ones."""

from __future__ import annotations

import os
from collections.abc import Sequence
from dataclasses import replace
from functools import cached_property, lru_cache
from pathlib import Path
from random import Random
from typing import Final

from stavewright.questions.melodies import Extract, Melodies
from stavewright.syllabus.scope import Scope
from stavewright.theory.errors import StavewrightError, together
from stavewright.theory.key import Key
from stavewright.tunes.abc_read import read_tune, tune_texts
from stavewright.tunes.choice import Wanted, choose, fitting, printed_time
from stavewright.tunes.choral import BARS, CHOIR, Choir, choir_at, suits
from stavewright.tunes.collections import FOLK, corpus_folder, corpus_version
from stavewright.tunes.credit import collection_of, score_credit, tune_credit, work_title
from stavewright.tunes.errors import NoCollections, NothingInFolder
from stavewright.tunes.extract import Line, Passage, cut
from stavewright.tunes.index import ChoirEntry, Entry, TuneIndex, index_path, load_index
from stavewright.tunes.own_folder import OwnFolder
from stavewright.tunes.tune import ReadMusic
from stavewright.tunes.window import Window

__all__ = ["TuneMelodies", "installed_index"]

REAL: Final = 0.8
"""How often a real tune is looked for before a composed one: the rest keeps rare keys, times and clefs alive."""

EVEN: Final = 0.5
"""How often the key of a chorale is drawn before the chorale."""

FEWEST: Final = 8
"""Fewer passages than these would come again and again: then they are left alone."""
_TRIES: Final = 12
_GROUPS: Final = ("folk", "chorales", "quartets")
_WEIGHTS: Final = (12, 6, 1)
_KEPT: Final = 256
_FOLK_IDS: Final = frozenset(one.id for one in FOLK)


class TuneMelodies:
    """Melodies from three sources in order; each keeps within the grade's scope and proves its key.

    ``folder`` is the teacher's own, or None; ``otherwise`` composes; ``read`` reads MusicXML; ``index`` is the index
    of the installed collections, by default the one in the user's cache (none: only the other sources are used).
    """

    def __init__(
        self,
        folder: str | Path | None,
        otherwise: Melodies,
        *,
        read: ReadMusic,
        index: TuneIndex | None = None,
    ) -> None:
        self._folder = None if folder is None else Path(folder)
        self._otherwise = otherwise
        self._read = read
        self._given = index
        self._pools: dict[tuple[int, int], list[list[Entry]]] = {}
        self._fetched: dict[Entry, tuple[Passage, str, str] | None] = {}
        self._choir_pools: dict[tuple[int, str | None], list[ChoirEntry]] = {}
        self._fetched_choirs: dict[ChoirEntry, tuple[Choir, str, str] | None] = {}

    @cached_property
    def own(self) -> OwnFolder | None:
        """The teacher's own passages, and which files were not understood.

        Raises:
            NothingInFolder: there is no passage among them; composed music in its place would go unnoticed.
        """
        if self._folder is None:
            return None
        found = OwnFolder.read(self._folder, self._read)
        if not found.entries:
            reasons = together(f"{name}: {why}" for name, why in found.refused)
            raise NothingInFolder(
                f"no extract can be taken from the music in {self._folder}",
                where=reasons,
                right="give a folder of MusicXML files (.musicxml, .xml, .mxl) with melodies of at least 4 bars",
            )
        return found

    @cached_property
    def index(self) -> TuneIndex | None:
        """The index of real tunes, or None where there is none."""
        return self._given if self._given is not None else installed_index()

    def melody(
        self,
        scope: Scope,
        rng: Random,
        *,
        bars: int = 4,
        clef: str | None = None,
        key: Key | None = None,
        provable: bool = True,
    ) -> Extract | None:
        """One melody of so many bars in the scope: the teacher's own if one fits, a real tune, or a composed one.

        Raises:
            NothingInFolder: the teacher's folder holds no music at all that can be used.
        """
        wanted = Wanted(scope, bars, clef, key)
        own = self.own
        if own is not None:
            found = choose(fitting(own.entries, own.times, scope, bars), own.times, wanted, rng, own.fetch)
            if found is not None:
                return found
        if self.index is not None and rng.random() < REAL:
            found = self._real(self.index, wanted, rng)
            if found is not None:
                return found
        return self._otherwise.melody(scope, rng, bars=bars, clef=clef, key=key, provable=provable)

    def choir(self, scope: Scope, rng: Random, *, cadence: str | None = None) -> Extract | None:
        """The close of a phrase of a real chorale, in its own key, if the grade knows all that is in it.

        None too where there are so few to choose from that one would come again and again. Half the time the key is
        drawn first, so that the common ones do not crowd out the others.
        """
        if self.index is None:
            return None
        pool = self._choir_pool(self.index, scope, cadence)
        if len(pool) < FEWEST:
            return None
        if rng.random() < EVEN:
            wanted = rng.choice(sorted({(one.fifths, one.minor) for one in pool}))
            pool = [one for one in pool if (one.fifths, one.minor) == wanted]
        for _ in range(_TRIES):
            found = self._fetch_choir(rng.choice(pool))
            if found is not None and suits(found[0], scope):
                one, credit, title = found
                time = printed_time(one.time.text, scope)
                staves = tuple(replace(stave, time=time) for stave in one.score.staves)
                return Extract(replace(one.score, staves=staves), one.key, credit, title)
        return None

    def _choir_pool(self, index: TuneIndex, scope: Scope, cadence: str | None) -> list[ChoirEntry]:
        place = (scope.grade, cadence)
        known = self._choir_pools.get(place)
        if known is None:
            keys = {(key.fifths, key.is_minor) for key in scope.keys}
            times = {number for number, text in enumerate(index.times) if printed_time(text, scope) is not None}
            known = self._choir_pools[place] = [
                one
                for one in index.choirs
                if (one.fifths, one.minor) in keys and one.time in times and cadence in (None, one.cadence)
            ]
        return known

    def _fetch_choir(self, entry: ChoirEntry) -> tuple[Choir, str, str] | None:
        index = self.index
        if index is None:
            return None
        if entry not in self._fetched_choirs:
            if len(self._fetched_choirs) > _KEPT:
                self._fetched_choirs.clear()
            try:
                self._fetched_choirs[entry] = _choir(self._read, *index.files[entry.file], entry)
            except (StavewrightError, OSError):
                # The installed collection has changed under the index: this passage is gone, another is taken.
                self._fetched_choirs[entry] = None
        return self._fetched_choirs[entry]

    def _real(self, index: TuneIndex, wanted: Wanted, rng: Random) -> Extract | None:
        pools = self._pool(index, wanted.scope, wanted.bars)
        weights = [weight if pool else 0 for weight, pool in zip(_WEIGHTS, pools, strict=True)]
        if not any(weights):
            return None
        (pool,) = rng.choices(pools, weights)
        return choose(pool, index.times, wanted, rng, self._fetch)

    def _pool(self, index: TuneIndex, scope: Scope, bars: int) -> Sequence[list[Entry]]:
        """What fits the grade, by group: folk tunes, chorales, quartets."""
        place = (scope.grade, bars)
        known = self._pools.get(place)
        if known is None:
            known = [[], [], []]
            for entry in fitting(index.entries, index.times, scope, bars):
                name = index.files[entry.file][0]
                known[0 if name in _FOLK_IDS else 1 if name == "bach" else 2].append(entry)
            self._pools[place] = known
        return known

    def _fetch(self, entry: Entry) -> tuple[Passage, str, str] | None:
        index = self.index
        if index is None:
            return None
        if entry in self._fetched:
            return self._fetched[entry]
        if len(self._fetched) > _KEPT:
            self._fetched.clear()
        found = self._fetched[entry] = self._reread(*index.files[entry.file], entry)
        return found

    def _reread(self, name: str, path: str, entry: Entry) -> tuple[Passage, str, str] | None:
        try:
            return _passage(self._read, name, path, entry)
        except (StavewrightError, OSError):
            # The installed collection has changed under the index: this extract is gone, another is taken.
            return None


def installed_index() -> TuneIndex | None:
    """The index of the installed collections in the user's cache, or None when there is none that fits."""
    try:
        version = corpus_version()
    except NoCollections:
        return None
    return load_index(index_path(os.environ, version), version)


def _passage(read: ReadMusic, name: str, path: str, entry: Entry) -> tuple[Passage, str, str] | None:
    collection = collection_of(name)
    folder = corpus_folder()
    source = folder / path
    if collection is None or not any(source.match(pattern) for pattern in collection.patterns) or ".." in source.parts:
        return None
    window = Window(entry.first, entry.bars, entry.pick_up)
    if source.suffix == ".abc":
        tune = read_tune(_tune_text(source, entry.item))
        credit, title = tune_credit(tune.title, collection, tune.transcriber, tune.composer), tune.title
        line = Line(tune.bars)
    else:
        first, end = max(entry.first - 1, 0), entry.first + entry.bars
        document = read(source.read_bytes(), parts={entry.item}, since=first, until=end)
        stave = document.staves[0]
        title = work_title(path)
        credit = score_credit(collection.composer, title, stave.name, document.rights)
        line = Line(stave.bars)
    passage = cut(line, window, proved=True)
    return None if passage is None else (passage, credit, title)


def _choir(read: ReadMusic, name: str, path: str, entry: ChoirEntry) -> tuple[Choir, str, str] | None:
    collection = collection_of(name)
    source = corpus_folder() / path
    if collection is None or not any(source.match(pattern) for pattern in collection.patterns) or ".." in source.parts:
        return None
    first = max(entry.first - 1, 0)
    document = read(source.read_bytes(), parts=CHOIR, since=first, until=entry.first + BARS)
    found = choir_at([stave.bars for stave in document.staves], entry.first)
    title = work_title(path)
    return None if found is None else (found, score_credit(collection.composer, title, "", document.rights), title)


@lru_cache(maxsize=32)
def _texts(path: Path) -> tuple[str, ...]:
    return tuple(tune_texts(path.read_text("utf-8", errors="replace")))


def _tune_text(path: Path, item: int) -> str:
    texts = _texts(path)
    return texts[item] if item < len(texts) else ""
