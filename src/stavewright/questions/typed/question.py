"""A whole typed question: words, music and named fields together make the facts."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from contextlib import suppress
from typing import Any, Final

from msgspec import NODEFAULT

from stavewright.questions.kind import Kind
from stavewright.questions.typed.facts import UNTYPED, Field, fields_of, made, read_fields
from stavewright.questions.typed.spreading import spread
from stavewright.questions.typed.way import BadTyping, Typing
from stavewright.score.compact.heading import Heading
from stavewright.score.compact.reading import read_headed
from stavewright.theory.clef import CLEFS
from stavewright.theory.errors import StavewrightError, together

MUSIC_FILES: Final = (".musicxml", ".xml", ".mxl")
"""How the names of files with music end."""

_NOTE: Final = re.compile(r"<?\(?[A-G][#bnx]{0,2}-?\d")


def read_question(
    kind: Kind,
    words: Sequence[str],
    given: Mapping[str, str],
    typing: Typing,
    fallback: Mapping[str, Any],
) -> Any:
    """The facts of a typed question.

    `words` are typed without a field's name: music (it has a heading with a colon) is laid out over the fields that
    hold notes, and so is the music of a MusicXML file; any other word goes to the first free field that it fits.
    `given` are named fields. `fallback` has what may be left out.

    Raises:
        BadTyping: with everything that is wrong or missing.

    >>> from stavewright.questions.catalogue import kind
    >>> read_question(kind("write-the-signature"), ["bass", "f# minor"], {}, Typing(), {}).key
    'F sharp minor'
    """
    values: dict[str, Any] = {}
    faults: list[str] = []
    left: list[str] = []
    for word in words:
        try:
            if is_music(word):
                score, headings = read_headed(word)
                values |= spread(kind, score, headings[0])
            elif word.casefold().endswith(MUSIC_FILES):
                score = typing.music(word)
                stave = score.staves[0]
                values |= spread(kind, score, Heading(stave.clef, stave.fifths, None, stave.time))
            else:
                left.append(word)
        except StavewrightError as fault:
            faults.append(str(fault))
    clef = next((word.casefold() for word in left if word.casefold() in CLEFS), None)
    here = Typing(values.get("clef") or clef or typing.clef, kind.topic, typing.plain, typing.music)
    try:
        values |= read_fields(kind, given, here)
    except StavewrightError as fault:
        faults.append(str(fault))
    for word in left:
        try:
            values |= _fitted(kind, word, values, here)
        except StavewrightError as fault:
            faults.append(str(fault))
    if faults:
        raise BadTyping(together(faults))
    return made(kind, values, fallback)


def is_music(word: str) -> bool:
    """Whether typed words are music: a heading with a clef that ends in a colon, or a clef and then notes.

    >>> is_music("treble D: F#4"), is_music("treble F#4 D5"), is_music("harmonic minor")
    (True, True, False)
    """
    heading, colon, _ = word.partition(":")
    parts = heading.split()
    if colon and any(part.casefold() in CLEFS for part in parts):
        return True
    return len(parts) > 1 and parts[0].casefold() in CLEFS and any(_NOTE.match(part) for part in parts[1:])


def _fitted(kind: Kind, word: str, values: Mapping[str, Any], typing: Typing) -> dict[str, Any]:
    """The fields that a word fills: one, or several where only its parts fit ("E harmonic minor").

    Raises:
        BadTyping: it fits nothing that is still open.
    """
    open_fields = [
        field
        for field in fields_of(kind)
        if field.name not in values and field.name.rpartition(".")[2] not in UNTYPED
    ]
    found = _filled(word, open_fields, typing)
    if found is None:
        raise _misfit(kind, word, open_fields, typing)
    return found


def _filled(word: str, open_fields: Sequence[Field], typing: Typing) -> dict[str, Any] | None:
    """Those that must be typed are tried first, those that take any word last; then the word is taken apart."""
    strict = [field for field in open_fields if not field.way.free]
    free = [field for field in open_fields if field.way.free]
    for field in sorted(strict, key=lambda field: field.default is not NODEFAULT):
        with suppress(StavewrightError):
            return {field.name: field.way.read(word, typing)}
    parts = word.split()
    for cut in range(1, len(parts)):
        first = _filled(" ".join(parts[:cut]), strict, typing)
        if first is not None:
            left = [field for field in strict if field.name not in first]
            rest = _filled(" ".join(parts[cut:]), left, typing)
            if rest is not None:
                return first | rest
    for field in sorted(free, key=lambda field: field.default is not NODEFAULT):
        with suppress(StavewrightError):
            return {field.name: field.way.read(word, typing)}
    return None


def _misfit(kind: Kind, word: str, open_fields: Sequence[Field], typing: Typing) -> BadTyping:
    """What to say of a word that fits nothing: the reason of the only field that is open, or all that are."""
    if len(word.split()) > 1 and all(_NOTE.match(part) for part in word.split()):
        return BadTyping(f"{word!r} has no clef", right=f"begin with it, as in `treble: {word}`")
    needed = [field for field in open_fields if field.default is NODEFAULT]
    if len(needed) == 1:
        try:
            needed[0].way.read(word, typing)
        except StavewrightError as fault:
            return BadTyping(f"{needed[0].name}: {fault}")
    names = ", ".join(f"{field.name} ({field.way.what})" for field in open_fields) or "nothing"
    return BadTyping(f"{word!r} fits no field of {kind.id}", right=f"still open: {names}")
