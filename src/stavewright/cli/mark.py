"""`stavewright mark`: mark a script."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from stavewright.cli.options import size_option

if TYPE_CHECKING:
    from rich.console import Console

    from stavewright.marking.documents import Report
    from stavewright.papers.documents import Paper

NARROW = 60
"""Below so many letters a line, rows are written one after another: a table would cut its words off."""

EPILOG = """\
\b
Examples:
  stavewright mark out/grade-3-written-1.json script.json
  stavewright mark out/grade-3-written-1.json script.json --json > report.json
  stavewright mark out/grade-3-written-1.json script.json --pdf marked.pdf
  stavewright mark out/grade-3-written-1.json script.json --propose decisions.json
  stavewright mark out/grade-3-written-1.json script.json --decisions decisions.json

Marks of a composed answer are proposed until the teacher decides. --propose writes them to a file; change what you
like in it and give it back. It names the question, the criterion and the marks; a question that is only named is
confirmed as it stands:

\b
  {"q12": {"balance": {"marks": 1, "note": "bar 3 answers bar 1"}}, "q13": {}}
"""


@click.command(epilog=EPILOG)
@click.argument("paper_file", metavar="PAPER.json", type=click.Path(path_type=Path))
@click.argument("script_file", metavar="SCRIPT.json", type=click.Path(path_type=Path))
@click.option("--json", "as_document", is_flag=True, help="Print the report as one JSON document.")
@click.option(
    "--pdf", type=click.Path(dir_okay=False, path_type=Path), help="Also print the marked script to this file."
)
@click.option(
    "--decisions",
    "decisions_file",
    metavar="DECISIONS.json",
    type=click.Path(path_type=Path),
    help="The teacher's marks for composed answers, criterion by criterion.",
)
@click.option(
    "--propose",
    metavar="DECISIONS.json",
    type=click.Path(dir_okay=False, path_type=Path),
    help="Write the program's marks for composed answers to this file, to be changed and given back.",
)
@size_option()
def mark(
    paper_file: Path,
    script_file: Path,
    as_document: bool,
    pdf: Path | None,
    decisions_file: Path | None,
    propose: Path | None,
    size: str,
) -> None:
    """Mark a script: marks with part marks, the slip behind a wrong answer, what to do about it, totals by topic."""
    from stavewright.cli.files import read, write_whole
    from stavewright.cli.progress import bar
    from stavewright.marking.whole_script import mark_script
    from stavewright.services.documents import as_json, read_decisions, read_paper, read_script

    paper = read(paper_file, read_paper)
    script = read(script_file, read_script)
    decisions = None if decisions_file is None else read(decisions_file, read_decisions)
    with bar("Marking") as progress:
        report = mark_script(paper, script, progress)
    if decisions is not None:
        from stavewright.marking.decisions import decide

        report = decide(report, decisions)
    if propose is not None:
        from stavewright.marking.decisions import proposed

        write_whole(propose, as_json(proposed(report)))
    if pdf is not None:
        from stavewright.wiring import engraver

        write_whole(pdf, engraver(size=size).marked_script(paper, script, report))
    if as_document:
        click.echo(as_json(report), nl=False)
    else:
        from stavewright.marking.naming import shown_report

        _show(paper, shown_report(paper, report))


def _show(paper: Paper, report: Report) -> None:
    from rich.console import Console
    from rich.table import Table

    console = Console()
    title = f"Paper {paper.id}: {report.total} of {report.of}, {report.band}"
    missed = [one for one in report.questions if one.marks < one.of or one.follow_through]
    if console.width < NARROW:
        console.print(title)
        for one in missed:
            console.print(f"{one.id} {one.marks}/{one.of}: {one.slip or one.note} {one.remedy}".rstrip())
    else:
        table = Table(title=title, title_justify="left")
        for head in ("question", "marks", "slip or note", "what to do"):
            table.add_column(head)
        for one in missed:
            table.add_row(one.id, f"{one.marks}/{one.of}", one.slip or one.note, one.remedy)
        console.print(table)
    _show_criteria(console, report)
    if console.width < NARROW:
        for topic, got in report.by_topic.items():
            console.print(f"{topic}: {got.marks}/{got.of}", highlight=False)
    else:
        topics = Table(title="By topic", title_justify="left")
        topics.add_column("topic")
        topics.add_column("marks")
        for topic, got in report.by_topic.items():
            topics.add_row(topic, f"{got.marks}/{got.of}")
        console.print(topics)
    console.print("Bands are common practice; the exam's own regulations and the teacher decide.")


def _show_criteria(console: Console, report: Report) -> None:
    """The report on every composed answer, line by line."""
    for one in report.questions:
        if not one.criteria:
            continue
        state = "to be confirmed by the teacher" if one.provisional else "decided by the teacher"
        console.print(f"{one.id} {one.marks}/{one.of}, {state}:", highlight=False)
        for line in one.criteria:
            changed = f" (the program gave {line.program})" if line.program is not None else ""
            note = f" Teacher: {line.note}" if line.note else ""
            told = f"  {line.name} {line.marks}/{line.of}{changed}: {line.why}.{note}"
            console.print(told, highlight=False, markup=False)
    if report.to_confirm:
        console.print("Marks of composed answers are the program's proposal: --propose and --decisions change them.")
