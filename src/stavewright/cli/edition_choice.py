"""--edition where editions may be mixed, or be a file of the teacher's own."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any, TypeVar

import click

_F = TypeVar("_F", bound=Callable[..., Any])


def editions_option(help: str) -> Callable[[_F], _F]:
    """--edition, as often as you like."""
    return click.option("--edition", "editions", multiple=True, metavar="NAME|FILE.toml", help=help)


def named_editions(given: Sequence[str]) -> list[str | tuple[str, bytes]]:
    """Editions as they were named; a name that is a file is read.

    Raises:
        click.UsageError: neither an edition nor a file.
    """
    from stavewright.cli.files import read_bytes
    from stavewright.syllabus.edition import EDITIONS

    found: list[str | tuple[str, bytes]] = []
    for name in given:
        if all(part in EDITIONS for part in name.split("+")):
            found.append(name)
        elif Path(name).is_file():
            found.append((name, read_bytes(Path(name))))
        else:
            raise click.UsageError(
                f"no edition {name!r}: it is {' or '.join(EDITIONS)} (name both to mix them), or the file of an "
                "edition of your own (TOML)"
            )
    return found
