"""`stavewright editions`: what each edition asks, what differs, and which questions of an older paper still count."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from stavewright.cli.edition_choice import editions_option, named_editions
from stavewright.cli.options import GRADE

if TYPE_CHECKING:
    from collections.abc import Sequence

    from stavewright.services.compare_editions import KindInEditions, Standing
    from stavewright.syllabus.edition import Edition

EPILOG = """\
\b
Examples:
  stavewright editions --grade 3
  stavewright editions --grade 5 --json
  stavewright editions --paper old/grade-3-written-7.json --edition on-screen
  stavewright editions --grade 4 --edition written --edition our-school.toml
"""


@click.command(epilog=EPILOG)
@click.option("--grade", type=GRADE, help="Grade, 1 to 5 (cumulative); that of the paper, where one is given.")
@editions_option("Only these: written, on-screen, or the file of your own edition.")
@click.option(
    "--paper",
    "older",
    type=click.Path(exists=True, dir_okay=False, path_type=Path),
    help="An older paper: say of each of its questions whether it still counts.",
)
@click.option("--json", "as_document", is_flag=True, help="One JSON document.")
def editions(grade: int | None, editions: tuple[str, ...], older: Path | None, as_document: bool) -> None:
    """Say what each edition asks at a grade: marks by topic, forms of every kind, and what only one of them asks.

    So a pupil who works an older printed paper can see which of its questions still count.
    """
    from stavewright.cli.files import read
    from stavewright.services.choose_edition import choose_edition
    from stavewright.services.compare_editions import compare, editions_at, standing
    from stavewright.services.documents import read_paper

    paper = None if older is None else read(older, read_paper)
    if grade is None and paper is None:
        raise click.UsageError("Missing option '--grade' (or '--paper' with an older paper).")
    level = paper.grade if paper is not None else grade or 1
    named = named_editions(editions)
    found = tuple(choose_edition([one], level) for one in named) or editions_at(level)
    if paper is not None:
        rows = standing(paper, found)
        click.echo(_standing_json(rows) if as_document else _standing_text(rows, found))
    elif as_document:
        click.echo(_editions_json(found, compare(level, found)))
    else:
        click.echo(_editions_text(found, compare(level, found)))


def _editions_json(found: Sequence[Edition], rows: Sequence[KindInEditions]) -> str:
    import json
    from dataclasses import asdict

    import msgspec

    return json.dumps({"editions": msgspec.to_builtins(found), "kinds": [asdict(row) for row in rows]}, indent=1)


def _standing_json(rows: Sequence[Standing]) -> str:
    import json
    from dataclasses import asdict

    return json.dumps([asdict(row) for row in rows], indent=1)


def _standing_text(rows: Sequence[Standing], found: Sequence[Edition]) -> str:
    from stavewright.services.compare_editions import COUNTS

    lines = []
    for one in found:
        still = sum(row.marks for row in rows if row.stands[one.id] == COUNTS)
        lines.append(f"{one.title}: {still} of {sum(row.marks for row in rows)} marks still count as they stand.")
    lines.append("")
    for row in rows:
        said = []
        for one in found:
            why = f" ({row.reasons[one.id]})" if one.id in row.reasons else ""
            said.append(f"{one.title}: {row.stands[one.id]}{why}")
        lines.append(f"  {row.id:<6} {row.kind:<26} " + "; ".join(said))
    return "\n".join(lines)


def _editions_text(found: Sequence[Edition], rows: Sequence[KindInEditions]) -> str:
    from stavewright.syllabus.edition import bands

    lines = []
    for one in found:
        lines.append(
            f"{one.title}: {one.says}. {one.minutes} minutes (to be confirmed by the teacher), {one.total} marks:"
        )
        lines.append("  " + ", ".join(f"{topic} {marks}" for topic, marks in one.marks.items()))
    limits = bands()
    levels = f"pass {limits.pass_}, merit {limits.merit}, distinction {limits.distinction}"
    lines.append(f"Bands: {levels} (common practice).")
    lines.append("\nNot asked in every one of them:")
    single = [row for row in rows if len(row.forms) < len(found)]
    for row in single:
        reasons = "; ".join(f"not {name}: {why}" for name, why in row.reasons.items())
        lines.append(f"  {row.id:<26} {'/'.join(row.forms) or '-'}  ({reasons})")
    lines += [] if single else ["  none"]
    lines.append("\nAsked in another form:")
    other = [row for row in rows if len(set(row.forms.values())) > 1]
    for row in other:
        lines.append(f"  {row.id:<26} " + ", ".join(f"{name}: {form}" for name, form in row.forms.items()))
    lines += [] if other else ["  none"]
    return "\n".join(lines)
