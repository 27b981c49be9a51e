"""The pieces of a line of music text: notes, bar lines, brackets, and where each stands."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final

QUOTED: Final = r'"(?:\\.|[^"\\])*"'
_PATTERNS: Final = (
    ("directive", rf"\[(?:{QUOTED}|[^\[\]\"])*\]"),
    ("tuplet", r"\d{1,2}(?::\d{1,2})?\{"),
    ("line", r":\||\|\]|\|\||\|:|\|-|\|"),
    ("mark", r"[(){};&]"),
    ("event", rf"(?:<[^<>]*>|[^\s()\[\]{{}};&|<>\"])(?:{QUOTED}|[^\s()\[\]{{}};&|\"])*"),
    ("stray", r"\S"),
)
_PIECE: Final = re.compile("|".join(f"(?P<{name}>{pattern})" for name, pattern in _PATTERNS), re.DOTALL)
_WORD: Final = re.compile(rf"(?:{QUOTED}|[^\s\"])+")

LINES: Final = {"|": "single", "||": "double", "|]": "final", ":|": "repeat-end", "|-": "none"}
"""How each bar line is typed."""


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece of the text: what sort it is, and how it is typed."""

    sort: str
    text: str


def pieces(text: str) -> tuple[Piece, ...]:
    """The music of one stave, piece by piece.

    >>> [piece.text for piece in pieces("(C4:8 D4) | 3{E4:4 F4 G4} |]")]
    ['(', 'C4:8', 'D4', ')', '|', '3{', 'E4:4', 'F4', 'G4', '}', '|]']
    """
    return tuple(Piece(found.lastgroup or "", found[0]) for found in _PIECE.finditer(text))


def words(text: str) -> tuple[str, ...]:
    """The words of a heading or of square brackets; a run in double quotes holds together.

    >>> words('text "con fuoco" above')
    ('text', '"con fuoco"', 'above')
    """
    return tuple(found[0] for found in _WORD.finditer(text))


def quoted(text: str) -> str:
    """A text in double quotes.

    >>> quoted("dolce")
    '"dolce"'
    """
    return '"' + text.replace("\\", "\\\\").replace('"', '\\"') + '"'


def unquoted(text: str) -> str:
    """What stands in double quotes; a text without them as it is.

    >>> unquoted(quoted('the "first"'))
    'the "first"'
    """
    if len(text) > 1 and text[0] == text[-1] == '"':
        return re.sub(r"\\(.)", r"\1", text[1:-1], flags=re.DOTALL)
    return text


def staves(text: str) -> tuple[str, ...]:
    """The text of each stave, parted at semicolons outside quotes.

    >>> staves("treble: C5; bass: C3")
    ('treble: C5', ' bass: C3')
    """
    parted = re.split(rf"({QUOTED})|;", text)
    found = [""]
    for place, part in enumerate(parted):
        if place % 2:
            if part is None:
                found.append("")
            else:
                found[-1] += part
        else:
            found[-1] += part or ""
    return tuple(found)
