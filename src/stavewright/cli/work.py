"""`stavewright work`: a question of one's own, worked."""

from __future__ import annotations

import re
from pathlib import Path
from typing import TYPE_CHECKING

import click

from stavewright.cli.options import EDITIONS, GRADE, note_names_option, size_option, words_option

if TYPE_CHECKING:
    from collections.abc import Callable

    from stavewright.marking.documents import Marked
    from stavewright.questions.documents import FullQuestion
    from stavewright.score.stave import Score

EPILOG = """\
\b
Examples:
  stavewright work name-the-interval "treble: F#4 D5"
  stavewright work write-the-scale bass "F# " "harmonic minor" down
  stavewright work relative-key "D major" ask=key --answer "B minor"
  stavewright work transpose-the-melody "treble D 3/4: F#4 A4 D5 | D5:2." interval="minor 3rd" up=no
  stavewright work key-of-a-melody melody.musicxml --slips
  stavewright work four-part-chord

\b
Music is typed as docs/compact-music.md says. Without a question, a kind shows what it needs and one example.
"""

_FIELD = re.compile(r"([a-z_]+(?:\.[a-z_]+)?)=(.*)", re.DOTALL)


@click.command(epilog=EPILOG)
@click.argument("kind")
@click.argument("question", nargs=-1)
@click.option("--grade", type=GRADE, default=5, show_default=True, help="What a pupil of this grade may be asked.")
@click.option("--edition", type=EDITIONS, default="written", show_default=True, help="How the question is put.")
@words_option()
@note_names_option()
@click.option("--method", default="usual", show_default=True, help="How it is worked; some kinds know two ways.")
@click.option("--slips", is_flag=True, help="Also what each known slip would give, and what to tell the pupil.")
@click.option("--answer", help="Mark this answer.")
@click.option("--json", "as_document", is_flag=True, help="Print the question as one JSON document.")
@click.option("--pdf", type=click.Path(dir_okay=False, path_type=Path), help="Also print it, worked, to this file.")
@size_option()
def work(
    kind: str,
    question: tuple[str, ...],
    grade: int,
    edition: str,
    words: str,
    note_names: str,
    method: str,
    slips: bool,
    answer: str | None,
    as_document: bool,
    pdf: Path | None,
    size: str,
) -> None:
    """Work a question of your own: the answer, all else that is right and why, and the worked steps.

    KIND is the id of a question kind (`stavewright kinds` lists them). QUESTION is music, words, or fields as
    NAME=WORDS; a MusicXML file may stand for music.
    """
    from stavewright.questions.naming import renamed
    from stavewright.services.output import written_out
    from stavewright.services.work_question import TypedQuestion, check_method, put
    from stavewright.wiring import composed_melodies, music_writer

    if not question:
        _needs(kind, grade, edition)
        return
    fields = {found[1]: found[2] for word in question if (found := _FIELD.fullmatch(word)) is not None}
    plain = tuple(word for word in question if _FIELD.fullmatch(word) is None)
    typed = TypedQuestion(kind, plain, fields, grade, edition, words, _music_reader())
    check_method(kind, method)
    worked = written_out(put(typed, composed_melodies()), music_writer(), method=method)
    worked = renamed(worked, note_names)
    marked = None if answer is None else _marked(worked, answer)
    if pdf is not None:
        from stavewright.cli.files import write_whole
        from stavewright.services.work_question import as_paper
        from stavewright.wiring import engraver

        write_whole(pdf, engraver(size=size).model_answers(as_paper(worked)))
    if as_document:
        import msgspec

        click.echo(msgspec.json.format(msgspec.json.encode(worked), indent=1))
        if marked is not None:
            click.echo(msgspec.json.format(msgspec.json.encode(marked), indent=1))
        return
    from stavewright.cli.worked_text import marked_text, worked_text

    click.echo(worked_text(worked, slips=slips))
    if marked is not None:
        click.echo(marked_text(worked, marked))


def _marked(worked: FullQuestion, answer: str) -> Marked:
    from stavewright.marking.one_question import mark_question
    from stavewright.questions.typed.answers import read_answer

    return mark_question(worked, read_answer(worked, answer, worked.answers[0].value))


def _music_reader() -> Callable[[str], Score]:
    """Reads music text, or the MusicXML file of that name."""

    def read(text: str) -> Score:
        from stavewright.cli.files import read_bytes
        from stavewright.questions.typed.question import MUSIC_FILES
        from stavewright.score.compact.reading import read_music
        from stavewright.wiring import music_file_reader

        if text.casefold().endswith(MUSIC_FILES):
            return music_file_reader()(read_bytes(Path(text)))
        return read_music(text)

    return read


def _needs(kind: str, grade: int, edition: str) -> None:
    """What a kind needs, field by field, and an example made from a set question."""
    from stavewright.cli.worked_text import needs_text
    from stavewright.services.work_question import example, words_in_use
    from stavewright.wiring import composed_melodies

    melodies = composed_melodies()
    shown, answer = example(kind, grade, edition, melodies)
    click.echo(needs_text(kind, shown, answer, words_in_use(kind, grade, melodies)))
