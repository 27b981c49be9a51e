"""Ways of typing a row of values: `crotchet. (quaver quaver) r:crotchet | minim~ minim`."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby
from typing import Any, Final

from stavewright.questions.typed.way import BadTyping, Typing, Way
from stavewright.score.compact.event_text import read_value
from stavewright.score.compact.reading import USUAL
from stavewright.score.compact.scanning import pieces

EXAMPLE: Final = "values in a row, such as crotchet. quaver (quaver quaver) r:minim; ~ ties, 3{8 8 8} is a triplet"


def read_value_token(text: str) -> dict[str, Any]:
    """One value as it is typed, as plain fields: type, dots, rest, tie, beam.

    >>> read_value_token("r:crotchet.")
    {'type': 'crotchet', 'dots': 1, 'rest': True}
    """
    body, _, beam = text.partition("+beam=")
    tie = body.endswith("~")
    body = body.removesuffix("~")
    rest = body.startswith("r:")
    duration = read_value(body.removeprefix("r:"))
    found: dict[str, Any] = {"type": duration.type}
    found |= {"dots": duration.dots} if duration.dots else {}
    found |= {"rest": True} if rest else {}
    found |= {"tie": True} if tie else {}
    return found | ({"beam": int(beam)} if beam.isdigit() else {})


def read_row(text: str, typing: Typing | None = None) -> list[dict[str, Any]]:
    """A row of values as plain fields.

    Raises:
        BadTyping, DurationError: what cannot be read.

    >>> [one["type"] for one in read_row("4. (8 16 16)")]
    ['crotchet', 'quaver', 'semiquaver', 'semiquaver']
    """
    row: list[dict[str, Any]] = []
    beam, beamed, tuplet = 0, False, None
    for piece in pieces(text):
        if piece.sort == "event":
            one = read_value_token(piece.text)
            one |= {"beam": beam} if beamed else {}
            row.append(one | ({"tuplet": tuplet} if tuplet else {}))
        elif piece.sort == "tuplet":
            actual, _, normal = piece.text[:-1].partition(":")
            tuplet = {"actual": int(actual), "normal": int(normal) if normal else USUAL.get(int(actual), 1)}
        elif piece.text == "}":
            tuplet = None
        elif piece.text == "(":
            beam, beamed = beam + 1, True
        elif piece.text == ")":
            beamed = False
        else:
            raise BadTyping(f"{piece.text!r} does not belong in a row of values", right=EXAMPLE)
    return row


def write_value_token(one: dict[str, Any]) -> str:
    """One value as it is typed.

    >>> write_value_token({"type": "minim", "dots": 1, "tie": True})
    'minim.~'
    """
    head = f"{'r:' if one.get('rest') else ''}{one['type']}{'.' * one.get('dots', 0)}"
    return head + ("~" if one.get("tie") else "")


def write_row(row: Sequence[dict[str, Any]], typing: Typing | None = None) -> str:
    """A row of values as it is typed.

    >>> write_row(read_row("4. (8 16 16) 3{8 8 8}"))
    'crotchet. (quaver semiquaver semiquaver) 3{quaver quaver quaver}'
    """
    beams = [one.get("beam") for one in row]
    runs = [(number, len(list(group))) for number, group in groupby(beams)]
    counted = [number for number, _ in runs if number is not None]
    bracketed = counted == list(range(1, len(counted) + 1))
    tokens: list[str] = []
    place = 0
    for number, length in runs:
        said = [write_value_token(one) for one in row[place : place + length]]
        if number is not None and bracketed:
            said = ["(" + said[0], *said[1:]]
            said[-1] += ")"
        elif number is not None:
            said = [f"{one}+beam={number}" for one in said]
        tokens += said
        place += length
    parts: list[str] = []
    for key, group in groupby(range(len(row)), key=lambda at: _tuplet(row[at])):
        said = [tokens[at] for at in group]
        if key is None:
            parts += said
        else:
            opening = f"{key[0]}{{" if USUAL.get(key[0]) == key[1] else f"{key[0]}:{key[1]}{{"
            parts.append(opening + " ".join(said) + "}")
    return " ".join(parts)


def _tuplet(one: dict[str, Any]) -> tuple[int, int] | None:
    found = one.get("tuplet")
    return None if not found else (found["actual"], found["normal"])


ROW: Final = Way(EXAMPLE, read_row, write_row)


def _read_rows(text: str, typing: Typing) -> list[list[dict[str, Any]]]:
    return [read_row(part) for part in text.split("|")]


ROWS: Final = Way(
    f"{EXAMPLE}; bars are parted by |", _read_rows, lambda bars, _: " | ".join(write_row(bar) for bar in bars)
)


def lasting(fields: frozenset[str]) -> Way:
    """A value-like item with just some of the fields value, dots, rest, tie."""

    def read(text: str, typing: Typing) -> dict[str, Any]:
        found = read_value_token(text)
        found["value"] = found.pop("type")
        strange = set(found) - fields
        if strange:
            raise BadTyping(f"{text!r} cannot have a {', '.join(sorted(strange))} here")
        return found

    def write(value: Any, typing: Typing) -> str:
        return write_value_token({**value, "type": value["value"]})

    return Way("a value, such as crotchet., r:quaver or minim~", read, write)
