"""One way of typing: how a field of a question's facts is read from words, and written in them."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from stavewright.score.compact.reading import read_music
from stavewright.score.stave import Score
from stavewright.theory.errors import StavewrightError


class BadTyping(StavewrightError):
    """A typed question that cannot be read; the message names each field that is wrong and what would be right."""


@dataclass(frozen=True, slots=True)
class Typing:
    """What is known while a question is read or written: the clef of its notes, its topic, who reads music.

    `plain` leaves out of written music what only programs need.
    """

    clef: str | None = None
    topic: str = ""
    plain: bool = False
    music: Callable[[str], Score] = read_music


@dataclass(frozen=True, slots=True)
class Way:
    """How one sort of field is typed: what is wanted, in words, and the reader and the writer of plain values.

    `free` ways take any words, so they are tried last when words are given without the name of a field.
    """

    what: str
    read: Callable[[str, Typing], Any]
    write: Callable[[Any, Typing], str]
    free: bool = False


def several(one: Way, *, comma: bool) -> Way:
    """Many of a sort, parted by commas (or semicolons) where one may hold spaces, else by spaces (commas do too)."""

    def read(text: str, typing: Typing) -> list[Any]:
        parts = text.split(";" if ";" in text else ",") if comma else re.split(r"[\s,;]+", text)
        return [one.read(part.strip(), typing) for part in parts if part.strip()]

    def write(values: Any, typing: Typing) -> str:
        said = [one.write(value, typing) for value in values]
        return ("; " if any("," in word for word in said) else ", " if comma else " ").join(said)

    return Way(f"{one.what}; several, parted by {'commas' if comma else 'spaces'}", read, write, one.free)
