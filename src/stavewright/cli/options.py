"""Options that several commands share, parsed once at the edge."""

from __future__ import annotations

from collections.abc import Callable
from math import isnan
from typing import Any, Final, TypeVar

import click

_F = TypeVar("_F", bound=Callable[..., Any])

GRADE: Final = click.IntRange(1, 5)
SEED: Final = click.IntRange(0, 2**53)
EDITIONS: Final = click.Choice(["written", "on-screen"])
WORDS: Final = click.Choice(["uk", "us"])
NAMES: Final = click.Choice(["english", "german", "fixed-do"])
SIZES: Final = click.Choice(["a4", "letter"])


def not_nan(_context: click.Context, _option: click.Parameter, value: float | None) -> float | None:
    """A number as it was given, refused where it is none: a range lets "nan" through."""
    if value is not None and isnan(value):
        raise click.BadParameter("nan is not a number")
    return value


def grade_option(required: bool = True, default: int | None = None) -> Callable[[_F], _F]:
    """--grade."""
    known = {"required": True} if required else {"default": default, "show_default": True}
    return click.option("--grade", type=GRADE, help="Grade, 1 to 5 (cumulative).", **known)


def edition_option() -> Callable[[_F], _F]:
    """--edition."""
    return click.option(
        "--edition",
        type=EDITIONS,
        default="written",
        show_default=True,
        help="written: answers are constructed; on-screen: picked or placed.",
    )


def seed_option() -> Callable[[_F], _F]:
    """--seed."""
    return click.option(
        "--seed", type=SEED, default=1, show_default=True, help="Another number, another paper; the same, the same."
    )


def words_option() -> Callable[[_F], _F]:
    """--words."""
    return click.option(
        "--words", type=WORDS, default="uk", show_default=True, help="crotchet and bar, or quarter note and measure."
    )


def note_names_option() -> Callable[[_F], _F]:
    """--note-names."""
    return click.option(
        "--note-names",
        type=NAMES,
        default="english",
        show_default=True,
        help="B and B flat; H and B (german); si and si flat (fixed-do).",
    )


def size_option() -> Callable[[_F], _F]:
    """--size."""
    return click.option("--size", type=SIZES, default="a4", show_default=True, help="Paper size.")


def tunes_option() -> Callable[[_F], _F]:
    """--tunes."""
    return click.option(
        "--tunes",
        "folder",
        type=click.Path(exists=True, file_okay=False),
        help="A folder of your own MusicXML files to take extracts from.",
    )
