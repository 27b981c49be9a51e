"""The way in which any field is typed, found from its type and its name."""

from __future__ import annotations

import re
from dataclasses import dataclass
from types import NoneType, UnionType
from typing import Annotated, Any, Final, Union, get_args, get_origin, get_type_hints

import msgspec
from msgspec import Meta, Struct

from stavewright.questions.score_document import PitchDocument, ScoreDocument
from stavewright.questions.score_mirror import document_of, score_of
from stavewright.questions.typed import note_ways, plain_ways, row_ways
from stavewright.questions.typed.way import BadTyping, Typing, Way, several
from stavewright.questions.values import WrittenNote, WrittenValue
from stavewright.score.compact.writing import write_music
from stavewright.theory.clef import CLEFS

_TIMED: Final = {"value", "dots", "rest", "tie"}
_PLACED: Final = {"clef", "place", "accidental", "value", "tie", "stem"}


@dataclass(frozen=True, slots=True)
class Hint:
    """A type taken apart: what it is without None and bounds, its bounds, and whether None may stand for it."""

    type: Any
    meta: Meta | None
    optional: bool


def apart(hint: Any) -> Hint:
    """A type without its bounds and without None.

    >>> apart(int | None).optional, apart(Annotated[int, Meta(ge=1)]).type
    (True, <class 'int'>)
    """
    optional = False
    meta: Meta | None = None
    while True:
        if get_origin(hint) is Annotated:
            meta = meta or next((one for one in hint.__metadata__ if isinstance(one, Meta)), None)
            hint = get_args(hint)[0]
        elif get_origin(hint) in (Union, UnionType):
            rest = [one for one in get_args(hint) if one is not NoneType]
            optional = len(rest) < len(get_args(hint))
            hint = rest[0]
        else:
            return Hint(hint, meta, optional)


def is_struct(type_: Any) -> bool:
    """Whether a type is a record of fields."""
    return isinstance(type_, type) and issubclass(type_, Struct)


def way_of(hint: Any, name: str, topic: str) -> Way:
    """The way in which a field of that type and name is typed.

    >>> from stavewright.questions.written import KeyText
    >>> way_of(KeyText, "key", "keys").read("f#", Typing())
    'F sharp minor'
    """
    one = apart(hint)
    found = _way(one, name, topic)
    return _or_none(found) if one.optional else found


def _or_none(way: Way) -> Way:
    return Way(
        f"{way.what}; or none",
        lambda text, typing: None if text.strip().casefold() == "none" else way.read(text, typing),
        lambda value, typing: "none" if value is None else way.write(value, typing),
        way.free,
    )


def _way(one: Hint, name: str, topic: str) -> Way:
    if one.type is ScoreDocument:
        return MUSIC
    if get_origin(one.type) is tuple:
        return _row_way(get_args(one.type), name, topic)
    if is_struct(one.type):
        return _struct_way(one.type, topic)
    if one.type is bool:
        return plain_ways.yes_or_no(name)
    if one.type is int:
        if name in ("fifths", "ticks", "pickup"):
            return plain_ways.BY_NAME[name]
        bounds = None if one.meta is None else (one.meta.ge, one.meta.le)
        return plain_ways.PLACE if bounds == plain_ways.PLACE_BOUNDS else plain_ways.NUMBER
    return _word_way(one, name, topic)


def _word_way(one: Hint, name: str, topic: str) -> Way:
    pattern = "" if one.meta is None or one.meta.pattern is None else one.meta.pattern
    if pattern in plain_ways.BY_PATTERN:
        return plain_ways.BY_PATTERN[pattern]
    if pattern.startswith("^(I|II|"):
        return plain_ways.CHORD
    options = plain_ways.one_of(pattern)
    if options and set(options) <= set(CLEFS):
        return plain_ways.CLEF
    if pattern.startswith("^(major|(natural"):
        options = ("major", "natural minor", "harmonic minor", "melodic minor", "harmonic or melodic minor")
    if options:
        return plain_ways.closed(options)
    if name in plain_ways.BY_NAME:
        return plain_ways.BY_NAME[name]
    if topic == "terms" and name == "among":
        return plain_ways.TERM
    if name == "notes":
        return plain_ways.PITCH
    return plain_ways.WORDS


