"""`stavewright diagnose`: which slip lies behind a pupil's wrong answers."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from stavewright.cli.options import seed_option, size_option

if TYPE_CHECKING:
    from stavewright.marking.diagnosis import Diagnosis

WORTH_SAYING = 0.2
"""A slip less likely than this is not shown to the teacher as a thought."""

EPILOG = """\
\b
Examples:
  stavewright diagnose papers/grade-3-written-7.json script.json
  stavewright diagnose first.json her-first.json second.json her-second.json
  stavewright diagnose paper.json script.json --follow-up next.json --pdf next.pdf
"""


@click.command(epilog=EPILOG)
@click.argument("files", metavar="PAPER.json SCRIPT.json ...", nargs=-1, required=True, type=click.Path(path_type=Path))
@click.option("--json", "as_document", is_flag=True, help="Print the diagnosis as JSON, one kind a line.")
@click.option(
    "--follow-up",
    type=click.Path(dir_okay=False, path_type=Path),
    help="Write the questions that would tell most as a small paper to this file.",
)
@click.option("--pdf", type=click.Path(dir_okay=False, path_type=Path), help="Also print that small paper.")
@seed_option()
@size_option()
def diagnose(
    files: tuple[Path, ...], as_document: bool, follow_up: Path | None, pdf: Path | None, seed: int, size: str
) -> None:
    """Weigh one pupil's answers over one or more papers and name the slip behind the wrong ones.

    A slip is named only when it is at least 90 % likely; otherwise one question is offered that would tell.
    """
    import msgspec

    from stavewright.cli.files import read, write_whole
    from stavewright.cli.progress import bar
    from stavewright.services.diagnose import answered, diagnose, follow_up_paper
    from stavewright.services.documents import as_json, read_paper, read_script
    from stavewright.wiring import composed_melodies, engraver

    if len(files) % 2:
        raise click.UsageError("give files in pairs: a paper, then the script that answers it")
    papers = [read(file, read_paper) for file in files[::2]]
    scripts = [read(file, read_script) for file in files[1::2]]
    for first in range(len(scripts)):
        if scripts[first] in scripts[first + 1 :]:
            raise click.UsageError(f"{files[2 * first + 1]} is given twice: an answer counts once")
    answers = [one for paper, script in zip(papers, scripts, strict=True) for one in answered(paper, script)]
    with bar("Weighing") as progress:
        found = diagnose(answers, melodies=composed_melodies(), seed=seed, progress=progress)
    small = follow_up_paper(found, papers[-1], seed)
    if (follow_up or pdf) and small is None:
        raise click.UsageError("there is nothing to ask: every slip is named already, or none is likely")
    if small is not None and pdf is not None:
        write_whole(pdf, engraver(size=size).question_paper(small))
    if small is not None and follow_up is not None:
        write_whole(follow_up, as_json(small))
    if as_document:
        for one in found:
            click.echo(msgspec.json.encode(one))
    else:
        _show(found, asked=follow_up is not None)


def _show(found: tuple[Diagnosis, ...], *, asked: bool) -> None:
    if not found:
        click.echo("No wrong answers: there is nothing to look for.")
        return
    named = [one for one in found if one.slip is not None]
    for one in named:
        click.echo(f"{one.title}: {one.slip} ({_share(one.suspects[0].likely)} likely, {_weighed(one)})")
        click.echo(f"    {one.remedy}")
    if named and len(named) < len(found):
        click.echo("")
    thought = [one for one in found if one.slip is None and one.suspects and one.suspects[0].likely >= WORTH_SAYING]
    for one in thought:
        slips = ", ".join(f"{two.slip} {_share(two.likely)}" for two in one.suspects)
        click.echo(f"{one.title}: not sure yet ({_weighed(one)}): {slips}; some other error {_share(one.other)}")
    rest = [one.title for one in found if one.slip is None and one not in thought]
    if rest:
        click.echo(f"Wrong answers without a pattern: {', '.join(rest)}.")
    click.echo("")
    click.echo("A likely cause, for the teacher to look at; slips come and go, so look again on another day.")
    if not asked and any(one.ask_next is not None for one in found):
        click.echo("Questions that would tell: --follow-up FILE writes them as a small paper.")


def _share(likely: float) -> str:
    """So many in a hundred, rounded down: 89.9 is not the 90 at which a slip is named.

    >>> _share(0.899), _share(0.9)
    ('89%', '90%')
    """
    return f"{int(likely * 1000 + 0.5) // 10}%"


def _weighed(one: Diagnosis) -> str:
    many = len(one.seen)
    return f"{one.wrong} wrong of {many} answer{'' if many == 1 else 's'}"
