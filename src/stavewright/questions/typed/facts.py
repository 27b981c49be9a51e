"""The facts of a question of any kind, read from typed fields and written as them."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any, Final, get_type_hints

import msgspec
from msgspec import NODEFAULT

from stavewright.questions.kind import Kind
from stavewright.questions.typed.way import BadTyping, Typing, Way
from stavewright.questions.typed.ways import apart, is_struct, way_of
from stavewright.theory.clef import CLEFS
from stavewright.theory.errors import StavewrightError, together
from stavewright.theory.key import Key
from stavewright.theory.pitch import NoteName, Pitch

UNTYPED: Final = ("block", "credit")
"""Fields that say where a picture came from; nobody types them."""


@dataclass(frozen=True, slots=True)
class Field:
    """One field to type: its name (with a dot inside a record), how it is typed, what stands there if it is left out.

    `default` is NODEFAULT where it must be typed.
    """

    name: str
    way: Way
    default: Any


def fields_of(kind: Kind) -> tuple[Field, ...]:
    """Every field that may be typed for a question of a kind, in the order of its facts.

    >>> from stavewright.questions.catalogue import kind
    >>> [field.name for field in fields_of(kind("name-the-note"))]
    ['clef', 'place', 'accidental']
    """
    return tuple(_fields(kind.facts, kind.topic, ""))


def _fields(struct: Any, topic: str, before: str) -> list[Field]:
    hints = get_type_hints(struct, include_extras=True)
    found: list[Field] = []
    for one in msgspec.structs.fields(struct):
        hint = apart(hints[one.name])
        if is_struct(hint.type) and hint.type.__name__ in ("Property", "MarkedNote"):
            found += _fields(hint.type, topic, f"{before}{one.name}.")
            continue
        default = one.default if one.default_factory is NODEFAULT else one.default_factory()
        if default is NODEFAULT and hint.optional:
            default = None
        found.append(Field(f"{before}{one.name}", way_of(hints[one.name], one.name, topic), default))
    return found


def read_fields(kind: Kind, given: Mapping[str, str], typing: Typing) -> dict[str, Any]:
    """Typed fields as plain values, by name.

    Raises:
        BadTyping: with every field that is not known or cannot be read.
    """
    known = {field.name: field for field in fields_of(kind)}
    clef = given.get("clef", given.get("place.clef"))
    here = replace(typing, topic=kind.topic, clef=clef.strip().casefold() if clef else typing.clef)
    found: dict[str, Any] = {}
    faults: list[str] = []
    for name, text in given.items():
        if name not in known:
            names = ", ".join(one for one in known if one.rpartition(".")[2] not in UNTYPED)
            faults.append(f"{kind.id} has no field {name!r}; its fields are {names}")
            continue
        try:
            found[name] = known[name].way.read(text, here)
        except StavewrightError as fault:
            faults.append(f"{name}: {fault}")
    if faults:
        raise BadTyping(together(faults))
    return found


def made(kind: Kind, values: Mapping[str, Any], fallback: Mapping[str, Any]) -> Any:
    """The facts that plain values make; what is left out has its default, or its value in `fallback`.

    Raises:
        BadTyping: a field is missing, or the facts are no question of the kind.
    """
    whole: dict[str, Any] = {}
    missing: list[str] = []
    needed = {one.name for one in msgspec.structs.fields(kind.facts) if one.required}
    for field in fields_of(kind):
        if field.name in values:
            value = values[field.name]
        elif field.default is not NODEFAULT:
            continue
        elif field.name == "octave" and (low := _lowest_octave({**fallback, **values})) is not None:
            value = low
        elif field.name in fallback:
            value = fallback[field.name]
        else:
            record, dot, _ = field.name.rpartition(".")
            wanted = not dot or record in needed or any(name.startswith(f"{record}.") for name in values)
            if wanted and field.name != "octave":  # an octave only waits for the note it belongs to
                missing.append(f"{field.name} ({field.way.what})")
            continue
        record, dot, name = field.name.rpartition(".")
        if dot:
            whole.setdefault(record, {})[name] = value
        else:
            whole[field.name] = value
    if missing:
        raise BadTyping(f"{kind.id} also needs {together(missing)}", right=f"`stavewright work {kind.id}` shows one")
    for one in msgspec.structs.fields(kind.facts):
        if one.name not in whole and one.required:
            whole[one.name] = None
    try:
        return msgspec.convert(whole, kind.facts)
    except msgspec.ValidationError as fault:
        raise BadTyping(f"{kind.id}: {_plainly(str(fault), kind)}") from fault


_AT: Final = re.compile(r" - at `\$\.([a-z_]+)")


def _plainly(fault: str, kind: Kind) -> str:
    """What is wrong with a field in words; what the facts themselves say of it is left as it is."""
    found = _AT.search(fault)
    if found is None:
        return fault
    what = next((field.way.what for field in fields_of(kind) if field.name == found[1]), "")
    few = re.match(r"Expected `array` of length >= (\d+)", fault)
    if few is not None:
        return f"{found[1]}: at least {few[1]} needed ({what})"
    return f"{found[1]} is not right ({fault[: found.start()].lower()}): {what}"


def _lowest_octave(values: Mapping[str, Any]) -> int | None:
    """The octave of the lowest such note on the stave or just below it, for a scale whose octave was not typed."""
    clef, name = values.get("clef"), values.get("tonic") or values.get("key")
    if clef not in CLEFS or not isinstance(name, str):
        return None
    tonic = Key.parse(name).tonic if "major" in name or "minor" in name else NoteName.parse(name)
    places = [(octave, CLEFS[clef].place(Pitch(tonic.step, tonic.alter, octave))) for octave in range(8)]
    return min(octave for octave, place in places if place >= -2)


def write_facts(kind: Kind, facts: Any, *, plain: bool = False) -> dict[str, str]:
    """The facts of a question as the fields that would be typed; fields at their default are left out.

    >>> from stavewright.questions.catalogue import kind
    >>> shown = kind("relative-key")
    >>> write_facts(shown, shown.facts("D major", "key"))
    {'key': 'D major'}
    """
    values = msgspec.to_builtins(facts)
    clef = values.get("clef") or (values.get("place") or {} if isinstance(values.get("place"), dict) else {}).get(
        "clef", "treble" if "place" in values and isinstance(values["place"], dict) else None
    )
    typing = Typing(clef=clef, topic=kind.topic, plain=plain)
    written: dict[str, str] = {}
    for field in fields_of(kind):
        record, dot, name = field.name.rpartition(".")
        holder = values.get(record) if dot else values
        if holder is None or name not in holder:
            continue
        value = holder[name]
        if field.default is NODEFAULT or value != msgspec.to_builtins(field.default):
            written[field.name] = field.way.write(value, typing)
    return written
