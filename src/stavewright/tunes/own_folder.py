"""The teacher's own folder of MusicXML: every passage of it that can be an extract."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from itertools import chain
from pathlib import Path
from typing import Final

from stavewright.theory.errors import StavewrightError
from stavewright.tunes.credit import score_credit
from stavewright.tunes.extract import Line, Passage, cut
from stavewright.tunes.index import Entry
from stavewright.tunes.survey import measures_of
from stavewright.tunes.tune import LineStave, ReadMusic
from stavewright.tunes.window import LENGTHS, Window, any_windows, phrase_windows

__all__ = ["OwnFolder"]

MOST_FILES: Final = 400
LARGEST: Final = 8_000_000
_SUFFIXES: Final = (".musicxml", ".xml", ".mxl")


@dataclass(slots=True)
class OwnFolder:
    """The passages of a folder; ``refused`` names each file that was not understood, with the reason."""

    entries: list[Entry] = field(default_factory=list)
    times: list[str] = field(default_factory=list)
    passages: list[tuple[Passage, str, str]] = field(default_factory=list)
    refused: list[tuple[str, str]] = field(default_factory=list)

    @classmethod
    def read(cls, folder: Path, read: ReadMusic) -> OwnFolder:
        """Read every file of the folder, in the order of their names; links that lead out of it are not followed."""
        found = cls()
        root = folder.resolve()
        files = [path for path in sorted(folder.rglob("*")) if path.suffix.lower() in _SUFFIXES and path.is_file()]
        for path in files[MOST_FILES:]:
            found.refused.append((path.name, f"only the first {MOST_FILES} files are read"))
        for path in files[:MOST_FILES]:
            if not path.resolve().is_relative_to(root):
                found.refused.append((path.name, "it lies outside the folder"))
                continue
            try:
                if path.stat().st_size > LARGEST:
                    found.refused.append((path.name, f"it is longer than {LARGEST} bytes"))
                    continue
                document = read(path.read_bytes())
            except (StavewrightError, OSError) as reason:
                found.refused.append((path.name, str(reason)))
                continue
            title = document.title or path.stem
            for stave in document.staves:
                part = stave.name if len(document.staves) > 1 else ""
                found._take(stave, score_credit(document.composer, title, part, document.rights), title)
        return found

    def fetch(self, entry: Entry) -> tuple[Passage, str, str] | None:
        """The passage of an entry, its credit and its title."""
        return self.passages[entry.item]

    def _take(self, stave: LineStave, credit: str, title: str) -> None:
        """Keep the phrases of a stave that can be extracts; where none can, any passage that ends on a long note."""
        line = Line(stave.bars)
        whole = (Window(first, count) for first in (0, 1) for count in LENGTHS if first + count == len(stave.bars))
        if not self._keep(line, chain(phrase_windows(stave.bars), whole), credit, title):
            self._keep(line, any_windows(stave.bars), credit, title)

    def _keep(self, line: Line, windows: Iterable[Window], credit: str, title: str) -> int:
        seen: set[Window] = set()
        for window in windows:
            passage = cut(line, window, proved=True)
            if passage is None or passage.key is None or window in seen:
                continue
            seen.add(window)
            text = passage.time.text
            if text not in self.times:
                self.times.append(text)
            self.entries.append(
                Entry(
                    0, len(self.passages), window.first, window.bars, window.pick_up, passage.fifths,
                    passage.key.is_minor, self.times.index(text), passage.low.diatonic, passage.high.diatonic,
                    *measures_of(passage),
                )
            )  # fmt: skip
            self.passages.append((passage, credit, title))
        return len(seen)
