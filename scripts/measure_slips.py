"""Measure how well the slip a pupil holds is named, over every kind, grade and edition: prints one table.

`python scripts/measure_slips.py` takes every case, about three minutes on two processors; `--every 8` every eighth.
"""

from __future__ import annotations

from concurrent.futures import ProcessPoolExecutor
from random import Random

import click

from stavewright.cli.progress import bar
from stavewright.marking.likely_slips import NONE, OTHER
from stavewright.questions.catalogue import kind as kind_of
from stavewright.services.imagined_pupils import Found, bank, examine, imagine, rates
from stavewright.services.verify import cases
from stavewright.wiring import composed_melodies

QUESTIONS = 64
EACH = 6
"""Imagined pupils for every slip."""
CLEAN = 8
"""Imagined pupils who hold nothing, and as many with an unknown error, in every case."""


def one_case(case: tuple[str, int, str]) -> tuple[tuple[str, int, str], list[Found], int]:
    """The imagined pupils of one case, and how many pairs of its slips nothing could tell apart."""
    asked = bank(*case, count=QUESTIONS, seed=77, melodies=composed_melodies())
    rng = Random("/".join(map(str, case)))
    held = [name for name in asked.holdable() for _ in range(EACH)] + [NONE] * CLEAN + [OTHER] * CLEAN
    return case, [examine(imagine(one, rng), asked, rng) for one in held], len(asked.alike())


@click.command()
@click.option("--every", type=click.IntRange(1), default=1, help="Only every so many-th case.")
def main(every: int) -> None:
    """Run all cases and print the figures, worst kinds last."""
    wanted = [case for case in cases() if kind_of(case[0]).topic != "composing"][::every]
    done = []
    with bar("Imagining pupils") as progress, ProcessPoolExecutor(2) as pool:
        for one in pool.map(one_case, wanted, chunksize=4):
            done.append(one)
            progress(len(done), len(wanted))
    groups = {"all": lambda _: True, "written": lambda case: case[2] == "written"}
    groups["on-screen"] = lambda case: case[2] == "on-screen"
    click.echo("cases | pupils | precision | recall | named: none held | named: unknown error | questions")
    for name, belongs in groups.items():
        got = rates([one for case, found, _ in done if belongs(case) for one in found])
        click.echo(
            f"{name} | {got.pupils} | {got.precision:.3f} | {got.recall:.3f} | {got.false_none:.3f} | "
            f"{got.false_other:.3f} | {got.asked:.2f}"
        )
    click.echo(f"pairs of slips that nothing tells apart: {sum(alike for _, _, alike in done)}")
    kinds = sorted({case[0] for case, _, _ in done})
    by_kind = [(rates([one for case, found, _ in done if case[0] == kind for one in found]), kind) for kind in kinds]
    for got, kind in sorted(by_kind, key=lambda one: one[0].recall)[:10]:
        click.echo(f"{kind}: recall {got.recall:.2f}, precision {got.precision:.2f}")


if __name__ == "__main__":
    main()
