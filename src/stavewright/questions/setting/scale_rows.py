"""Scales as they are printed on a stave for the pupil to read: every note with its place and the sign it needs."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from random import Random

from stavewright.questions.setting.scales import fitting_clefs, placed_scale, spelled_notes
from stavewright.questions.written import Written
from stavewright.score.stave import single
from stavewright.score.writing import row_of, with_accidentals
from stavewright.syllabus.scope import Scope
from stavewright.theory.clef import CLEFS
from stavewright.theory.key import Key
from stavewright.theory.pitch import NoteName, Pitch

_MOST_SIGNS = 2


@dataclass(frozen=True, slots=True)
class PrintedScale:
    """A scale picked for the page: what it is, where it stands, and its notes in sounding pitches."""

    key: Key
    form: str
    direction: str
    clef: str
    fifths: int | None
    pitches: tuple[Pitch, ...]

    @property
    def name(self) -> str:
        """The scale in words: "E harmonic minor"."""
        return f"{self.key.tonic.text} {self.form}"


def printed_scale(
    scope: Scope, rng: Random, *, minor: bool = False, directions: Sequence[str] = ("up", "down")
) -> PrintedScale | None:
    """A scale of the grade in a clef where it stays in range; `minor` asks for one of the minor forms.

    The melodic minor is never shown coming down alone, where it is the natural minor (common practice).
    """
    placed = placed_scale(scope, rng, "minor" if minor else None)
    if placed is None:
        return None
    key, form, clef, octave = placed
    ways = _ways(form, directions)
    if not ways:
        return None
    direction = rng.choice(ways)
    fifths = key.fifths if key.fifths and rng.random() < 0.5 else None
    return PrintedScale(key, form, direction, clef, fifths, spelled_row(key.tonic, form, direction, octave))


def printed_count(scope: Scope, *, minor: bool = False, directions: Sequence[str] = ("up", "down")) -> int:
    """How many scales `printed_scale` can give: every key, form, clef and way, with its signature and without."""
    total = 0
    for key in scope.minor_keys if minor else scope.keys:
        for form in scope.minor_forms if key.is_minor else ("major",):
            ways = len(_ways(form, directions)) * (2 if key.fifths else 1)
            total += ways * len(fitting_clefs(key.tonic, scope))
    return total


def _ways(form: str, directions: Sequence[str]) -> list[str]:
    return [way for way in directions if way != "down" or form != "melodic minor"]


def spelled_row(tonic: NoteName, form: str, direction: str, octave: int) -> tuple[Pitch, ...]:
    """The pitches of one octave of a scale whose lower tonic stands in `octave`, spelt by tones and semitones.

    >>> [pitch.short for pitch in spelled_row(NoteName("D"), "harmonic minor", "down", 4)][:3]
    ['D5', 'C#5', 'Bb4']
    """
    low = octave * 7 + tonic.index
    places = {"up": range(8), "down": range(7, -1, -1), "both": (*range(8), *range(6, -1, -1))}[direction]
    names = (NoteName.parse(name) for name in spelled_notes(tonic, form, direction))
    return tuple(Pitch.from_diatonic(low + place, name.alter) for place, name in zip(places, names, strict=True))


# The letters of a chromatic scale from its tonic up, counted from 0. The harmonic form is the same both ways; the
# melodic form keeps the notes of the key and raises them going up, lowers them coming down (in a minor key the 6th and
# 7th stand in both heights). Gehrkens, Music Notation and Terminology (1914) §§93-94; harmonic form, common practice.
_HARMONIC_LETTERS = (0, 1, 1, 2, 2, 3, 3, 4, 5, 5, 6, 6, 7)
_MELODIC_LETTERS = {
    ("major", "up"): (0, 0, 1, 1, 2, 3, 3, 4, 4, 5, 5, 6, 7),
    ("major", "down"): (0, 1, 1, 2, 2, 3, 4, 4, 5, 5, 6, 6, 7),
    ("minor", "up"): (0, 0, 1, 2, 2, 3, 3, 4, 5, 5, 6, 6, 7),
    ("minor", "down"): (0, 1, 1, 2, 3, 3, 4, 4, 5, 5, 6, 6, 7),
}


def chromatic_row(key: Key, form: str, direction: str, octave: int) -> tuple[Pitch, ...] | None:
    """A chromatic scale from the lower tonic in `octave`, letter by letter and semitone by semitone.

    None where it would need more than double signs.

    >>> row = chromatic_row(Key.parse("C major"), "melodic", "down", 4)
    >>> " ".join(pitch.name.short for pitch in row)
    'C B Bb A Ab G Gb F E Eb D Db C'
    """
    low = Pitch(key.tonic.step, key.tonic.alter, octave)
    letters = _HARMONIC_LETTERS if form == "harmonic" else _MELODIC_LETTERS[key.mode, direction]
    row = []
    for sound, letter in enumerate(letters, low.midi):
        bare = Pitch.from_diatonic(low.diatonic + letter)
        if abs(sound - bare.midi) > _MOST_SIGNS:
            return None
        row.append(bare.altered(sound - bare.midi))
    return tuple(row if direction == "up" else row[::-1])


def on_paper(pitches: Sequence[Pitch], clef: str, fifths: int | None) -> tuple[Written, ...]:
    """Pitches of one bar as they are written: places, and just the signs they need under the signature.

    >>> [note.accidental for note in on_paper([Pitch("F", 1, 4), Pitch("F", 1, 4)], "treble", None)]
    ['sharp', None]
    """
    row = with_accidentals(single(clef, row_of(pitches), fifths))
    return tuple(Written(CLEFS[clef].place(note.pitch), note.accidental) for note in row.notes())
