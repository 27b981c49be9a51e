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

from benchmarks.marking_rates import batch_rate, class_rate
from benchmarks.paper_times import json_times, paper_times
from benchmarks.series_times import parallel, series_cost
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

## The JSON of a paper of 100 marks

Set, worked, with MusicXML, as bytes, in a warm process; processor time, the best of three runs of each of fifteen seeds. Asked: a
median of 60 ms for papers at grades 1, 3 and 5.

| grade | edition | median ms | worst ms | median in units |
| --- | --- | --- | --- | --- |
{json}

## Series

One series of 1,000 papers, dealt from one pack, written edition, grade 3: processor time for a paper's JSON, the mean over the first
so many. Asked: the same within 10 % from 10 to 1,000.

| papers | ms a paper |
| --- | --- |
{series}

Thirty papers of one blueprint: the mark predicted for a pupil not ready yet, nearly ready and ready with room to spare (abilities
-0.5, 0.5 and 1.5 in logits; full marks or none for each question), and how far the highest of the thirty is from the lowest. Asked: 0.5
at the middle ability, which is what papers are balanced at first of all.

| grade | edition | predicted marks | highest minus lowest |
| --- | --- | --- | --- |
{parallel}

## Marking

Answers marked a second on one core (processor time; asked 5,000). A class: the scripts of thirty invented pupils on one paper,
working out its questions included.

| grade | edition | answers a second |
| --- | --- | --- |
{classes}

Batches: two hundred answers, right ones and slips by turns, to one grade 5 question of every kind.

| edition | median kind | slowest kind | which |
| --- | --- | --- | --- |
{batches}

## Printing (written edition)

PDFs: question paper, model answers and mark scheme; fresh: a new Python process from the stored JSON to three files, imports and all.
LilyPond: the same sentences and pictures, three source files (already written) in one process of the wheel; the ratio is against our
fresh process.

| grade | PDFs warm s | fresh process s | LilyPond s | times faster (asked 4) |
| --- | --- | --- | --- | --- |
{papers}

`stavewright --help` takes {help:.2f} s (asked 0.3), {help_units:.1f} units. The largest child process of this run (LilyPond
among them) held {peak} MiB.
"""


def _three(numbers: tuple[float, ...], places: int) -> str:
    return " / ".join(f"{number:.{places}f}" for number in numbers)


def main() -> None:
    """Measure, print, write."""
    unit = calibration()
    cases = [(grade, edition) for grade in (1, 3, 5) for edition in ("written", "on-screen")]
    json = [
        f"| {one.grade} | {one.edition} | {one.median_ms:.0f} | {one.worst_ms:.0f} | {one.median_ms / 1000 / unit:.1f} |"
        for one in (json_times(*case) for case in cases)
    ]
    series = [f"| {count} | {cost:.1f} |" for count, cost in series_cost(3, "written").by_count.items()]
    alike = [
        f"| {one.grade} | {one.edition} | {_three(one.mean, 1)} | {_three(one.spread, 2)} |"
        for one in (parallel(*case) for case in cases)
    ]
    classes = [
        f"| {one.grade} | {one.edition} | {one.rate:,.0f} |" for one in (class_rate(*case) for case in cases)
    ]
    batches = [
        f"| {one.edition} | {one.median:,.0f} | {one.slowest:,.0f} | {one.kind} |"
        for one in (batch_rate(edition) for edition in ("written", "on-screen"))
    ]
    # music21 only now: its many objects would make every collection of garbage in our own measurements slower.
    from benchmarks.theory_ratios import ratios

    theory = [f"| {row.what} | {row.ratio:.0f} | {row.floor:.0f} | {row.ours_us:.2f} |" for row in ratios()]
    papers = [
        f"| {one.grade} | {one.pdfs_s:.2f} | {one.fresh_s:.2f} | {one.lilypond_s:.1f} "
        f"| {one.lilypond_s / one.fresh_s:.1f} |"
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
        json="\n".join(json),
        series="\n".join(series),
        parallel="\n".join(alike),
        classes="\n".join(classes),
        batches="\n".join(batches),
        papers="\n".join(papers),
        help=start,
        help_units=start / unit,
        peak=resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss // 1024,
    )
    PAGE.write_text(text, "utf-8")
    sys.stdout.write(text)


if __name__ == "__main__":
    main()
