"""`stavewright start`: the main job in one go, for a first look."""

from __future__ import annotations

from pathlib import Path
from time import perf_counter

import click

from stavewright.cli.options import edition_option, grade_option, seed_option, size_option, words_option

EPILOG = """\
\b
Examples:
  stavewright start
  stavewright start --grade 5 --edition on-screen --out papers
"""

ABILITY = 0.8
"""The invented pupil of the sample script: nearly ready, so that there is something to mark."""


@click.command(epilog=EPILOG)
@grade_option(required=False, default=3)
@edition_option()
@seed_option()
@click.option(
    "--out", type=click.Path(file_okay=False, path_type=Path), default="out", show_default=True, help="Folder."
)
@words_option()
@size_option()
def start(grade: int, edition: str, seed: int, out: Path, words: str, size: str) -> None:
    """Set a paper, fill in an invented pupil's script, mark it, and print everything to a folder."""
    from stavewright.cli.files import write_all
    from stavewright.cli.progress import bar
    from stavewright.marking.plausible import fill
    from stavewright.marking.whole_script import mark_script
    from stavewright.services.documents import as_json
    from stavewright.services.set_paper import set_paper
    from stavewright.wiring import engraver, melodies, music_writer

    clock = [perf_counter()]

    def lap(stage: str) -> None:
        clock.append(perf_counter())
        click.echo(f"  {stage:<42} {clock[-1] - clock[-2]:6.2f} s")

    click.echo(f"Grade {grade}, {edition} edition, paper {seed}:")
    with bar("Looking through the tunes") as progress:
        source = melodies(progress=progress)
    lap("melodies found")
    with bar("Setting the paper") as progress:
        paper = set_paper(
            grade=grade,
            edition=edition,
            seed=seed,
            words=words,
            melodies=source,
            write_music=music_writer(),
            progress=progress,
        )
    lap("paper set and worked")
    script = fill(paper, ability=ABILITY, seed=seed)
    report = mark_script(paper, script)
    lap("sample script filled in and marked")
    printer = engraver(size=size)
    with bar("Engraving") as progress:
        printed = printer.paper_set(paper, progress)
    lap("question paper, answers, scheme printed")
    printed["script"] = printer.script(paper, script)
    printed["marked-script"] = printer.marked_script(paper, script, report)
    lap("script and marked script printed")
    files = {f"{paper.id}-{name}.pdf": pdf for name, pdf in printed.items()}
    files |= {f"{paper.id}.json": as_json(paper), f"{paper.id}-script.json": as_json(script)}
    files[f"{paper.id}-report.json"] = as_json(report)
    click.echo(f"The invented pupil got {report.total} of {report.of} ({report.band}). Everything is in {out}:")
    for path in write_all(out, files):
        click.echo(f"  {path}")
