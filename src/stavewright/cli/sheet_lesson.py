"""`stavewright sheet lesson`: a lesson on one side of paper."""

from __future__ import annotations

from pathlib import Path

import click

from stavewright.cli.options import (
    edition_option,
    grade_option,
    seed_option,
    size_option,
    tunes_option,
    words_option,
)
from stavewright.cli.sheet_options import out_option, stave_option, write

EPILOG = """\
\b
Examples:
  stavewright sheet lesson --grade 3 --weak report.json
  stavewright sheet lesson --grade 4 --topic intervals
  stavewright sheet lesson --grade 2 --topic scales --rule minor --seed 5
"""


@click.command(epilog=EPILOG)
@grade_option()
@click.option(
    "--weak",
    type=click.Path(exists=True, dir_okay=False, path_type=Path),
    help="A report of `stavewright mark --json`: its slips make the warm-ups, what cost most makes the lesson.",
)
@click.option("--topic", help="A rule of this topic.")
@click.option("--rule", help="This rule; a name that is not known is told which there are.")
@edition_option()
@seed_option()
@words_option()
@size_option()
@stave_option()
@out_option()
@tunes_option()
def lesson(
    grade: int,
    weak: Path | None,
    topic: str | None,
    rule: str | None,
    edition: str,
    seed: int,
    words: str,
    size: str,
    stave: str,
    out: Path,
    folder: str | None,
) -> None:
    """Print a lesson on one side of paper: three warm-ups on recent slips, one rule, homework on it.

    The answers are a document of their own, and say which slip each warm-up takes up.
    """
    from stavewright.cli.files import read
    from stavewright.services.documents import as_json, read_report
    from stavewright.services.set_lesson import set_lesson
    from stavewright.wiring import melodies, music_writer, sheet_engraver

    report = read(weak, read_report) if weak is not None else None
    printer = sheet_engraver(size=size, stave_mm=int(stave))
    made = set_lesson(
        grade=grade, edition=edition, seed=seed, melodies=melodies(folder), write_music=music_writer(), words=words,
        topic=topic, rule=rule, weak=report,
    )  # fmt: skip
    kept, found = printer.lesson(made)
    write(out, {f"{one}.pdf": pdf for one, pdf in found.items()} | {f"{kept.id}.json": as_json(kept.paper())})
