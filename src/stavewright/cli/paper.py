"""`stavewright paper`: set a paper and print it."""

from __future__ import annotations

from pathlib import Path

import click

from stavewright.cli.options import edition_option, grade_option, seed_option, size_option, tunes_option, words_option

EPILOG = """\
\b
Examples:
  stavewright paper --grade 3
  stavewright paper --grade 5 --edition on-screen --seed 12 --out papers --size letter --words us
"""


@click.command(epilog=EPILOG)
@grade_option()
@edition_option()
@seed_option()
@click.option(
    "--out", type=click.Path(file_okay=False, path_type=Path), default="out", show_default=True, help="Folder."
)
@words_option()
@size_option()
@tunes_option()
@click.option(
    "--stave",
    type=click.Choice(["7", "8", "10", "14", "16"]),
    default="7",
    help="Stave height in mm (14 and 16: large print).",
)
def paper(
    grade: int, edition: str, seed: int, out: Path, words: str, size: str, folder: str | None, stave: str
) -> None:
    """Set a fresh paper: question paper, model answers with working, mark scheme (PDF), and all of it as JSON."""
    from stavewright.cli.files import write_all
    from stavewright.cli.progress import bar
    from stavewright.services.documents import as_json
    from stavewright.services.set_paper import set_paper
    from stavewright.wiring import engraver, melodies, music_writer

    with bar("Setting the paper") as progress:
        made = set_paper(
            grade=grade,
            edition=edition,
            seed=seed,
            words=words,
            melodies=melodies(folder),
            write_music=music_writer(),
            progress=progress,
        )
    with bar("Engraving") as progress:
        printed = engraver(size=size, stave_mm=int(stave)).paper_set(made, progress)
    files = {f"{made.id}-{name}.pdf": pdf for name, pdf in printed.items()}
    for path in write_all(out, {**files, f"{made.id}.json": as_json(made)}):
        click.echo(path)
