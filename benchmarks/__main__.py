"""Run every benchmark, print the table, and keep it in docs/performance.md."""

from __future__ import annotations

import os
import platform
import resource
import subprocess
import sys
from datetime import date
from pathlib import Path

from benchmarks.paper_times import paper_times
from benchmarks.theory_ratios import ratios
from benchmarks.timing import best, calibration

PAGE = Path(__file__).parent.parent / "docs" / "performance.md"
HELP = [sys.executable, "-m", "stavewright.cli.main", "--help"]


def _versions() -> str:
    from importlib.metadata import version

    return ", ".join(f"{name} {version(name)}" for name in ("music21", "verovio", "typst", "lilypond"))


def main() -> None:
    """Measure, print, write."""
    unit = calibration()
    lines = [
        "# Performance",
        "",
        f"Written by `make bench` on {date.today().isoformat()}: Python {platform.python_version()}, "
        f"{os.cpu_count()} cores, {_versions()}. Compare ratios, not seconds: both sides of a ratio ran in this one run. "
        f"The calibration loop (300,000 integer sums in pure Python) took {unit * 1000:.1f} ms: that is one unit below.",
        "",
        "## Theory against music21 (a new object each time)",
        "",
        "| operation | times faster | asked | ours, microseconds |",
        "| --- | --- | --- | --- |",
    ]
    for row in ratios():
        lines.append(f"| {row.what} | {row.ratio:.0f} | {row.floor:.0f} | {row.ours_us:.2f} |")
    lines += [
        "",
        "## A whole paper of 100 marks (written edition)",
        "",
        "JSON: set, worked, with MusicXML, as bytes, in a warm process, median and worst of eight seeds. PDFs: question paper, "
        "model answers and mark scheme. LilyPond: the same sentences and pictures, three files in one process of the wheel; "
        "the ratio is against our fresh process, imports, setting and all.",
        "",
        "| grade | JSON ms (asked 60) | worst ms | JSON units | PDFs warm s | fresh process s | LilyPond s | times faster (asked 4) |",
        "| --- | --- | --- | --- | --- | --- | --- | --- |",
    ]
    for grade in (1, 3, 5):
        one = paper_times(grade)
        lines.append(
            f"| {grade} | {one.json_ms:.0f} | {one.json_worst_ms:.0f} | {one.json_ms / 1000 / unit:.1f} | {one.pdfs_s:.2f} "
            f"| {one.fresh_s:.2f} | {one.lilypond_s:.1f} | {one.lilypond_s / one.fresh_s:.1f} |"
        )
    start = best(lambda: subprocess.run(HELP, check=True, capture_output=True), repeat=5)
    peak = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss // 1024
    lines += [
        "",
        f"`stavewright --help` takes {start:.2f} s (asked 0.3), {start / unit:.1f} units. "
        f"The largest child process of this run (LilyPond among them) held {peak} MiB.",
        "",
    ]
    PAGE.write_text("\n".join(lines), "utf-8")
    print("\n".join(lines))


if __name__ == "__main__":
    main()
