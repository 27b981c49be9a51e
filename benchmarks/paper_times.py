"""Times of a whole paper: as JSON, as three PDFs, and the same content through the LilyPond wheel."""

from __future__ import annotations

import gc
import subprocess
import sys
from time import perf_counter
from typing import NamedTuple

from benchmarks.lilypond_page import compile_all, source
from benchmarks.timing import best

DOCUMENTS = ("paper", "model-answers", "mark-scheme")
FRESH = """
import sys
from stavewright.services.set_paper import set_paper
from stavewright.wiring import composed_melodies, engraver, music_writer
paper = set_paper(grade={grade}, edition="written", seed=1, melodies=composed_melodies(), write_music=music_writer())
engraver().paper_set(paper)
"""


class PaperTimes(NamedTuple):
    """Seconds for each stage of one paper of that grade."""

    grade: int
    json_ms: float
    json_worst_ms: float
    pdfs_s: float
    fresh_s: float
    lilypond_s: float


def paper_times(grade: int) -> PaperTimes:
    """Measure one grade: JSON in a warm process over eight seeds, PDFs warm and from a fresh process, LilyPond."""
    from stavewright.services.documents import as_json
    from stavewright.services.set_paper import set_paper
    from stavewright.wiring import composed_melodies, engraver, music_writer

    melodies, write = composed_melodies(), music_writer()

    def make(seed: int) -> object:
        return set_paper(grade=grade, edition="written", seed=seed, melodies=melodies, write_music=write)

    make(0)
    gc.collect()
    times = [best(lambda seed=seed: as_json(make(seed)), repeat=3) for seed in range(1, 9)]
    paper = make(1)
    pdfs = best(lambda: engraver().paper_set(paper), repeat=3)
    start = perf_counter()
    subprocess.run([sys.executable, "-c", FRESH.format(grade=grade)], check=True)
    fresh = perf_counter() - start
    sources = {name: source(paper, name) for name in DOCUMENTS}
    start = perf_counter()
    compile_all(sources)
    lilypond = perf_counter() - start
    median = sorted(times)[len(times) // 2]
    return PaperTimes(grade, median * 1000, max(times) * 1000, pdfs, fresh, lilypond)
