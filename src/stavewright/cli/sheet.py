"""`stavewright sheet`: sheets for lessons."""

from __future__ import annotations

from typing import Final

import click

from stavewright.cli.lazy import Entry, LazyGroup

EPILOG: Final = """\
\b
Examples:
  stavewright sheet drill --grade 1 --kinds name-the-note --count 24
  stavewright sheet drill --grade 3 --topics intervals --versions 2 --seed 7
  stavewright sheet homework --grade 4 --minutes 20
  stavewright sheet lesson --grade 3 --weak report.json
  stavewright sheet manuscript --clef piano --bars 4
"""

SHEETS: Final[dict[str, Entry]] = {
    "drill": Entry("stavewright.cli.sheet_drill:drill", "Many short items of one kind or topic."),
    "homework": Entry("stavewright.cli.sheet_homework:homework", "A mixed selection, so many minutes or marks long."),
    "lesson": Entry("stavewright.cli.sheet_lesson:lesson", "A lesson on one side: warm-ups, one rule, homework."),
    "group": Entry("stavewright.cli.sheet_group:group", "One topic at several grades, for a mixed group."),
    "manuscript": Entry("stavewright.cli.sheet_manuscript:manuscript", "Empty staves, with a clef or none."),
    "tracing": Entry("stavewright.cli.sheet_tracing:tracing", "Clefs and rests to trace and draw."),
}
"""Every sheet: its name, where it lives, and its line in ``--help``."""


@click.command(name="sheet", cls=LazyGroup, entries=SHEETS, epilog=EPILOG)
def sheet() -> None:
    """Print sheets for lessons as PDF; where they ask something, the answers are a document of their own."""
