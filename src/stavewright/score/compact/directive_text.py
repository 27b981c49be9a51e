"""What stands in square brackets in music text: a new time or key, words and signs for the player, brackets."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import Final

from stavewright.score.compact.heading import signature, signature_words, time_word
from stavewright.score.compact.scanning import quoted, unquoted, words
from stavewright.score.stave import DIRECTIONS, Bar, Direction
from stavewright.theory.clef import CLEFS
from stavewright.theory.errors import StavewrightError
from stavewright.theory.key import Key
from stavewright.theory.metre import TimeSignature

_ABOVE: Final = ("tempo",)
_LETTERS: Final = re.compile(r"[pmfszr]{1,5}")
_EXAMPLE: Final = "write for example [p], [tempo Andante], [text dolce], [crescendo to 4], [time 3/4] or [bracket A]"


class DirectiveFault(StavewrightError):
    """Square brackets that say nothing that is known."""


@dataclass(slots=True)
class BarWords:
    """What the square brackets of a bar say of it."""

    time: TimeSignature | None = None
    fifths: int | None = None
    clef: str | None = None
    ending: int | None = None
    free: bool | None = None
    directions: list[Direction] = field(default_factory=list)


def read_directive(text: str, bar: BarWords, at: int) -> tuple[str, str]:
    """Read one pair of square brackets into the bar; a lettered bracket is given back as its name and letter.

    `at` is the place of the next event. Raises:
        DirectiveFault: it says nothing that is known.

    >>> bar = BarWords()
    >>> read_directive("[p]", bar, 2)
    ('', '')
    >>> bar.directions[0].text, bar.directions[0].at
    ('p', 2)
    """
    row = words(text[1:-1])
    if not row:
        raise DirectiveFault("empty square brackets", right=_EXAMPLE)
    name, rest = row[0].casefold(), list(row[1:])
    said = unquoted(rest[0]) if len(rest) == 1 else " ".join(rest)
    if name in ("bracket", "end"):
        return name, said
    if name == "time":
        bar.time = TimeSignature.parse({"common": "C", "cut": "cut C"}.get(said, said))
    elif name == "key":
        bar.fifths = signature(said) if said[:1].isdigit() else Key.parse(said).fifths
    elif name == "clef":
        if said not in CLEFS:
            raise DirectiveFault(f"clef {said!r}", right=f"write one of {', '.join(CLEFS)}")
        bar.clef = said
    elif name == "ending" and said.isdigit():
        bar.ending = int(said)
    elif name in ("free", "full") and not rest:
        bar.free = name == "free"
    elif name in DIRECTIONS:
        bar.directions.append(_direction(name, rest, at))
    elif _LETTERS.fullmatch(name) and not rest:
        bar.directions.append(Direction("dynamic", at, name))
    else:
        raise DirectiveFault(f"{text} is not known", right=_EXAMPLE)
    return "", ""


def _direction(kind: str, rest: list[str], at: int) -> Direction:
    text, until, until_bar, above = "", None, 0, kind in _ABOVE
    spoken: list[str] = []
    place = 0
    while place < len(rest):
        word, following = rest[place], rest[place + 1] if place + 1 < len(rest) else ""
        if word in ("to", "at", "bar") and following.lstrip("+").isdigit():
            number = int(following)
            if word == "to":
                until = number - 1
            elif word == "at":
                at = number - 1
            else:
                until_bar = number
            place += 2
            continue
        if word in ("above", "below"):
            above = word == "above"
        else:
            spoken.append(unquoted(word))
        place += 1
    text = " ".join(spoken)
    return Direction(kind, at, text, until, until_bar, above)


def write_direction(one: Direction, *, placed: bool) -> str:
    """A direction as it is typed; `placed` where it stands before its event and need not say where.

    >>> write_direction(Direction("tempo", 0, "Andante", above=True), placed=True)
    '[tempo Andante]'
    """
    if one.kind == "dynamic" and _LETTERS.fullmatch(one.text) and placed and one.until is None and not one.above:
        return f"[{one.text}]" if not one.until_bar else f"[dynamic {one.text} bar +{one.until_bar}]"
    parts = [one.kind]
    if one.text:
        parts.append(one.text if re.fullmatch(r"[A-Za-z]{5,}", one.text) and one.text != "above" else quoted(one.text))
        if one.text == "below":
            parts[-1] = quoted(one.text)
    parts += [] if placed else [f"at {one.at + 1}"]
    parts += [] if one.until is None else [f"to {one.until + 1}"]
    parts += [f"bar +{one.until_bar}"] if one.until_bar else []
    if one.above != (one.kind in _ABOVE):
        parts.append("above" if one.above else "below")
    return f"[{' '.join(parts)}]"


def write_bar_words(bar: Bar, *, free: bool) -> list[str]:
    """What changes at the start of a bar, as it is typed; `free` is what the rules would make of it."""
    found = []
    if bar.time is not None:
        found.append(f"[time {time_word(bar.time)}]")
    if bar.fifths is not None:
        found.append(f"[key {signature_words(bar.fifths)}]")
    if bar.clef is not None:
        found.append(f"[clef {bar.clef}]")
    if bar.ending is not None:
        found.append(f"[ending {bar.ending}]")
    if bar.free != free:
        found.append("[free]" if bar.free else "[full]")
    return found
