"""Run every benchmark, print the table, and keep it in docs/performance.md."""
# ruff: noqa: E501 -- the page is written as it reads

from __future__ import annotations

import os
import platform
import resource
import subprocess
import sys
from datetime import UTC, datetime
from pathlib import Path

from benchmarks.paper_times import paper_times
from benchmarks.theory_ratios import ratios
from benchmarks.timing import best, calibration

PAGE = Path(__file__).parent.parent / "docs" / "performance.md"
HELP = [sys.executable, "-m", "stavewright.cli.main", "--help"]


def _versions() -> str:
    from importlib.metadata import version

    return ", ".join(f"{name} {version(name)}" for name in ("music21", "verovio", "typst", "lilypond"))


ABOUT = """\
# Performance

Written by `make bench` on {day}: Python {python}, {cores} cores, {versions}. Compare ratios, not seconds: both sides of
a ratio ran in this one run. The calibration loop (300,000 integer sums in pure Python) took {unit:.1f} ms: that is one unit below.

## Theory against music21 (a new object each time)

| operation | times faster | asked | ours, microseconds |
| --- | --- | --- | --- |
{theory}

## A whole paper of 100 marks (written edition)

JSON: set, worked, with MusicXML, as bytes, in a warm process, median and worst of eight seeds. PDFs: question paper, model
answers and mark scheme; fresh: a new Python process from the stored JSON to three files, imports and all. LilyPond: the same
sentences and pictures, three source files (already written) in one process of the wheel; the ratio is against our fresh process.

| grade | JSON ms (asked 60) | worst ms | JSON units | PDFs warm s | fresh process s | LilyPond s | times faster (asked 4) |
| --- | --- | --- | --- | --- | --- | --- | --- |
{papers}

`stavewright --help` takes {help:.2f} s (asked 0.3), {help_units:.1f} units. The largest child process of this run (LilyPond
among them) held {peak} MiB.
"""


def main() -> None:
    """Measure, print, write."""
    unit = calibration()
    theory = [f"| {row.what} | {row.ratio:.0f} | {row.floor:.0f} | {row.ours_us:.2f} |" for row in ratios()]
    papers = [
        f"| {one.grade} | {one.json_ms:.0f} | {one.json_worst_ms:.0f} | {one.json_ms / 1000 / unit:.1f} | {one.pdfs_s:.2f} "
        f"| {one.fresh_s:.2f} | {one.lilypond_s:.1f} | {one.lilypond_s / one.fresh_s:.1f} |"
        for one in (paper_times(grade) for grade in (1, 3, 5))
    ]
    start = best(lambda: subprocess.run(HELP, check=True, capture_output=True), repeat=5)
    text = ABOUT.format(
        day=datetime.now(UTC).date().isoformat(),
        python=platform.python_version(),
        cores=os.cpu_count(),
        versions=_versions(),
        unit=unit * 1000,
        theory="\n".join(theory),
        papers="\n".join(papers),
        help=start,
        help_units=start / unit,
        peak=resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss // 1024,
    )
    PAGE.write_text(text, "utf-8")
    sys.stdout.write(text)


if __name__ == "__main__":
    main()
