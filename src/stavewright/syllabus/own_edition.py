"""A teacher's own edition: a TOML file that says what differs from an edition of the program."""

from __future__ import annotations

import tomllib
from typing import Annotated

from msgspec import Meta, Struct, ValidationError, convert

from stavewright.syllabus.edition import EDITIONS, Edition, edition
from stavewright.syllabus.errors import BadSyllabus, UnknownEdition
from stavewright.syllabus.scope import GRADES
from stavewright.theory.errors import together

LARGEST_TOTAL = 200
LONGEST = 600
_Numbers = int | list[int]
_Text = Annotated[str, Meta(min_length=1, max_length=200)]


class OwnEdition(Struct, frozen=True, forbid_unknown_fields=True):
    """What the file holds: whatever it does not say is as in `base`.

    `marks` and `minutes` are one number for every grade, or five. `forms` names, for a kind or a whole topic, the
    edition whose form is used (or both). `kinds`, if given, are the only kinds asked; `retired` gives reasons.
    """

    id: Annotated[str, Meta(max_length=40, pattern="^[a-z][a-z0-9-]*$")]
    base: str = "written"
    title: _Text | None = None
    says: _Text | None = None
    minutes: _Numbers | None = None
    marks: dict[str, _Numbers] | None = None
    forms: dict[str, str | tuple[str, ...]] = {}
    kinds: tuple[str, ...] | None = None
    retired: dict[str, _Text] = {}


def read_edition(data: bytes, grade: int, where: str = "edition") -> Edition:
    r"""The teacher's own edition at a grade.

    Raises:
        BadSyllabus: not TOML, unknown fields, topics or forms, or marks that add up to nothing or too much; every fault
            is listed with what would be right.

    >>> own = read_edition(b'id = "ours"\nminutes = 45\n[forms]\nintervals = "on-screen"', 3)
    >>> own.minutes, own.total, own.forms_of("name-the-interval", "intervals", ("written", "on-screen"))
    (45, 100, ('on-screen',))
    """
    try:
        own = convert(tomllib.loads(data.decode("utf-8")), OwnEdition)
    except UnicodeDecodeError as error:
        raise BadSyllabus(f"{where}: not a text in UTF-8: {error}") from error
    except tomllib.TOMLDecodeError as error:
        raise BadSyllabus(f"{where}: not TOML: {error}") from error
    except ValidationError as error:
        fields = ", ".join(OwnEdition.__struct_fields__)
        raise BadSyllabus(f"{where}: {error}; an edition has the fields {fields}") from error
    try:
        base = edition(own.base, grade)
    except UnknownEdition as error:
        raise BadSyllabus(f"{where}, base: {error}") from error
    faults = _faults(own)
    if faults:
        raise BadSyllabus(f"{where}: {together(faults)}")
    marks = base.marks if own.marks is None else {name: _at(value, grade) for name, value in own.marks.items()}
    total = sum(marks.values())
    if not 1 <= total <= LARGEST_TOTAL:
        raise BadSyllabus(f"{where}: the marks of grade {grade} add up to {total}; a paper has 1 to {LARGEST_TOTAL}")
    return Edition(
        id=own.id,
        grade=grade,
        title=own.title or own.id,
        says=own.says or f"our own, after {base.title}",
        minutes=base.minutes if own.minutes is None else _at(own.minutes, grade),
        marks={topic: value for topic, value in marks.items() if value},
        forms=base.forms,
        own={name: (value,) if isinstance(value, str) else value for name, value in own.forms.items()},
        retired=own.retired,
        kinds=own.kinds,
    )


def topics() -> tuple[str, ...]:
    """Every topic an edition can give marks to, in print order."""
    return tuple(dict.fromkeys(topic for grade in (5, 1) for name in EDITIONS for topic in edition(name, grade).marks))


def _at(value: _Numbers, grade: int) -> int:
    return value if isinstance(value, int) else value[grade - 1]


def _faults(own: OwnEdition) -> list[str]:
    found = []
    if own.id in EDITIONS:
        found.append(f"the id {own.id!r} is an edition of the program; give yours a name of its own")
    if own.minutes is not None:
        found += _number_faults("minutes", own.minutes, 1, LONGEST)
    known = topics()
    for name, value in (own.marks or {}).items():
        if name not in known:
            found.append(f"marks: no topic {name!r}: the topics are {', '.join(known)}")
        found += _number_faults(f"marks, {name}", value, 0, LARGEST_TOTAL)
    for name, names in own.forms.items():
        chosen = (names,) if isinstance(names, str) else names
        found += [
            f"forms, {name}: no edition {form!r}; forms are those of {' and '.join(EDITIONS)}"
            for form in chosen
            if form not in EDITIONS
        ]
        if not chosen:
            found.append(f"forms, {name}: name at least one edition (or put the kind under [retired])")
    return found


def _number_faults(where: str, value: _Numbers, least: int, most: int) -> list[str]:
    numbers = [value] if isinstance(value, int) else value
    if not isinstance(value, int) and len(value) != len(GRADES):
        return [f"{where}: {len(value)} numbers; give one number, or one for each of the {len(GRADES)} grades"]
    return [f"{where}: {number} is not {least} to {most}" for number in numbers if not least <= number <= most]
