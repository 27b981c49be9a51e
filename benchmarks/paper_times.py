"""Times of a whole paper: as JSON, as three PDFs, and the same content through the LilyPond wheel."""

from __future__ import annotations

import gc
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import NamedTuple

from benchmarks.lilypond_page import compile_all, source
from benchmarks.timing import best

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
    json_ms: float
    json_worst_ms: float
    pdfs_s: float
    fresh_s: float
    lilypond_s: float


def paper_times(grade: int) -> PaperTimes:
    """Measure one grade: JSON in a warm process over eight seeds; PDFs warm, fresh (from stored JSON), LilyPond."""
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
    with tempfile.TemporaryDirectory() as folder:
        stored = Path(folder) / "paper.json"
        stored.write_bytes(as_json(paper))
        call = [sys.executable, "-c", FRESH, str(stored), folder]
        fresh = best(lambda: subprocess.run(call, check=True), repeat=3)
    sources = {name: source(paper, name) for name in DOCUMENTS}
    lilypond = best(lambda: compile_all(sources), repeat=3)
    median = sorted(times)[len(times) // 2]
    return PaperTimes(grade, median * 1000, max(times) * 1000, pdfs, fresh, lilypond)
