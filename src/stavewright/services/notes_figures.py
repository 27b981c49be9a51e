"""The pictures of the notes, made by theory from a few words: "scale D, major, treble" is the scale, numbered."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Final

from stavewright.questions.showing.chords import chord_stave
from stavewright.questions.showing.signature import signature_stave
from stavewright.questions.showing.signs import sign_score
from stavewright.score.check import faults
from stavewright.score.event import Note, Rest
from stavewright.score.stave import Bar, Bracket, Score, Stave, single
from stavewright.score.writing import with_accidentals
from stavewright.syllabus.errors import BadSyllabus
from stavewright.syllabus.scope import Scope
from stavewright.syllabus.signs import sign_of
from stavewright.theory.chord import ChordLabel, chord_notes, chord_pitches
from stavewright.theory.clef import CLEFS
from stavewright.theory.duration import Duration
from stavewright.theory.errors import StavewrightError
from stavewright.theory.grouping import beam
from stavewright.theory.interval import between
from stavewright.theory.key import Key, signature_text
from stavewright.theory.metre import TimeSignature
from stavewright.theory.ornament import ORNAMENT_NAMES
from stavewright.theory.pitch import NoteName, Pitch
from stavewright.theory.scale import chromatic_pitches, scale_pitches, semitones
from stavewright.theory.tuplet import group, sentence

_LONG: Final = Duration("semibreve")


@dataclass(frozen=True, slots=True)
class Figure:
    """One picture and the words under it; `label` stands before them in bold. `wide`: it takes a line of its own."""

    score: Score
    label: str = ""
    text: str = ""
    wide: bool = False


def _row(clef: str, pitches: list[Pitch], labels: list[str], value: Duration = _LONG) -> Score:
    notes = tuple(
        Note(pitch, value, id=f"n{place}", label=label or None)
        for place, (pitch, label) in enumerate(zip(pitches, labels, strict=True), 1)
    )
    return with_accidentals(single(clef, notes))


def _places(clef: str, first: int, what: str) -> Iterator[Figure]:
    pitches = [CLEFS[clef].pitch_at(place) for place in range(first, 9, 2)]
    row = _row(clef, pitches, [one.step for one in pitches], Duration("crotchet"))
    yield Figure(row, f"{clef.capitalize()} clef:", what)


def _named(clef: str, names: str) -> Iterator[Figure]:
    pitches = [Pitch.parse(one) for one in names.split()]
    yield Figure(_row(clef, pitches, [""] * len(pitches)), "", ", ".join(one.name.text for one in pitches))


def _clef(name: str) -> Iterator[Figure]:
    named = CLEFS[name].named_pitch
    said = "middle C" if named == Pitch("C", 0, 4) else named.step
    yield Figure(_row(name, [named], [named.step]), f"{name.capitalize()} clef:", f"{said} is here")


def _values(*names: str, rest: bool = False) -> Iterator[Figure]:
    for name in names:
        length = Duration.parse(name)
        event = Rest(length, id="n1") if rest else Note(Pitch("A", 0, 4), length, id="n1")
        yield Figure(single("treble", (event,)), "", length.name(rest=rest))


def _stems(clef: str, names: str) -> Iterator[Figure]:
    notes = tuple(
        Note(Pitch.parse(one), Duration("minim"), id=f"n{place}") for place, one in enumerate(names.split(), 1)
    )
    yield Figure(single(clef, notes), "", "Below the middle line up, above it down")


def _group(number: str, time: str) -> Iterator[Figure]:
    metre = TimeSignature.parse(time)
    row = group(int(number), metre)
    notes = tuple(Note(Pitch("A", 0, 4), one, id=f"n{place}", beam=1) for place, one in enumerate(row, 1))
    yield Figure(single("treble", notes), "", sentence(row[0]))


def _bar(time: str, row: str) -> Iterator[Figure]:
    metre = TimeSignature.parse(time)
    lengths = [Duration.parse(one) for one in row.split()]
    groups = beam([(one, False) for one in lengths], metre)
    notes = tuple(
        Note(Pitch("B", 0, 4), one, id=f"n{place}", beam=None if number is None else number + 1)
        for place, (one, number) in enumerate(zip(lengths, groups, strict=True), 1)
    )
    yield Figure(Score((Stave("treble", (Bar((notes,), line="final"),), time=metre),)), metre.text, metre.description)


def _signatures(scope: Scope, mode: str) -> Iterator[Figure]:
    if mode not in ("major", "minor"):
        raise BadSyllabus(f"signatures are major or minor, not {mode!r}")
    keys = scope.major_keys if mode == "major" else scope.minor_keys
    for key in sorted(keys, key=lambda one: (abs(one.fifths), -one.fifths)):
        yield Figure(signature_stave("treble", key.fifths), key.text, signature_text(key.fifths))


def _tonic(name: NoteName, clef: str, room: int = 8) -> Pitch:
    """The tonic placed so that `room` notes above it stand well on the stave."""
    middle = CLEFS[clef].pitch_at(4).diatonic
    places = [Pitch(name.step, name.alter, octave) for octave in range(1, 6)]
    return min(places, key=lambda one: abs(one.diatonic + room // 2 - middle))


def _scale(tonic: str, form: str, clef: str, way: str = "up") -> Iterator[Figure]:
    name = NoteName.parse(tonic)
    up = way != "down"
    start = _tonic(name, clef)
    pitches = list(scale_pitches(start if up else Pitch(start.step, start.alter, start.octave + 1), form, ascending=up))
    degrees = list(range(1, 9)) if up else list(range(8, 0, -1))
    score = _row(clef, pitches, [str(one) for one in degrees])
    places = {degree: f"n{place}" for place, degree in enumerate(degrees, 1)}
    brackets = tuple(
        Bracket(*(sorted((places[low], places[high]), key=lambda one: int(one[1:])))) for low, high in
        sorted(semitones(form, ascending=up))
    )  # fmt: skip
    said = "" if form == "major" else f" {form.removesuffix(' minor')}"
    label = f"{name.text}{said} {'major' if form == 'major' else 'minor'}"
    made = Score(score.staves, brackets=brackets)
    yield Figure(made, label, f"{'up' if up else 'down'}; the brackets are semitones", wide=True)


def _chromatic(tonic: str, clef: str) -> Iterator[Figure]:
    start = _tonic(NoteName.parse(tonic), clef)
    for up, first in ((True, start), (False, Pitch(start.step, start.alter, start.octave + 1))):
        pitches = list(chromatic_pitches(first, "melodic", ascending=up))
        way = "up" if up else "down"
        yield Figure(_row(clef, pitches, [""] * len(pitches)), f"Chromatic scale on {tonic}", way, wide=True)


def _intervals(tonic: str, form: str, clef: str) -> Iterator[Figure]:
    start = _tonic(NoteName.parse(tonic), clef)
    for pitch in scale_pitches(start, form):
        both = (
            Note(start, _LONG, id="n1"),
            Note(pitch, _LONG, id="n2"),
        )
        yield Figure(with_accidentals(single(clef, both)), "", between(start, pitch).number_text)


def _pair(low: str, high: str, clef: str) -> Iterator[Figure]:
    first, second = Pitch.parse(low), Pitch.parse(high)
    both = (Note(first, _LONG, id="n1"), Note(second, _LONG, id="n2"))
    yield Figure(with_accidentals(single(clef, both)), "", between(first, second).text)


def _chord(label: str, key: str, clef: str) -> Iterator[Figure]:
    home, chord = Key.parse(key), ChordLabel.parse(label)
    bass = _tonic(chord_notes(home, chord)[0], clef, 4)
    pitches = chord_pitches(home, chord, bass)
    names = ", ".join(one.name.text for one in pitches)
    yield Figure(chord_stave(clef, pitches, home.fifths), f"{chord.text} in {home.text}", names)


def _ornament(sign: str) -> Iterator[Figure]:
    found = sign_of(sign)
    score = sign_score(found, "treble", [Pitch("B", 0, 4)] * 3)
    yield Figure(score, ORNAMENT_NAMES.get(sign, (found.name,))[0], found.meaning)


MAKERS: Final[dict[str, Callable[..., Iterator[Figure]]]] = {
    "lines": lambda clef: _places(clef, 0, "the lines"),
    "spaces": lambda clef: _places(clef, 1, "the spaces"),
    "row": _named,
    "clef": _clef,
    "values": _values,
    "rests": lambda *names: _values(*names, rest=True),
    "stems": _stems,
    "group": _group,
    "bar": _bar,
    "scale": _scale,
    "chromatic": _chromatic,
    "intervals": _intervals,
    "pair": _pair,
    "chord": _chord,
    "ornament": _ornament,
}
"""What a picture may be, by the first word of what it is asked with; `signatures` needs the grade's keys besides."""


def figures(asked: str, scope: Scope) -> tuple[Figure, ...]:
    """The pictures that a few words ask for: a name, then what it needs with commas between.

    Raises:
        BadSyllabus: no such picture, or one that theory cannot make; the message says which.

    >>> from stavewright.syllabus.scope import scope_for
    >>> [one.text for one in figures("pair C4, E4, treble", scope_for(3))]
    ['major 3rd']
    >>> [one.label for one in figures("signatures major", scope_for(1))]
    ['C major', 'G major', 'F major', 'D major']
    """
    verb, _, rest = asked.partition(" ")
    parts = [one.strip() for one in rest.split(",") if one.strip()]
    if verb not in MAKERS and verb != "signatures":
        raise BadSyllabus(f"no picture {asked!r}: it begins with one of {', '.join([*MAKERS, 'signatures'])}")
    try:
        made = tuple(_signatures(scope, *parts) if verb == "signatures" else MAKERS[verb](*parts))
    except (StavewrightError, KeyError, TypeError, ValueError) as error:
        raise BadSyllabus(f"the picture {asked!r}: {error}") from error
    for one in made:
        if wrong := faults(one.score):
            raise BadSyllabus(f"the picture {asked!r} does not add up: {'; '.join(map(str, wrong))}")
    return made
