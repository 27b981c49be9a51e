"""Comparing a given answer with a right one, item by item, in every response form."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from stavewright.questions.chord_reading import read_label
from stavewright.questions.kind import Marking
from stavewright.questions.reading import read_words
from stavewright.questions.values import Value, WrittenNote, WrittenValue
from stavewright.score.check import signature_alter
from stavewright.syllabus.typed_meanings import says
from stavewright.theory.accidental import SIGNS
from stavewright.theory.metre import TimeSignature, TimeSignatureError
from stavewright.theory.pitch import STEPS


@dataclass(frozen=True, slots=True)
class Comparison:
    """How many items the right answer has, and how many faults the given one shows (missing and extra ones count)."""

    items: int
    faults: int

    @property
    def same(self) -> bool:
        """Whether nothing is wrong."""
        return self.faults == 0


def compare(given: Value, right: Value, marking: Marking) -> Comparison:
    """Compare two values of one form; values of different forms share nothing.

    >>> compare(Value(words="F#"), Value(words="F sharp"), Marking()).same
    True
    >>> compare(Value(order=("a", "c", "b")), Value(order=("a", "b", "c")), Marking()).faults
    2
    """
    if given.form != right.form:
        return Comparison(1, 1)
    form = right.form
    if form == "words":
        said, meant = read_words(given.content), read_words(right.content)
        return Comparison(1, int(said != meant and not (marking.meaning and says(said, meant))))
    if form in ("number", "choice", "score"):
        return Comparison(1, int(given.content != right.content))
    if form in ("choices", "places", "pairs"):
        wanted, got = set(right.content), set(given.content)
        return Comparison(max(len(wanted), 1), max(len(wanted - got), len(got - wanted)))
    if form == "notes":
        return _notes(given, right, marking)
    if form == "rhythm":
        return _rhythm(given, right, marking)
    if form == "chords":
        return _aligned([read_label(c) for c in given.content], [read_label(c) for c in right.content])
    return _aligned(given.content, right.content)


def same(given: Value, right: Value, marking: Marking) -> bool:
    """Whether a value says the same as a right one: quicker than `compare` where the faults need not be counted.

    >>> same(Value(words="F#"), Value(words="F sharp"), Marking())
    True
    """
    if given == right:
        return True
    if right.notes is not None and (given.notes is None or _places(given, marking) != _places(right, marking)):
        return False
    return compare(given, right, marking).same


def _places(value: Value, marking: Marking) -> list[object]:
    """The lines and spaces of the written notes: where they differ, nothing else need be read."""
    written = _stacked(value.notes or ()) if marking.stacked else value.notes or ()
    if not marking.octave:
        return [note.step for note in written]
    return [(note.step, note.octave) for note in written]


def _stacked(written: Sequence[WrittenNote]) -> Sequence[WrittenNote]:
    return sorted(written, key=lambda note: (note.octave, STEPS.index(note.step)))


def compare_all(given: Sequence[Value], right: Sequence[Value], marking: Marking) -> Comparison:
    """Compare an answer of several response forms, form by form; what is missing is wrong in all its items.

    >>> compare_all((Value(number=3),), (Value(number=3), Value(choice="b")), Marking())
    Comparison(items=2, faults=1)
    """
    items = faults = 0
    for index, wanted in enumerate(right):
        one = compare(given[index], wanted, marking) if index < len(given) else compare(wanted, wanted, marking)
        items += one.items
        faults += one.faults if index < len(given) else one.items
    return Comparison(items, faults + max(0, len(given) - len(right)))


def _aligned(got: Sequence[object], wanted: Sequence[object]) -> Comparison:
    wrong = sum(a != b for a, b in zip(got, wanted, strict=False)) + abs(len(got) - len(wanted))
    return Comparison(max(len(wanted), 1), wrong)


def _read_notes(value: Value, marking: Marking, right: Value) -> list[tuple[object, ...]]:
    """What the written notes say: letter, sounding alteration, octave and value, signs holding to the bar line.

    An answer that names no signature or bar lines is read under those of the right answer, which are printed; so is one
    whose signature is a fault by itself (`heading`, `signed`). Where
    the right answer has no note values (a signature), the signs themselves are compared.
    """
    force: dict[tuple[str, int], int] = {}
    by_itself = value.signature is None or marking.heading or marking.signed
    fifths = (right.signature if by_itself else value.signature) or 0
    lines = (right.bar_lines if value.bar_lines is None else value.bar_lines) or ()
    bare = all(note.type is None for note in right.notes or ())
    written = value.notes or ()
    if marking.stacked:
        written = tuple(_stacked(written))
    read: list[tuple[object, ...]] = []
    for index, note in enumerate(written):
        if index in lines:
            force.clear()
        place = (note.step, note.octave)
        if note.accidental is not None:
            force[place] = SIGNS.get(note.accidental, 99)
        alter = force.get(place, signature_alter(note.step, fifths))
        read.append(_key(note, alter, marking, bare=bare))
    return read


def _key(note: WrittenNote, alter: int, marking: Marking, *, bare: bool) -> tuple[object, ...]:
    sign: object = (alter, note.accidental) if bare else alter
    octave = note.octave if marking.octave else None
    return (note.step, sign, octave, *((note.type, note.dots) if marking.values else ()))


def _notes(given: Value, right: Value, marking: Marking) -> Comparison:
    base = _aligned(_read_notes(given, marking, right), _read_notes(right, marking, right))
    if marking.heading:
        heading = int(right.clef is not None and given.clef != right.clef)
        heading += int((given.signature or 0) != (right.signature or 0))
        lines = set(right.bar_lines or ())
        drawn = lines if given.bar_lines is None else set(given.bar_lines) - {0, len(right.notes or ())}
        return Comparison(base.items, base.faults + heading + max(len(lines - drawn), len(drawn - lines)))
    heading = int(right.clef is not None and given.clef not in (None, right.clef))
    heading += int(right.signature is not None and given.signature is not None and given.signature != right.signature)
    heading += int(marking.signed and given.signature is None and bool(right.signature))
    # A signature where accidentals are asked for is one fault (common practice: the instruction was not followed).
    heading += int(right.clef is not None and right.signature is None and given.signature not in (None, 0))
    return Comparison(base.items, base.faults + heading)


def _value_key(value: WrittenValue) -> tuple[object, ...]:
    return (value.type, value.dots, value.rest, value.tie, value.tuplet)


def _beam_starts(values: Sequence[WrittenValue]) -> list[tuple[int, ...]]:
    """The beam groups as runs of positions, whatever numbers the writer gave them."""
    groups: dict[int, list[int]] = {}
    for place, value in enumerate(values):
        if value.beam is not None:
            groups.setdefault(value.beam, []).append(place)
    return sorted(tuple(run) for run in groups.values() if len(run) > 1)


def _figures(time: str | None) -> str | None:
    """A time signature in figures, whatever sign was written for it; what is none stays as it is."""
    try:
        return None if time is None else TimeSignature.parse(time).figures
    except TimeSignatureError:
        return time


def _rhythm(given: Value, right: Value, marking: Marking) -> Comparison:
    wanted, got = right.rhythm or (), given.rhythm or ()
    result = (
        _aligned([_value_key(v) for v in got], [_value_key(v) for v in wanted]) if wanted or got else Comparison(0, 0)
    )
    items, faults = result.items if wanted else 0, result.faults
    if right.time is not None:
        items, faults = items + 1, faults + (_figures(given.time) != _figures(right.time))
    if right.bar_lines is not None:
        lines, drawn = set(right.bar_lines), set(given.bar_lines or ())
        items, faults = items + len(lines), faults + max(len(lines - drawn), len(drawn - lines))
    if marking.beams and wanted:
        right_beams, beams = set(_beam_starts(wanted)), set(_beam_starts(got))
        items, faults = items + len(right_beams), faults + max(len(right_beams - beams), len(beams - right_beams))
    return Comparison(max(items, 1), faults)
