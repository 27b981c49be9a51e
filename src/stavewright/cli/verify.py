"""`stavewright verify`: hold every kind to its promises over many seeds, on this machine or a cluster."""

from __future__ import annotations

from concurrent.futures import as_completed
from textwrap import shorten
from time import process_time
from typing import TYPE_CHECKING

import click

from stavewright.cli.options import seed_option

if TYPE_CHECKING:
    from stavewright.services.verify_many import Share, Total, Worked

EPILOG = """\
\b
Examples:
  stavewright verify --seeds 50
  stavewright verify --kind name-the-interval --seeds 2000
  stavewright verify --questions 1000000
  stavewright verify --questions 1000000 --cluster tcp://scheduler:8786
"""


@click.command(epilog=EPILOG)
@click.option("--seeds", type=click.IntRange(1, 1_000_000), help="Questions a case.  [default: 50]")
@click.option("--questions", type=click.IntRange(1, 1_000_000_000), help="Questions in all, shared out evenly.")
@seed_option()
@click.option("--kind", help="Only this kind.")
@click.option("--jobs", type=click.IntRange(1, 64), default=2, show_default=True, help="Processes.")
@click.option("--cluster", metavar="ADDRESS", help="Work on a Dask cluster instead (needs the extra `cluster`).")
def verify(
    seeds: int | None, questions: int | None, seed: int, kind: str | None, jobs: int, cluster: str | None
) -> int:
    """Set every kind at every grade in both editions and check setter against solver, marking, options and sheets."""
    from stavewright.cli.progress import bar
    from stavewright.questions.catalogue import kind as kind_of
    from stavewright.services.verify import cases
    from stavewright.services.verify_many import counts_of, shares, total
    from stavewright.wiring import executor

    if seeds is not None and questions is not None:
        raise click.UsageError("say --seeds (questions a case) or --questions (in all), not both")
    if kind is not None:
        kind_of(kind)
    wanted = [case for case in cases() if kind in (None, case[0])]
    counts = [seeds or 50] * len(wanted) if questions is None else counts_of(len(wanted), questions)
    waiting = shares(wanted, counts, seed)
    done: list[Worked] = []
    made = 0
    with bar("Verifying") as progress, executor(jobs, cluster) as pool:
        working = [pool.submit(_work, one) for one in waiting]
        try:
            for finished in as_completed(working):
                done.append(finished.result())
                made += done[-1].share.count
                progress(made, sum(counts))
        except BaseException:
            for one in working:
                one.cancel()
            raise
    found = total(done)
    _tell(found)
    return 1 if found.faults else 0


def _tell(found: Total) -> None:
    for (kind, grade, edition), problems in sorted(found.problems.items()):
        first = shorten(problems[0], 400)
        click.echo(f"{kind} grade {grade} {edition}: {len(problems)} problems, first {first}")
    for kind, dead in found.dead.items():
        for fault in dead:
            click.echo(f"{kind}: {fault}")
    click.echo(f"{found.milliseconds:.2f} ms of processor time a question", nl=False)
    click.echo("; by grade " + ", ".join(f"{grade}: {time:.2f}" for grade, time in found.by_grade.items()), nl=False)
    click.echo("; slowest " + ", ".join(f"{kind} {time:.1f}" for kind, time in found.slowest))
    if len(found.by_turn) > 1:
        click.echo("growth, ms a question in each share of a case: " + ", ".join(f"{t:.2f}" for t in found.by_turn))
    click.echo(f"{found.questions} questions of {found.kinds} kinds in {found.cases} cases: {found.faults} problems")


def _work(share: Share) -> Worked:
    from stavewright.services.verify import verify_case
    from stavewright.services.verify_many import Worked
    from stavewright.wiring import composed_melodies

    began = process_time()
    found = verify_case(
        share.kind, share.grade, share.edition, seed=share.seed, count=share.count, melodies=composed_melodies()
    )
    return Worked(share, found, process_time() - began)
