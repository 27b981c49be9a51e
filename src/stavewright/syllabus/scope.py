"""What may be asked at a grade: the only thing below the entry points that knows the grade number."""

from __future__ import annotations

import tomllib
from functools import cached_property, lru_cache
from importlib.resources import files
from typing import Any

from msgspec import Struct, ValidationError, convert

from stavewright.syllabus.errors import BadSyllabus, UnknownGrade
from stavewright.theory.key import Key
from stavewright.theory.metre import TimeSignature
from stavewright.theory.pitch import NoteName, Pitch

GRADES = (1, 2, 3, 4, 5)
_CUMULATIVE = (
    "values", "times", "tuplets", "clefs", "majors", "minors", "minor_forms", "relatives", "alters", "triads",
    "cadences", "transpositions", "roads",
)  # fmt: skip


class IntervalScope(Struct, frozen=True, forbid_unknown_fields=True):
    """Which intervals a grade asks: above the tonic only or any, with quality or by number, which qualities.

    `below` lets a note be asked for below the given one: training, so no grade has it unless the teacher says so.
    """

    above_tonic: bool
    quality: bool
    kinds: tuple[str, ...]
    compound: bool
    below: bool = False


class Scope(Struct, frozen=True, forbid_unknown_fields=True, dict=True, eq=False):
    """Everything that may be used in a question at one grade, all earlier grades included.

    `values` are value names (notes and rests), `times` printed time signatures, `ranges` lowest and highest pitch by
    clef, `majors` and `minors` tonics, `relatives` the major tonics whose relative pairs may be asked, `alters` the
    alterations that may be printed, `across_clefs` lets notes of different clefs be compared, `dotted_counts` asks how
    many of a value make a dotted one and `metronome_seconds` how long so many bars last (training: no grade has these
    two unless the teacher says so), `roads` are the signs of repeating and leaping, `answer_bars` how many bars
    answer a rhythm, `fresh` names what this very grade adds (to favour it when setting).
    """

    grade: int
    values: tuple[str, ...]
    dots: int
    times: tuple[str, ...]
    clefs: tuple[str, ...]
    ranges: dict[str, tuple[str, str]]
    majors: tuple[str, ...]
    intervals: IntervalScope
    alters: tuple[int, ...]
    minors: tuple[str, ...] = ()
    minor_forms: tuple[str, ...] = ()
    relatives: tuple[str, ...] = ()
    tuplets: tuple[int, ...] = ()
    anacrusis: bool = False
    across_clefs: bool = False
    dotted_counts: bool = False
    metronome_seconds: bool = False
    degree_names: bool = False
    chromatic: bool = False
    inversions: bool = False
    triads: tuple[str, ...] = ()
    cadences: tuple[str, ...] = ()
    transpositions: tuple[str, ...] = ()
    roads: tuple[str, ...] = ()
    answer_bars: int = 2
    terms: int = 1
    fresh: dict[str, tuple[Any, ...]] = {}

    @cached_property
    def major_keys(self) -> tuple[Key, ...]:
        """All major keys of the grade."""
        return tuple(Key(NoteName.parse(tonic), "major") for tonic in self.majors)

    @cached_property
    def minor_keys(self) -> tuple[Key, ...]:
        """All minor keys of the grade (none at grade 1)."""
        return tuple(Key(NoteName.parse(tonic), "minor") for tonic in self.minors)

    @cached_property
    def keys(self) -> tuple[Key, ...]:
        """All keys of the grade, majors first."""
        return self.major_keys + self.minor_keys

    @cached_property
    def time_signatures(self) -> tuple[TimeSignature, ...]:
        """All time signatures of the grade."""
        return tuple(TimeSignature.parse(text) for text in self.times)

    def range_of(self, clef: str) -> tuple[Pitch, Pitch]:
        """Lowest and highest written pitch of a clef at this grade."""
        return _range(*self.ranges[clef])


@lru_cache(maxsize=64)
def _range(low: str, high: str) -> tuple[Pitch, Pitch]:
    return Pitch.parse(low), Pitch.parse(high)


@lru_cache(maxsize=8)
def scope_for(grade: int) -> Scope:
    """The scope of a grade: what it adds and everything before it.

    Raises:
        UnknownGrade: the grade is not 1 to 5.
        BadSyllabus: the data file is broken.

    >>> scope_for(2).majors
    ('C', 'G', 'D', 'F', 'A', 'Bb', 'Eb')
    """
    if grade not in GRADES:
        raise UnknownGrade(f"no grade {grade}: grades are 1 to 5")
    table = tomllib.loads(files("stavewright.syllabus").joinpath("data/grades.toml").read_text("utf-8"))
    merged: dict[str, Any] = {}
    fresh: dict[str, Any] = {}
    for number in range(1, grade + 1):
        for name, value in table[str(number)].items():
            if name in _CUMULATIVE:
                merged[name] = [*merged.get(name, []), *value]
                if number == grade:
                    fresh[name] = tuple(value)
            else:
                merged[name] = value
    try:
        return convert({**merged, "grade": grade, "fresh": fresh}, Scope)
    except ValidationError as error:
        raise BadSyllabus(f"grades.toml, grade {grade}: {error}") from error
