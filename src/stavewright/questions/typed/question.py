"""A whole typed question: words, music and named fields together make the facts."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
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
            field = _field_for(kind, word, values, here)
            values[field.name] = field.way.read(word, here)
        except StavewrightError as fault:
            faults.append(str(fault))
    if faults:
        raise BadTyping(together(faults))
    return made(kind, values, fallback)


def is_music(word: str) -> bool:
    """Whether typed words are music: a heading that begins with a clef and ends in a colon.

    >>> is_music("treble D: F#4"), is_music("harmonic minor")
    (True, False)
    """
    heading, colon, _ = word.partition(":")
    return bool(colon) and any(part.casefold() in CLEFS for part in heading.split())


def _field_for(kind: Kind, word: str, values: Mapping[str, Any], typing: Typing) -> Field:
    """The first field still free that the word fits: those that must be typed first, those that take any word last."""
    open_fields = [
        field
        for field in fields_of(kind)
        if field.name not in values and field.name.rpartition(".")[2] not in UNTYPED
    ]
    ordered = sorted(open_fields, key=lambda field: (field.way.free, field.default is not NODEFAULT))
    for field in ordered:
        try:
            field.way.read(word, typing)
        except StavewrightError:
            continue
        return field
    names = ", ".join(f"{field.name} ({field.way.what})" for field in open_fields) or "nothing"
    raise BadTyping(f"{word!r} fits no field of {kind.id}", right=f"still open: {names}")
