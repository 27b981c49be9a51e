"""Ways of typing notes as they are printed under a clef: letter, octave, and only the sign that stands before it."""

from __future__ import annotations

import re
from typing import Any, Final

from stavewright.questions.typed.plain_ways import CLEF
from stavewright.questions.typed.way import BadTyping, Typing, Way
from stavewright.score.compact.event_text import read_pitch, read_value
from stavewright.theory.clef import CLEFS
from stavewright.theory.pitch import Pitch

PRINTED: Final = "a note as printed: letter, the sign printed before it (n for a natural), octave, as F#4, Fn4 or F4"

_SIGNS: Final = {
    "sharp": "#", "flat": "b", "natural": "n", "double-sharp": "##", "flat-flat": "bb", None: "",
}  # fmt: skip
_BY_SIGN: Final = {short: name for name, short in _SIGNS.items()} | {"x": "double-sharp"}
_NOTE: Final = re.compile(r"([A-Ga-g])(##|#|x|bb|b|n)?(-?\d)")
_ITEM: Final = re.compile(r"(?:(\w+)[ :.])?([A-Ga-g][#xbn]{0,2}-?\d)(?::([A-Za-z0-9-]+\.*))?(~)?(?:\+(up|down))?")


def _clef(typing: Typing) -> str:
    if typing.clef not in CLEFS:
        raise BadTyping("a printed note needs its clef", right="say clef=treble or another one too")
    return str(typing.clef)


def read_printed(text: str, clef: str) -> dict[str, Any]:
    """A printed note as its place on the stave and its sign.

    >>> read_printed("F#4", "treble")
    {'place': 1, 'accidental': 'sharp'}
    """
    found = _NOTE.fullmatch(text)
    if found is None:
        read_pitch(text)
        raise BadTyping(f"{text!r} is not a printed note", right=PRINTED)
    place = CLEFS[clef].place(Pitch(found[1].upper(), 0, int(found[3])))
    return {"place": place} | ({"accidental": _BY_SIGN[found[2]]} if found[2] else {})


def write_printed(one: dict[str, Any], clef: str) -> str:
    """A printed note as it is typed.

    >>> write_printed({"place": 1, "accidental": "natural"}, "treble")
    'Fn4'
    """
    pitch = CLEFS[clef].pitch_at(one["place"])
    return f"{pitch.step}{_SIGNS[one.get('accidental')]}{pitch.octave}"


def note_like(fields: frozenset[str]) -> Way:
    """An item that stands at a place of a stave, with just some of the fields clef, accidental, value, tie, stem."""
    own_clef = "clef" in fields

    def read(text: str, typing: Typing) -> dict[str, Any]:
        found = _ITEM.fullmatch(" ".join(text.split()))
        if found is None:
            raise BadTyping(f"{text!r} is not a printed note", right=wanted)
        if own_clef and found[1] is None:
            raise BadTyping(f"{text!r} has no clef", right=wanted)
        clef = CLEF.read(found[1], typing) if own_clef else _clef(typing)
        item = ({"clef": clef} if own_clef else {}) | read_printed(found[2], clef)
        item |= {"value": read_value(found[3]).type} if found[3] else {}
        item |= {"tie": True} if found[4] else {}
        item |= {"stem": found[5]} if found[5] else {}
        strange = set(item) - fields
        if strange:
            raise BadTyping(f"{text!r} cannot have a {', '.join(sorted(strange))} here", right=wanted)
        return item

    def write(one: Any, typing: Typing) -> str:
        clef = one["clef"] if own_clef else _clef(typing)
        head = (f"{clef} " if own_clef else "") + write_printed(one, clef)
        value = f":{one['value']}" if "value" in fields else ""
        return head + value + ("~" if one.get("tie") else "") + (f"+{one['stem']}" if "stem" in fields else "")

    wanted = PRINTED
    if own_clef:
        wanted += ", after its clef, as treble F#4"
    if "stem" in fields:
        wanted += ", with its value and stem, as F4:crotchet+up"
    if "tie" in fields:
        wanted += ", with ~ for a tie"
    return Way(wanted, read, write)


def _read_written(text: str, typing: Typing) -> dict[str, Any]:
    head, _, value = text.partition(":")
    found = _NOTE.fullmatch(head)
    if found is None:
        read_pitch(head)
        raise BadTyping(f"{text!r} is not a printed note", right=PRINTED)
    note: dict[str, Any] = {"step": found[1].upper(), "octave": int(found[3])}
    note |= {"accidental": _BY_SIGN[found[2]]} if found[2] else {}
    meant, equals, alter = value.partition("+alter=")
    if equals:
        note["alter"] = int(alter)
    if meant:
        duration = read_value(meant)
        note |= {"type": duration.type} | ({"dots": duration.dots} if duration.dots else {})
    return note


def _write_written(note: Any, typing: Typing) -> str:
    head = f"{note['step']}{_SIGNS[note.get('accidental')]}{note.get('octave', 4)}"
    value = (note.get("type") or "") + "." * note.get("dots", 0)
    alter = f"+alter={note['alter']}" if "alter" in note else ""
    return head + (f":{value}{alter}" if value or alter else "")


WRITTEN_NOTE: Final = Way(f"{PRINTED}, with its value, as F#4:quaver", _read_written, _write_written)


def _read_pitch_fields(text: str, typing: Typing) -> dict[str, Any]:
    pitch = read_pitch(text)
    return {"step": pitch.step, "alter": pitch.alter, "octave": pitch.octave}


PITCH_FIELDS: Final = Way(
    "a note as it sounds, such as F#4 (middle C is C4)",
    _read_pitch_fields,
    lambda one, _: Pitch(one["step"], one.get("alter", 0), one.get("octave", 4)).short,
)
