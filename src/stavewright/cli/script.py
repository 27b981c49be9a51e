"""`stavewright script`: an invented pupil's script for a paper."""

from __future__ import annotations

from pathlib import Path

import click

from stavewright.cli.options import not_nan, seed_option, size_option

EPILOG = """\
\b
Examples:
  stavewright script out/grade-3-written-1.json --ability 0.5 > script.json
  stavewright script out/grade-3-written-1.json --slips 0.4 --out to-be-marked.json
  stavewright script out/grade-3-written-1.json --ability 2 --seed 4 --out script.json --pdf script.pdf
"""


@click.command(epilog=EPILOG)
@click.argument("paper_file", metavar="PAPER.json", type=click.Path(path_type=Path))
@click.option(
    "--ability",
    type=click.FloatRange(-6, 6),
    default=0.5,
    callback=not_nan,
    show_default=True,
    help="In logits: -1 far off, 0 nearly ready, 2 sure.",
)
@click.option(
    "--slips",
    type=click.FloatRange(0, 1),
    callback=not_nan,
    help="Instead of by ability: this share of the answers comes from a named slip, all others are right.",
)
@seed_option()
@click.option("--out", type=click.Path(dir_okay=False, path_type=Path), help="Write to this file, not to the screen.")
@click.option("--pdf", type=click.Path(dir_okay=False, path_type=Path), help="Also print the filled-in script.")
@size_option()
def script(
    paper_file: Path, ability: float, slips: float | None, seed: int, out: Path | None, pdf: Path | None, size: str
) -> None:
    """Fill in a plausible script: right by ability, wrong by named slips. For demos and tests, never a real pupil."""
    from stavewright.cli.files import read, write_whole
    from stavewright.marking.chair import plant
    from stavewright.marking.plausible import fill
    from stavewright.services.documents import as_json, read_paper

    paper = read(paper_file, read_paper)
    filled = fill(paper, ability=ability, seed=seed) if slips is None else plant(paper, share=slips, seed=seed)
    if pdf is not None:
        from stavewright.wiring import engraver

        write_whole(pdf, engraver(size=size).script(paper, filled))
    if out is None:
        click.echo(as_json(filled), nl=False)
    else:
        write_whole(out, as_json(filled))
        click.echo(out)
