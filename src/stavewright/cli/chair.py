"""`stavewright chair`: the pupil marks an invented script, and is marked on what was found and how it was named."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from stavewright.cli.options import not_nan, seed_option, size_option

if TYPE_CHECKING:
    from stavewright.marking.chair import Assessment

EPILOG = """\
\b
Examples:
  stavewright chair set papers/grade-3-written-7.json --out chair
  stavewright chair mark papers/grade-3-written-7.json chair/grade-3-written-7-chair-1.json findings.json

\b
The findings are JSON, one verdict a question (an answer that is not named was passed as right):
  {"chair": "grade-3-written-7-chair-1", "judged": {"q3": {"right": false, "slip": "b"}}}
"""


@click.group(epilog=EPILOG)
def chair() -> None:
    """Let a pupil mark an invented script full of named slips, and judge the marking."""


@chair.command("set", epilog=EPILOG)
@click.argument("paper_file", metavar="PAPER.json", type=click.Path(path_type=Path))
@click.argument("script_file", metavar="[SCRIPT.json]", required=False, type=click.Path(path_type=Path))
@click.option(
    "--share",
    type=click.FloatRange(0, 1),
    default=0.4,
    callback=not_nan,
    show_default=True,
    help="Share of wrong answers.",
)
@click.option(
    "--out",
    type=click.Path(file_okay=False, path_type=Path),
    default=Path("chair"),
    show_default=True,
    help="Folder.",
)
@seed_option()
@size_option()
def set_(paper_file: Path, script_file: Path | None, share: float, out: Path, seed: int, size: str) -> None:
    """Write an invented script to be marked: JSON, and PDF with the slips to pick from under every answer."""
    from stavewright.cli.files import read, read_bytes, write_all
    from stavewright.marking.chair import plant, set_chair
    from stavewright.services.documents import as_json, read_paper, read_script
    from stavewright.wiring import engraver

    paper = read(paper_file, read_paper)
    script = plant(paper, share=share, seed=seed) if script_file is None else read(script_file, read_script)
    made = set_chair(paper, script, seed=seed)
    document, place = as_json(made), out / f"{made.id}.json"
    if place.is_file() and read_bytes(place) != document:
        raise click.UsageError(f"{place} holds another script to be marked: give another --seed, or another folder")
    printed = engraver(size=size).chair(paper, made)
    for file in write_all(out, {f"{made.id}.pdf": printed, place.name: document}):
        click.echo(file)


@chair.command("mark", epilog=EPILOG)
@click.argument("paper_file", metavar="PAPER.json", type=click.Path(path_type=Path))
@click.argument("chair_file", metavar="CHAIR.json", type=click.Path(path_type=Path))
@click.argument("findings_file", metavar="FINDINGS.json", type=click.Path(path_type=Path))
@click.option("--json", "as_document", is_flag=True, help="Print the assessment as one JSON document.")
def mark(paper_file: Path, chair_file: Path, findings_file: Path, as_document: bool) -> None:
    """Judge a pupil's marking: what was found, how it was named, what was missed."""
    from stavewright.cli.files import read
    from stavewright.marking.chair import assess
    from stavewright.services.documents import as_json, read_chair, read_findings, read_paper

    paper = read(paper_file, read_paper)
    found = assess(paper, read(chair_file, read_chair), read(findings_file, read_findings))
    if as_document:
        click.echo(as_json(found), nl=False)
    else:
        _show(found)


def _show(found: Assessment) -> None:
    click.echo(f"{found.total} of {found.of}: {found.found} of {found.wrong} wrong answers found, {found.named} named")
    if found.false_alarms:
        many = "answer was" if found.false_alarms == 1 else "answers were"
        click.echo(f"{found.false_alarms} right {many} called wrong")
    for one in found.questions:
        if one.note:
            click.echo(f"{one.id} ({one.outcome}): {one.note}")
