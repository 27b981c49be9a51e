"""`stavewright questions`: single questions as JSON, one document a line."""

from __future__ import annotations

import click

from stavewright.cli.options import (
    edition_option,
    grade_option,
    note_names_option,
    seed_option,
    tunes_option,
    words_option,
)

EPILOG = """\
\b
Examples:
  stavewright questions --kind name-the-interval --grade 4 --count 10
  stavewright questions --kind write-the-scale --grade 2 --edition on-screen --seed 7 | head -1
"""


@click.command(epilog=EPILOG)
@click.option("--kind", required=True, help="A kind's id; `stavewright kinds` lists them.")
@grade_option()
@edition_option()
@words_option()
@note_names_option()
@click.option("--count", type=click.IntRange(1, 1_000_000), default=1, show_default=True, help="How many.")
@seed_option()
@tunes_option()
def questions(
    kind: str, grade: int, edition: str, words: str, note_names: str, count: int, seed: int, folder: str | None
) -> None:
    """Set single questions of one kind: prompt, every accepted answer with its reason, working, slips."""
    import msgspec

    from stavewright.questions.naming import renamed
    from stavewright.services.output import written_out
    from stavewright.services.set_questions import set_questions
    from stavewright.wiring import melodies, music_writer

    write_music = music_writer()
    for question in set_questions(
        kind=kind, grade=grade, edition=edition, count=count, seed=seed, melodies=melodies(folder), words=words
    ):
        click.echo(msgspec.json.encode(renamed(written_out(question, write_music), note_names)))
