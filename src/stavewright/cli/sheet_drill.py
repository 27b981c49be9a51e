"""`stavewright sheet drill`: many short items of one kind or topic."""

from __future__ import annotations

from pathlib import Path

import click

from stavewright.cli.options import grade_option
from stavewright.cli.sheet_options import named_after, names, question_sheet_options, versions_of, write_sheets

EPILOG = """\
\b
Examples:
  stavewright sheet drill --grade 1 --kinds name-the-note --count 24
  stavewright sheet drill --grade 3 --topics intervals,keys --count 20 --versions 2
  stavewright sheet drill --grade 2 --topics scales --edition on-screen --stave 10 --words us
"""


@click.command(epilog=EPILOG)
@grade_option()
@click.option("--topics", help="The short kinds of these topics, with commas: notes,values.")
@click.option("--kinds", help="These kinds, with commas; `stavewright kinds` lists them.")
@click.option("--count", type=click.IntRange(1, 60), default=20, show_default=True, help="How many items.")
@question_sheet_options()
def drill(
    grade: int,
    topics: str | None,
    kinds: str | None,
    count: int,
    edition: str,
    seed: int,
    versions: int,
    working: bool,
    words: str,
    note_names: str,
    size: str,
    stave: str,
    out: Path,
    folder: str | None,
) -> None:
    """Print a drill: many short items of one kind or topic, none twice, and the answers on pages of their own.

    The JSON beside each sheet can be marked with `stavewright mark`.
    """
    from stavewright.cli.progress import bar
    from stavewright.engraving.lesson_sheets import Heading
    from stavewright.papers.naming import renamed_paper
    from stavewright.services.set_drill import Dealt, drill_kinds, set_drill, title_of
    from stavewright.wiring import melodies, music_writer, sheet_engraver

    chosen = drill_kinds(grade, edition, names(topics), names(kinds))
    what = title_of(names(topics), names(kinds))
    name = f"drill{named_after(*names(topics), *names(kinds))}-grade-{grade}-{edition}-{seed}"
    dealt, papers = Dealt(), []
    printer, source = sheet_engraver(size=size, stave_mm=int(stave)), melodies(folder)
    with bar("Setting and engraving") as progress:
        for own, own_seed in versions_of(name, seed, versions):
            made = set_drill(
                kinds=chosen, grade=grade, edition=edition, count=count, seed=own_seed, melodies=source,
                write_music=music_writer(), words=words, dealt=dealt, id=own, progress=progress,
            )  # fmt: skip
            papers.append(renamed_paper(made, note_names))
        found = printer.sheets(papers, Heading(f"Drill, grade {grade}", what), name=name, working=working)
    write_sheets(out, found, papers)
    asked = len(list(papers[0].questions()))
    if asked < count:
        click.echo(f"{asked} items, not {count}: grade {grade} has no more that differ.", err=True)
