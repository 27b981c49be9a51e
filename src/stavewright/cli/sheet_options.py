"""What the sheets for lessons share: their options, and how their files are written."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from string import ascii_lowercase
from typing import TYPE_CHECKING, Any, Final, TypeVar

import click

from stavewright.cli.options import (
    edition_option,
    note_names_option,
    seed_option,
    size_option,
    tunes_option,
    words_option,
)

if TYPE_CHECKING:
    from stavewright.papers.documents import Paper

_F = TypeVar("_F", bound=Callable[..., Any])

LARGEST_SEED: Final = 2**53
STAVES: Final = ("7", "8", "10", "14", "16")


def stave_option(default: str = "7") -> Callable[[_F], _F]:
    """--stave."""
    return click.option(
        "--stave",
        type=click.Choice(STAVES),
        default=default,
        show_default=True,
        help="Stave height in mm (14 and 16: large print).",
    )


def out_option() -> Callable[[_F], _F]:
    """--out."""
    return click.option(
        "--out", type=click.Path(file_okay=False, path_type=Path), default="out", show_default=True, help="Folder."
    )


def versions_option() -> Callable[[_F], _F]:
    """--versions."""
    return click.option(
        "--versions",
        type=click.IntRange(1, 4),
        default=1,
        show_default=True,
        help="2: versions A and B, alike in all but the notes; the letter is in the corner.",
    )


def working_option() -> Callable[[_F], _F]:
    """--working."""
    return click.option("--working", is_flag=True, help="Answers with every step, not only the answers.")


def question_sheet_options() -> Callable[[_F], _F]:
    """What every sheet of questions takes, from --edition to --tunes, in the order its help shows."""
    options = (
        edition_option(), seed_option(), versions_option(), working_option(), words_option(), note_names_option(),
        size_option(), stave_option(), out_option(), tunes_option(),
    )  # fmt: skip

    def with_options(command: _F) -> _F:
        for option in reversed(options):
            command = option(command)
        return command

    return with_options


def names(text: str | None) -> tuple[str, ...]:
    """Names with commas between them; none where the option is not given.

    Raises:
        UsageError: the option is given and names nothing.

    >>> names("scales, keys,scales"), names(None)
    (('scales', 'keys'), ())
    """
    if text is None:
        return ()
    found = tuple(dict.fromkeys(name.strip() for name in text.split(",") if name.strip()))
    if not found:
        raise click.UsageError(f"{text!r} names nothing: give one name, or several with commas")
    return found


def write(out: Path, files: Mapping[str, bytes]) -> None:
    """Write all files or none, and say where they are."""
    from stavewright.cli.files import write_all

    for path in write_all(out, dict(files)):
        click.echo(path)


def write_sheets(out: Path, printed: Mapping[str, bytes], papers: Sequence[Paper]) -> None:
    """Write the pages of sheets and, beside them, each sheet as JSON to be marked."""
    from stavewright.services.documents import as_json

    files = {f"{name}.pdf": pdf for name, pdf in printed.items()}
    write(out, files | {f"{one.id}.json": as_json(one) for one in papers})


def named_after(*words: str) -> str:
    """What a sheet is on, for its file name: "-keys-scales"; nothing where nothing is named, cut where it is long.

    >>> named_after("keys", "scales"), named_after(), named_after("with-and-without-signature", "x")
    ('-keys-scales', '', '-with-and-without-signat')
    """
    return f"-{'-'.join(words)}"[:24].rstrip("-") if words else ""


def versions_of(name: str, seed: int, versions: int) -> list[tuple[str, int]]:
    """The id and the seed of each version: the name alone for one, with a letter for more; no seed is too large.

    >>> versions_of("drill", 7, 1), versions_of("drill", 7, 2)
    ([('drill', 7)], [('drill-a', 7), ('drill-b', 8)])
    """
    ids = [name] if versions == 1 else [f"{name}-{letter}" for letter in ascii_lowercase[:versions]]
    return [(one, (seed + place) % (LARGEST_SEED + 1)) for place, one in enumerate(ids)]
