"""`stavewright sheet group`: one topic at several grades, for a mixed group."""

from __future__ import annotations

from pathlib import Path

import click

from stavewright.cli.sheet_options import named_after, names, question_sheet_options, versions_of, write_sheets

EPILOG = """\
\b
Examples:
  stavewright sheet group --grades 1,3 --topics scales
  stavewright sheet group --grades 1,2,5 --kinds name-the-signature --count 4 --versions 2
"""


def _grades(context: click.Context, option: click.Parameter, text: str) -> tuple[int, ...]:
    found = tuple(dict.fromkeys(one.strip() for one in text.split(",") if one.strip()))
    wrong = [one for one in found if one not in ("1", "2", "3", "4", "5")]
    if wrong or len(found) < 2:
        raise click.BadParameter(f"{text!r}: name two grades or more from 1 to 5, with commas: 1,3")
    return tuple(sorted(map(int, found)))


@click.command(epilog=EPILOG)
@click.option("--grades", required=True, callback=_grades, help="The grades of the group, with commas: 1,3,5.")
@click.option("--topics", help="The short kinds of these topics, with commas: scales,keys.")
@click.option("--kinds", help="These kinds, with commas; `stavewright kinds` lists them.")
@click.option("--count", type=click.IntRange(1, 20), default=6, show_default=True, help="How many items a grade.")
@question_sheet_options()
def group(
    grades: tuple[int, ...],
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
    """Print one topic at several grades for a mixed group: a block for each grade, easiest first.

    Kinds that all the grades ask come first in each block, so that the group can work on the same thing.
    """
    from stavewright.cli.progress import bar
    from stavewright.engraving.lesson_sheets import Heading
    from stavewright.papers.naming import renamed_paper
    from stavewright.services.set_drill import Dealt, drill_kinds, set_group, title_of
    from stavewright.wiring import melodies, music_writer, sheet_engraver

    chosen = drill_kinds(grades[-1], edition, names(topics), names(kinds))
    what = title_of(names(topics), names(kinds))
    several = "-".join(map(str, grades))
    name = f"group{named_after(*names(topics), *names(kinds))}-grades-{several}-{edition}-{seed}"
    printer, source, dealt = sheet_engraver(size=size, stave_mm=int(stave)), melodies(folder), Dealt()
    papers = []
    with bar("Setting and engraving") as progress:
        for own, own_seed in versions_of(name, seed, versions):
            made = set_group(
                kinds=chosen, grades=grades, edition=edition, count=count, seed=own_seed, melodies=source,
                write_music=music_writer(), words=words, dealt=dealt, id=own,
            )  # fmt: skip
            papers.append(renamed_paper(made, note_names))
            progress(len(papers), versions + 1)
        said = f"{', '.join(map(str, grades[:-1]))} and {grades[-1]}"
        found = printer.sheets(papers, Heading(f"For grades {said}", what), name=name, working=working)
    write_sheets(out, found, papers)
