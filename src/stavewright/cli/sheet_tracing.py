"""`stavewright sheet tracing`: clefs and rests to trace."""

from __future__ import annotations

from pathlib import Path

import click

from stavewright.cli.options import grade_option, size_option, words_option
from stavewright.cli.sheet_options import names, out_option, stave_option, write

EPILOG = """\
\b
Examples:
  stavewright sheet tracing
  stavewright sheet tracing --grade 5 --signs clefs --stave 14
"""


def _signs(context: click.Context, option: click.Parameter, text: str) -> tuple[str, ...]:
    found = names(text)
    if not found or not set(found) <= {"clefs", "rests"}:
        raise click.BadParameter(f"{text!r}: name clefs, rests or both, with a comma between")
    return found


@click.command(epilog=EPILOG)
@grade_option(required=False, default=1)
@click.option("--signs", default="clefs,rests", show_default=True, callback=_signs, help="What to trace.")
@words_option()
@size_option()
@stave_option(default="10")
@out_option()
def tracing(grade: int, signs: tuple[str, ...], words: str, size: str, stave: str, out: Path) -> None:
    """Print the clefs and rests of a grade: each in black, then in grey to trace, then empty places to draw it."""
    from stavewright.syllabus.scope import scope_for
    from stavewright.wiring import sheet_engraver

    pdf = sheet_engraver(size=size, stave_mm=int(stave)).tracing(scope_for(grade), signs, words)
    write(out, {f"tracing-{'-'.join(signs)}-grade-{grade}.pdf": pdf})
