"""`stavewright paper`: set papers and print them."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from stavewright.cli.edition_choice import editions_option, named_editions
from stavewright.cli.options import (
    GRADE,
    NAMES,
    SEED,
    WORDS,
    size_option,
    tunes_option,
)
from stavewright.cli.sheet_options import names

if TYPE_CHECKING:
    from stavewright.papers.blueprint import Blueprint
    from stavewright.papers.documents import Paper
    from stavewright.syllabus.edition import Edition

EPILOG = """\
\b
Examples:
  stavewright paper --grade 3
  stavewright paper --grade 5 --edition on-screen --seed 12 --out papers --size letter --words us
  stavewright paper --like papers/grade-3-written-7.json        a parallel paper, nothing asked again
  stavewright paper --grade 4 --topics scales,intervals --minutes 20
  stavewright paper --grade 4 --weak report.json --minutes 30
  stavewright paper --grade 3 --edition written --edition on-screen      both forms of every kind
  stavewright paper --grade 3 --edition our-school.toml                  an edition of your own
  stavewright paper --grade 5 --count 1000 --json-only
"""
JSON_FILE = click.Path(exists=True, dir_okay=False, path_type=Path)


@click.command(epilog=EPILOG)
@click.option("--grade", type=GRADE, help="Grade, 1 to 5 (cumulative).")
@editions_option(
    "written: answers are constructed (the usual); on-screen: picked or placed; both: a mix; or a file of your own."
)
@click.option("--seed", type=SEED, help="Another number, another paper; the same, the same.  [default: 1]")
@click.option(
    "--out", type=click.Path(file_okay=False, path_type=Path), default="out", show_default=True, help="Folder."
)
@click.option("--words", type=WORDS, help="crotchet and bar (uk, the usual), or quarter note and measure (us).")
@click.option("--note-names", type=NAMES, help="B and B flat (english, the usual); H and B; si and si flat.")
@size_option()
@click.option(
    "--count",
    type=click.IntRange(1, 1000),
    default=1,
    show_default=True,
    help="So many papers, parallel, none sharing a question.",
)
@click.option("--like", type=JSON_FILE, help="A parallel of this paper: its grade, edition and words, another seed.")
@click.option("--avoid", type=JSON_FILE, multiple=True, help="Earlier papers whose questions are not asked again.")
@click.option("--topics", help="Only these topics, with commas: scales,keys.")
@click.option("--kinds", help="Only these kinds, with commas; `stavewright kinds` lists them.")
@click.option("--minutes", type=click.IntRange(2, 240), help="So long, at the edition's pace.")
@click.option("--weak", type=JSON_FILE, help="A report of `stavewright mark --json`: more of what lost marks.")
@tunes_option()
@click.option(
    "--stave",
    type=click.Choice(["7", "8", "10", "14", "16"]),
    default="7",
    help="Stave height in mm (14 and 16: large print).",
)
@click.option("--json-only", is_flag=True, help="Write no PDF.")
def paper(
    grade: int | None,
    editions: tuple[str, ...],
    seed: int | None,
    out: Path,
    words: str | None,
    note_names: str | None,
    size: str,
    count: int,
    like: Path | None,
    avoid: tuple[Path, ...],
    topics: str | None,
    kinds: str | None,
    minutes: int | None,
    weak: Path | None,
    folder: str | None,
    stave: str,
    json_only: bool,
) -> None:
    """Set fresh papers: question paper, model answers with working, mark scheme (PDF), and all of it as JSON."""
    from stavewright.cli.files import read, write_all
    from stavewright.cli.progress import bar
    from stavewright.papers.naming import renamed_paper
    from stavewright.papers.pack import Pack
    from stavewright.papers.rotation import Rotation
    from stavewright.services.documents import as_json, read_paper
    from stavewright.services.ports import silent
    from stavewright.services.set_paper import set_paper
    from stavewright.wiring import engraver, melodies, music_writer

    model = read(like, read_paper) if like is not None else None
    if grade is None and model is None:
        raise click.UsageError("Missing option '--grade' (or '--like' with an earlier paper).")
    pack = Pack()
    for earlier in [*([model] if model is not None else []), *(read(path, read_paper) for path in avoid)]:
        pack.take(earlier.questions())
    level = grade or (model.grade if model is not None else 1)
    spoken = words or (model.words if model is not None else "uk")
    spelled = note_names or (model.note_names if model is not None else "english")
    chosen = _edition(model, level, editions)
    first = seed if seed is not None else model.seed + 1 if model is not None else 1
    plan = _plan(level, chosen, topics, kinds, minutes, weak)
    series = Rotation(chosen)
    source, write_music, printer = (
        melodies(folder),
        music_writer(),
        None if json_only else engraver(size=size, stave_mm=int(stave)),
    )
    with bar("Setting and engraving") as progress:
        for number in range(first, first + count):
            made = set_paper(
                grade=level, edition=series, words=spoken, seed=number, melodies=source, write_music=write_music,
                pack=pack, plan=plan,
            )  # fmt: skip
            made = renamed_paper(made, spelled)
            printed = {} if printer is None else printer.paper_set(made, silent)
            files = {f"{made.id}-{name}.pdf": pdf for name, pdf in printed.items()}
            for path in write_all(out, {**files, f"{made.id}.json": as_json(made)}):
                click.echo(path)
            progress(number - first + 1, count)


def _edition(model: Paper | None, grade: int, named: tuple[str, ...]) -> Edition:
    """The edition as named, else as the model paper has it, else the usual one."""
    from stavewright.services.choose_edition import choose_edition
    from stavewright.syllabus.edition import EDITIONS

    if model is not None and not named:
        if not all(part in EDITIONS for part in model.edition.split("+")):
            raise click.UsageError(
                f"the paper is of an edition of your own ({model.edition!r}): name its file with --edition"
            )
        named = (model.edition,)
    return choose_edition(named_editions(named or ("written",)), grade)


def _plan(
    grade: int, edition: Edition, topics: str | None, kinds: str | None, minutes: int | None, weak: Path | None
) -> Blueprint | None:
    """The blueprint of a focus paper, or None for a whole one."""
    if topics is None and kinds is None and minutes is None and weak is None:
        return None
    from stavewright.cli.files import read
    from stavewright.papers.focus import focus
    from stavewright.services.documents import read_report

    lost = None
    if weak is not None:
        report = read(weak, read_report)
        lost = {topic: got.of - got.marks for topic, got in report.by_topic.items()}
    return focus(grade, edition, topics=names(topics), kinds=names(kinds), minutes=minutes, lost=lost)
