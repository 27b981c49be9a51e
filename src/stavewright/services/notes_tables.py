"""The tables of the notes, worked out from theory and the lists of the syllabus for a grade."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from stavewright.questions.showing.signs import sign_score
from stavewright.services.notes_figures import Figure
from stavewright.syllabus.errors import BadSyllabus
from stavewright.syllabus.scope import Scope
from stavewright.syllabus.signs import signs_known
from stavewright.syllabus.terms import THEMES, core_terms
from stavewright.theory.instrument import instrument
from stavewright.theory.instrument_table import FAMILY_ORDER
from stavewright.theory.interval import Interval
from stavewright.theory.key import key_of, signature_text
from stavewright.theory.pitch import Pitch
from stavewright.theory.voice import VOICES

_PLAYERS: Final = (
    "clarinet in B flat", "clarinet in A", "trumpet in B flat", "horn in F", "cor anglais", "double bass", "piccolo",
)  # fmt: skip
_INTERVALS: Final = (
    "minor 2nd", "major 2nd", "minor 3rd", "major 3rd", "perfect 4th", "perfect 5th", "minor 6th", "major 6th",
    "minor 7th", "major 7th", "perfect octave",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Listing:
    """A table: its title ("" for none), head, rows, the share of the width of each column; or pictures with words."""

    title: str
    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    widths: tuple[float, ...]
    pictures: tuple[Figure, ...] = ()


def _times(scope: Scope) -> list[Listing]:
    rows = tuple((one.text, str(one.count), one.beat.text, one.description) for one in scope.time_signatures)
    return [Listing("", ("Time", "Beats", "Each beat is a", "Kind"), rows, (1, 1, 2, 2))]


def _keys(scope: Scope) -> list[Listing]:
    minors = {key.fifths: key for key in scope.minor_keys}
    majors = {key.fifths: key for key in scope.major_keys}
    rows = []
    for fifths in sorted({*minors, *majors}, key=lambda one: (abs(one), -one)):
        signs = ", ".join(one.text for one in key_of(fifths, "major").signature) or "none"
        names = [keys[fifths].text if fifths in keys else "" for keys in (majors, minors)]
        rows.append((signature_text(fifths), *names, signs))
    head = ("Signature", "Major", "Minor", "Which")
    return [Listing("", head, tuple(rows), (1.5, 1.4, 1.4, 4))]


def _terms(scope: Scope) -> list[Listing]:
    """One table, theme by theme; a row of one cell is the name of a theme."""
    rows: list[tuple[str, ...]] = []
    for theme in THEMES:
        here = [one for one in core_terms(scope.terms) if one.theme == theme]
        if not here:
            continue
        cells = [(one.term, one.meaning + ("" if one.language == "Italian" else f" ({one.language})")) for one in here]
        half = -(-len(cells) // 2)
        left, right = cells[:half], [*cells[half:], *[("", "")] * (2 * half - len(cells))]
        rows.append((theme[:1].upper() + theme[1:],))
        rows += [(*one, *other) for one, other in zip(left, right, strict=True)]
    return [Listing("", ("Term", "Meaning", "Term", "Meaning"), tuple(rows), (1.3, 2, 1.3, 2))]


def _signs(scope: Scope) -> list[Listing]:
    row = [Pitch("G", 0, 4), Pitch("A", 0, 4), Pitch("B", 0, 4)]
    shown = tuple(
        Figure(sign_score(one, "treble", row), one.name, one.meaning) for one in signs_known(scope.grade)
    )
    return [Listing("", (), (), (), shown)]


def _instruments(scope: Scope) -> list[Listing]:
    rows = []
    for family, names in FAMILY_ORDER.items():
        for name in names:
            one = instrument(name)
            reed = "" if one.reeds is None else {"none": "no reed"}.get(one.reeds, f"{one.reeds} reed")
            plain = name.removesuffix(" in B flat").removesuffix(" in F")
            rows.append((plain, family, ", ".join(one.clefs), reed))
    return [Listing("", ("From high to low", "Family", "Clefs", "Reed"), tuple(rows), (1.4, 1, 1.6, 1))]


def _transposing(scope: Scope) -> list[Listing]:
    rows = []
    for name in _PLAYERS:
        one = instrument(name)
        rows.append((name, one.transposition_text, one.sounding(Pitch("C", 0, 5)).name.text))
    head = ("Instrument", "What is heard", "Reads C, sounds")
    return [Listing("", head, tuple(rows), (1.3, 2.2, 1))]


def _voices(scope: Scope) -> list[Listing]:
    rows = tuple(
        (one.name, " or ".join(one.clefs), f"{one.low.name.text} to {one.high.name.text}") for one in VOICES.values()
    )
    return [Listing("", ("From high to low", "Clef", "About from, to"), rows, (1, 1, 1))]


def _intervals(scope: Scope) -> list[Listing]:
    rows = tuple((one.text, str(one.semitones)) for one in map(Interval.parse, _INTERVALS))
    half = -(-len(rows) // 2)
    right = [*rows[half:], *[("", "")] * (2 * half - len(rows))]
    both = tuple((*one, *other) for one, other in zip(rows[:half], right, strict=True))
    return [Listing("", ("Interval", "Semitones", "Interval", "Semitones"), both, (1.3, 1, 1.3, 1))]


TABLES: Final[dict[str, Callable[[Scope], list[Listing]]]] = {
    "times": _times,
    "keys": _keys,
    "terms": _terms,
    "signs": _signs,
    "instruments": _instruments,
    "transposing": _transposing,
    "voices": _voices,
    "intervals": _intervals,
}


def tables(name: str, scope: Scope) -> list[Listing]:
    """The tables of that name for a grade.

    Raises:
        BadSyllabus: no such table.

    >>> from stavewright.syllabus.scope import scope_for
    >>> tables("keys", scope_for(2))[0].rows[1]
    ('1 sharp', 'G major', 'E minor', 'F sharp')
    """
    if name not in TABLES:
        raise BadSyllabus(f"no table {name!r}: the tables are {', '.join(TABLES)}")
    return TABLES[name](scope)
