"""The part of ABC notation that the fiddle collections use, read as bars of the score.

Source: the ABC music standard 2.1 (2011). What is not read makes its bar, or the whole tune, not understood.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Final

from stavewright.tunes.abc_body import Body
from stavewright.tunes.abc_header import fifths_of, metre_of, transcriber_of, unit_of, usual_unit
from stavewright.tunes.errors import NotUnderstoodTune
from stavewright.tunes.tune import Tune

__all__ = ["read_tune", "tune_texts"]

_START: Final = re.compile(r"^X:", re.MULTILINE)
_FIELD: Final = re.compile(r"([A-Za-z]):(.*)")
_COMMENT: Final = re.compile(r"%.*")
_LONGEST: Final = 40_000


def tune_texts(book: str) -> Iterator[str]:
    r"""The tunes of an ABC file, one text each, in the order of the file.

    >>> [text.split()[0] for text in tune_texts("a word before\nX:1\nK:G\nGAB|\n\nX:2\nK:C\nc|")]
    ['X:1', 'X:2']
    """
    starts = [found.start() for found in _START.finditer(book)]
    for start, end in zip(starts, [*starts[1:], len(book)], strict=True):
        yield book[start:end]


def read_tune(text: str) -> Tune:
    r"""One tune as bars; bars with anything that is not understood hold the reason instead.

    Raises:
        NotUnderstoodTune: no key or metre, a key or metre that is not read, several voices, or a tune too long.

    >>> tune = read_tune("X:1\nT:A scale\nM:4/4\nL:1/4\nK:G\nGABc|defg|]")
    >>> tune.title, [note.pitch.short for note in tune.bars[1].bar.events]
    ('A scale', ['D5', 'E5', 'F#5', 'G5'])
    """
    if len(text) > _LONGEST:
        raise NotUnderstoodTune(f"a tune of {len(text)} characters")
    lines = text.splitlines()
    fields, begin = _header(lines)
    if "V" in fields:
        raise NotUnderstoodTune("several voices")
    if "M" not in fields:
        raise NotUnderstoodTune("a tune without a metre")
    time = metre_of(fields["M"])
    unit = unit_of(fields["L"]) if "L" in fields else usual_unit(time)
    body = Body(time, fifths_of(fields["K"]), unit)
    for line in lines[begin:]:
        _line(body, line)
    return Tune(
        number=fields.get("X", ""),
        title=" ".join(fields.get("T", "").replace(" -- ", ", ").split()).rstrip("."),
        transcriber=transcriber_of(fields.get("Z", "").splitlines()),
        composer=" ".join(fields.get("C", "").split()),
        bars=body.finished(),
        left_out=frozenset(body.left_out),
    )


def _header(lines: list[str]) -> tuple[dict[str, str], int]:
    fields: dict[str, str] = {}
    for place, line in enumerate(lines):
        found = _FIELD.match(line)
        if found is None:
            continue
        name, value = found.group(1), _COMMENT.sub("", found.group(2)).strip()
        if name == "Z":
            fields[name] = f"{fields.get(name, '')}\n{value}"
        fields.setdefault(name, value)
        if name == "K":
            return fields, place + 1
    raise NotUnderstoodTune("a tune without a key")


def _line(body: Body, line: str) -> None:
    if "%" in line:
        line = _COMMENT.sub("", line)
    found = _FIELD.match(line)
    if found is not None and found.group(1) not in "EF":
        body.field(found.group(1), found.group(2).strip())
    elif line.strip():
        body.music(line)
