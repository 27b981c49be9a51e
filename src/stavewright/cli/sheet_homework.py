"""`stavewright sheet homework`: a mixed selection by minutes or marks."""

from __future__ import annotations

from pathlib import Path

import click

from stavewright.cli.options import grade_option
from stavewright.cli.sheet_options import named_after, names, question_sheet_options, versions_of, write_sheets

EPILOG = """\
\b
Examples:
  stavewright sheet homework --grade 3
  stavewright sheet homework --grade 4 --minutes 20 --topics scales,keys
  stavewright sheet homework --grade 5 --marks 25 --weak report.json --versions 2
"""


@click.command(epilog=EPILOG)
@grade_option()
@click.option("--minutes", type=click.IntRange(5, 120), help="So long, at the edition's pace.  [default: 20]")
@click.option("--marks", type=click.IntRange(5, 120), help="Or so many marks, near enough.")
@click.option("--topics", help="Only these topics, with commas.")
@click.option("--kinds", help="Only these kinds, with commas; `stavewright kinds` lists them.")
@click.option(
    "--weak",
    type=click.Path(exists=True, dir_okay=False, path_type=Path),
    help="A report of `stavewright mark --json`: more of what lost marks.",
)
@question_sheet_options()
def homework(
    grade: int,
    minutes: int | None,
    marks: int | None,
    topics: str | None,
    kinds: str | None,
    weak: Path | None,
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
    """Print a homework sheet: a mixed selection with a line for name and date, answers on pages of their own.

    The JSON beside each sheet can be marked with `stavewright mark`.
    """
    import msgspec

    from stavewright.cli.files import read
    from stavewright.cli.progress import bar
    from stavewright.engraving.lesson_sheets import Heading
    from stavewright.papers.focus import focus
    from stavewright.papers.naming import renamed_paper
    from stavewright.papers.pack import Pack
    from stavewright.services.documents import read_report
    from stavewright.services.set_paper import set_paper
    from stavewright.syllabus.edition import edition as edition_of
    from stavewright.wiring import melodies, music_writer, sheet_engraver

    if minutes is not None and marks is not None:
        raise click.UsageError("Give --minutes or --marks, not both.")
    lost = None
    if weak is not None:
        report = read(weak, read_report)
        lost = {topic: got.of - got.marks for topic, got in report.by_topic.items()}
    long = minutes or (20 if marks is None else max(1, round(marks * edition_of(edition, grade).minutes / 100)))
    plan = focus(grade, edition, topics=names(topics), kinds=names(kinds), minutes=long, lost=lost)
    name = f"homework{named_after(*names(topics), *names(kinds))}-grade-{grade}-{edition}-{seed}"
    pack, papers = Pack(), []
    printer, source = sheet_engraver(size=size, stave_mm=int(stave)), melodies(folder)
    with bar("Setting and engraving") as progress:
        for own, own_seed in versions_of(name, seed, versions):
            made = set_paper(
                grade=grade, edition=edition, seed=own_seed, melodies=source, write_music=music_writer(),
                words=words, pack=pack, plan=plan, progress=progress,
            )  # fmt: skip
            papers.append(renamed_paper(msgspec.structs.replace(made, id=own), note_names))
        found = printer.sheets(papers, Heading(f"Homework, grade {grade}", time=True), name=name, working=working)
    write_sheets(out, found, papers)
