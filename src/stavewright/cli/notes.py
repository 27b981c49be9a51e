"""`stavewright notes`: a revision booklet."""

from __future__ import annotations

from pathlib import Path

import click

from stavewright.cli.options import grade_option, seed_option, size_option, tunes_option, words_option
from stavewright.cli.sheet_options import names, out_option, stave_option, write

EPILOG = """\
\b
Examples:
  stavewright notes --grade 3
  stavewright notes --grade 4 --topic intervals
  stavewright notes --grade 5 --new --short --size letter --words us
"""


@click.command(epilog=EPILOG)
@grade_option()
@click.option("--topic", "topics", help="Only this topic, or several with commas: scales,keys.")
@click.option("--new", is_flag=True, help="Only what this grade adds to the one before.")
@click.option("--short", is_flag=True, help="Rules, pictures and tables only, without examples and slips.")
@seed_option()
@words_option()
@size_option()
@stave_option()
@out_option()
@tunes_option()
def notes(
    grade: int,
    topics: str | None,
    new: bool,
    short: bool,
    seed: int,
    words: str,
    size: str,
    stave: str,
    out: Path,
    folder: str | None,
) -> None:
    """Print the notes of a grade: rules in plain words, examples, usual slips, and a self-test with its answers.

    They hold all that the grades before have asked, too. Another seed gives other examples and another test.
    """
    from stavewright.cli.progress import bar
    from stavewright.services.revision_notes import revision_notes
    from stavewright.wiring import melodies, music_writer, sheet_engraver

    printer = sheet_engraver(size=size, stave_mm=int(stave))
    chosen = names(topics)
    with bar("Working out the notes") as progress:
        made = revision_notes(
            grade=grade, melodies=melodies(folder), write_music=music_writer(), seed=seed, words=words, topics=chosen,
            short=short, new=new, progress=progress,
        )  # fmt: skip
    with bar("Engraving") as progress:
        pdf = printer.notes(made, progress)
    what = "".join(f"-{one}" for one in (*chosen, *(["new"] if new else []), *(["short"] if short else [])))
    write(out, {f"notes-grade-{grade}{what}.pdf": pdf})
