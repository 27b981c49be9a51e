"""Times of a whole paper: as JSON, as three PDFs, and the same content through the LilyPond wheel."""

from __future__ import annotations

import gc
import subprocess
import sys
import tempfile
from pathlib import Path
from statistics import median
from typing import NamedTuple

from benchmarks.lilypond_page import compile_all, source
from benchmarks.timing import best, best_cpu

DOCUMENTS = ("paper", "model-answers", "mark-scheme")
FRESH = """
import sys
from stavewright.services.documents import read_paper
from stavewright.wiring import engraver
for name, pdf in engraver().paper_set(read_paper(open(sys.argv[1], "rb").read())).items():
    open(f"{sys.argv[2]}/{name}.pdf", "wb").write(pdf)
"""


class PaperTimes(NamedTuple):
    """Seconds for each stage of one paper of that grade."""

    grade: int
    pdfs_s: float
    fresh_s: float
    lilypond_s: float


class JsonTimes(NamedTuple):
    """Milliseconds of processor time for the JSON of a paper: median and worst of fifteen seeds."""

    grade: int
    edition: str
    median_ms: float
    worst_ms: float


def json_times(grade: int, edition: str) -> JsonTimes:
    """Measure one grade and edition in a warm process."""
    from stavewright.services.documents import as_json
    from stavewright.services.set_paper import set_paper
    from stavewright.wiring import composed_melodies, music_writer

    melodies, write = composed_melodies(), music_writer()

    def make(seed: int) -> bytes:
        return as_json(set_paper(grade=grade, edition=edition, seed=seed, melodies=melodies, write_music=write))

    for seed in range(20, 30):
        make(seed)
    gc.collect()
    times = [best_cpu(lambda seed=seed: make(seed)) * 1000 for seed in range(1, 16)]
    return JsonTimes(grade, edition, median(times), max(times))


def paper_times(grade: int) -> PaperTimes:
    """Measure one grade: PDFs warm, fresh (from stored JSON), and LilyPond."""
    from stavewright.services.documents import as_json
    from stavewright.services.set_paper import set_paper
    from stavewright.wiring import composed_melodies, engraver, music_writer

    paper = set_paper(grade=grade, edition="written", seed=1, melodies=composed_melodies(), write_music=music_writer())
    pdfs = best(lambda: engraver().paper_set(paper), repeat=3)
    with tempfile.TemporaryDirectory() as folder:
        stored = Path(folder) / "paper.json"
        stored.write_bytes(as_json(paper))
        call = [sys.executable, "-c", FRESH, str(stored), folder]
        fresh = best(lambda: subprocess.run(call, check=True), repeat=3)
    sources = {name: source(paper, name) for name in DOCUMENTS}
    lilypond = best(lambda: compile_all(sources), repeat=3)
    return PaperTimes(grade, pdfs, fresh, lilypond)
