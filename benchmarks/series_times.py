"""Series of papers: what a paper costs as the series grows, and how parallel thirty of them are."""

from __future__ import annotations

from statistics import fmean
from time import process_time
from typing import NamedTuple

from stavewright.papers.expected import expected_marks
from stavewright.papers.pack import Pack
from stavewright.services.documents import as_json
from stavewright.services.set_paper import set_paper
from stavewright.wiring import composed_melodies, music_writer

COUNTS = (10, 100, 1000)
ROUND = 30


class SeriesCost(NamedTuple):
    """Milliseconds of processor time for a paper's JSON, the mean over the first so many papers of one series."""

    grade: int
    edition: str
    by_count: dict[int, float]

    @property
    def drift(self) -> float:
        """The largest difference from the cost at the largest count, as a share of it."""
        last = self.by_count[COUNTS[-1]]
        return max(abs(cost - last) for cost in self.by_count.values()) / last


class Parallel(NamedTuple):
    """Over thirty papers: the predicted mark at three abilities, and how far the largest is from the smallest."""

    grade: int
    edition: str
    mean: tuple[float, ...]
    spread: tuple[float, ...]


def series_cost(grade: int, edition: str) -> SeriesCost:
    """Set a thousand papers from one pack, in a process that has set a round of papers before."""
    source, write = composed_melodies(), music_writer()

    def cost(seed: int, pack: Pack) -> float:
        start = process_time()
        as_json(set_paper(grade=grade, edition=edition, seed=seed, melodies=source, write_music=write, pack=pack))
        return (process_time() - start) * 1000

    for seed in range(ROUND):
        cost(10_000 + seed, Pack())
    pack = Pack()
    costs = [cost(seed, pack) for seed in range(COUNTS[-1])]
    return SeriesCost(grade, edition, {count: fmean(costs[:count]) for count in COUNTS})


def parallel(grade: int, edition: str) -> Parallel:
    """Set thirty papers from one pack and predict their marks."""
    source, pack = composed_melodies(), Pack()
    marks = [
        expected_marks(
            set_paper(
                grade=grade, edition=edition, seed=seed, melodies=source, write_music=lambda score: "", pack=pack
            ).questions()
        )
        for seed in range(ROUND)
    ]
    columns = list(zip(*marks, strict=True))
    return Parallel(
        grade, edition, tuple(map(fmean, columns)), tuple(max(column) - min(column) for column in columns)
    )