def _row_way(items: tuple[Any, ...], name: str, topic: str) -> Way:
    inner = apart(items[0])
    if name == "lines":
        return plain_ways.VERSE
    if inner.type is WrittenValue:
        return row_ways.ROW
    if get_origin(inner.type) is tuple:
        deeper = get_args(inner.type)
        if apart(deeper[0]).type is WrittenValue:
            return row_ways.ROWS
        if apart(deeper[0]).type is int:
            return _PAIRS
        return _bars_of(_row_way(deeper, name, topic))
    one = way_of(items[0], name, topic)
    if is_struct(inner.type):
        fields = set(inner.type.__struct_fields__)
        spaced = fields <= _TIMED or (fields <= _PLACED and "clef" not in fields)
        if spaced or inner.type in (PitchDocument, WrittenNote):
            return several(one, comma=False)
        if fields <= _PLACED:
            return several(one, comma=True)
        return _items(one)
    patterned = inner.type is int or (inner.meta is not None and inner.meta.pattern is not None)
    spoken = one is plain_ways.KEY or one.what.startswith("one of major")
    return several(one, comma=not ((patterned and not spoken) or one is plain_ways.PITCH))


def _bars_of(row: Way) -> Way:
    return Way(
        f"{row.what}; bars are parted by |",
        lambda text, typing: [row.read(part, typing) for part in text.split("|")],
        lambda bars, typing: " | ".join(row.write(bar, typing) for bar in bars),
    )


def _items(one: Way) -> Way:
    return Way(
        f"{one.what}; several, parted by semicolons",
        lambda text, typing: [one.read(part, typing) for part in text.split(";") if part.strip()],
        lambda values, typing: "; ".join(one.write(value, typing) for value in values),
    )


def _struct_way(struct: Any, topic: str) -> Way:
    fields = frozenset(struct.__struct_fields__)
    if struct is PitchDocument:
        return note_ways.PITCH_FIELDS
    if struct is WrittenNote:
        return note_ways.WRITTEN_NOTE
    if "place" in fields and fields <= _PLACED:
        return note_ways.note_like(fields)
    if "value" in fields and fields <= _TIMED:
        return row_ways.lasting(fields)
    return _named_fields(struct, topic)


def _named_fields(struct: Any, topic: str) -> Way:
    """A record as `name=words name=words`."""
    hints = get_type_hints(struct, include_extras=True)
    ways = {name: way_of(hints[name], name, topic) for name in struct.__struct_fields__}
    parts = re.compile(rf"(?:^|\s)({'|'.join(ways)})=")

    def read(text: str, typing: Typing) -> dict[str, Any]:
        found = parts.split(text.strip())
        if found[0].strip():
            raise BadTyping(f"{found[0].strip()!r} has no name before it", right=wanted)
        pairs = zip(found[1::2], found[2::2], strict=True)
        return {name: ways[name].read(said.strip(), typing) for name, said in pairs}

    def write(value: Any, typing: Typing) -> str:
        return " ".join(f"{name}={way.write(value[name], typing)}" for name, way in ways.items() if name in value)

    wanted = "write " + " ".join(f"{name}=..." for name in ways)
    return Way(" ".join(f"{name}=..." for name in ways), read, write)


def _read_pair(text: str) -> list[int]:
    found = re.fullmatch(r"\s*(\d+)\s*-\s*(\d+)\s*", text)
    if found is None:
        raise BadTyping(f"{text.strip()!r} is not a first and a last", right="write 1-4, 5-8")
    return [int(found[1]), int(found[2])]


_PAIRS: Final = Way(
    "first and last, such as 1-4, 5-8",
    lambda text, _: [_read_pair(part) for part in text.split(",")],
    lambda pairs, _: ", ".join(f"{first}-{last}" for first, last in pairs),
)


def _read_score(text: str, typing: Typing) -> Any:
    return msgspec.to_builtins(document_of(typing.music(text)))


def _write_score(value: Any, typing: Typing) -> str:
    return write_music(score_of(msgspec.convert(value, ScoreDocument)), plain=typing.plain)


MUSIC: Final = Way(
    "music as a line of text (docs/compact-music.md), as `treble D 3/4: F#4 A4 D5`, or a MusicXML file",
    _read_score,
    _write_score,
)
