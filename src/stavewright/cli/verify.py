"""`stavewright verify`: hold every kind to its promises over many seeds."""

from __future__ import annotations

from concurrent.futures import ProcessPoolExecutor, as_completed
from textwrap import shorten
from typing import TYPE_CHECKING

import click

from stavewright.cli.options import seed_option

if TYPE_CHECKING:
    from stavewright.services.verify import Verified

EPILOG = """\
\b
Examples:
  stavewright verify --seeds 50
  stavewright verify --kind name-the-interval --seeds 2000
"""


@click.command(epilog=EPILOG)
@click.option("--seeds", type=click.IntRange(1, 1_000_000), default=50, show_default=True, help="Questions a case.")
@seed_option()
@click.option("--kind", help="Only this kind.")
@click.option("--jobs", type=click.IntRange(1, 64), default=2, show_default=True, help="Processes.")
def verify(seeds: int, seed: int, kind: str | None, jobs: int) -> int:
    """Set every kind at every grade in both editions and check setter against solver, marking, options and sheets."""
    from stavewright.cli.progress import bar
    from stavewright.questions.catalogue import kind as kind_of
    from stavewright.services.spread import dead_slips
    from stavewright.services.verify import cases

    if kind is not None:
        kind_of(kind)
    wanted = [case for case in cases() if kind in (None, case[0])]
    done: list[Verified] = []
    with bar("Verifying") as progress, ProcessPoolExecutor(jobs) as pool:
        waiting = [pool.submit(_one, case, seed, seeds) for case in wanted]
        for finished in as_completed(waiting):
            done.append(finished.result())
            progress(len(done), len(waiting))
    dead = {id_: dead_slips(one.slips for one in done if one.kind == id_) for id_ in {one.kind for one in done}}
    broken = sorted((one for one in done if one.problems), key=lambda one: (one.kind, one.grade, one.edition))
    for one in broken:
        first = shorten(one.problems[0], 400)
        click.echo(f"{one.kind} grade {one.grade} {one.edition}: {len(one.problems)} problems, first {first}")
    total = sum(one.questions for one in done)
    for id_, found in sorted(dead.items()):
        for fault in found:
            click.echo(f"{id_}: {fault}")
    faults = sum(len(one.problems) for one in broken) + sum(map(len, dead.values()))
    click.echo(f"{total} questions of {len({one.kind for one in done})} kinds in {len(done)} cases: {faults} problems")
    return 1 if faults else 0


def _one(case: tuple[str, int, str], seed: int, count: int) -> Verified:
    from stavewright.services.verify import verify_case
    from stavewright.wiring import composed_melodies

    return verify_case(*case, seed=seed, count=count, melodies=composed_melodies())
