"""`stavewright sheet manuscript`: empty staves."""

from __future__ import annotations

from pathlib import Path

import click

from stavewright.cli.options import size_option
from stavewright.cli.sheet_options import out_option, stave_option, write

EPILOG = """\
\b
Examples:
  stavewright sheet manuscript
  stavewright sheet manuscript --clef treble --lines 10 --bars 4 --stave 10
  stavewright sheet manuscript --clef piano --pages 4 --size letter
"""


@click.command(epilog=EPILOG)
@click.option(
    "--clef",
    type=click.Choice(["none", "treble", "bass", "alto", "tenor", "piano"]),
    default="none",
    show_default=True,
    help="piano: treble and bass stave with a brace.",
)
@click.option(
    "--lines", type=click.IntRange(1, 40), help="Staves (or piano systems) a page; if left out, as many as stand well."
)
@click.option("--bars", type=click.IntRange(0, 8), default=0, show_default=True, help="Bars a line; 0: no bar lines.")
@click.option("--pages", type=click.IntRange(1, 100), default=1, show_default=True, help="How many pages.")
@size_option()
@stave_option()
@out_option()
def manuscript(clef: str, lines: int | None, bars: int, pages: int, size: str, stave: str, out: Path) -> None:
    """Print manuscript paper."""
    from stavewright.wiring import sheet_engraver

    pdf = sheet_engraver(size=size, stave_mm=int(stave)).manuscript(clef, lines, bars, pages)
    write(out, {f"manuscript-{clef}-{stave}mm.pdf": pdf})
