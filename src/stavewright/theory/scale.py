"""Scales: major, the three minor forms, and the chromatic scale in every accepted spelling."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from itertools import pairwise
from typing import Final

from stavewright.theory.errors import UnknownScaleError
from stavewright.theory.pitch import NoteName, Pitch, pitch_at

__all__ = [
    "CHROMATIC_FORMS",
    "FORMS",
    "MINOR_FORMS",
    "augmented_seconds",
    "chromatic",
    "chromatic_faults",
    "chromatic_pitches",
    "is_chromatic",
    "name_scale",
    "scale_form",
    "scale_names",
    "scale_pitches",
    "semitones",
]

FORMS: Final = ("major", "natural minor", "harmonic minor", "melodic minor")
MINOR_FORMS: Final = FORMS[1:]
CHROMATIC_FORMS: Final = ("harmonic", "melodic")

_NATURAL: Final = (0, 2, -3, -1, 1, -4, -2)
_UP: Final = {
    "major": (0, 2, 4, -1, 1, 3, 5),
    "natural minor": _NATURAL,
    "harmonic minor": (0, 2, -3, -1, 1, -4, 5),
    "melodic minor": (0, 2, -3, -1, 1, 3, 5),
}
_DOWN: Final = {**_UP, "melodic minor": _NATURAL}

# Semitone by semitone from the tonic, as distances along the line of fifths.
_HARMONIC: Final = (0, -5, 2, -3, 4, -1, 6, 1, -4, 3, -2, 5)
_MELODIC: Final = {
    ("major", True): (0, 7, 2, 9, 4, -1, 6, 1, 8, 3, 10, 5),
    ("major", False): (0, -5, 2, -3, 4, -1, -6, 1, -4, 3, -2, 5),
    ("minor", True): (0, 7, 2, -3, 4, -1, 6, 1, -4, 3, -2, 5),
    ("minor", False): (0, -5, 2, -3, -8, -1, -6, 1, -4, 3, -2, 5),
}
_FORM_WORDS: Final = {
    **{form: form for form in FORMS},
    "minor natural": "natural minor",
    "minor harmonic": "harmonic minor",
    "minor melodic": "melodic minor",
    "pure minor": "natural minor",
    "aeolian": "natural minor",
    "natural": "natural minor",
    "harmonic": "harmonic minor",
    "melodic": "melodic minor",
}


def scale_form(text: str) -> str:
    """Read the name of a scale form.

    Raises:
        UnknownScaleError: no such form.

    >>> scale_form("Minor, harmonic")
    'harmonic minor'
    """
    form = _FORM_WORDS.get(" ".join(text.lower().replace(",", " ").split()))
    if form is None:
        raise UnknownScaleError(f"{text!r} is not a scale form", right=f"use one of {', '.join(FORMS)}")
    return form


def scale_names(tonic: NoteName, form: str, *, ascending: bool = True) -> tuple[NoteName, ...]:
    """Spell a scale of one octave from its tonic: eight note names, tonic to tonic.

    The melodic minor descends as the natural minor; the harmonic minor keeps its raised 7th both ways.
    Source: Gehrkens, Music Notation and Terminology (1914) §§81-88.

    Raises:
        UnknownScaleError: no such form.

    >>> [name.short for name in scale_names(NoteName("A"), "melodic minor")]
    ['A', 'B', 'C', 'D', 'E', 'F#', 'G#', 'A']
    """
    return _names(tonic.fifths, form, ascending)


@lru_cache(maxsize=1024)
def _names(fifths: int, form: str, ascending: bool) -> tuple[NoteName, ...]:
    distances = _distances(form, ascending=ascending)
    rising = tuple(NoteName.from_fifths(fifths + distance) for distance in (*distances, 0))
    return rising if ascending else rising[::-1]


def _distances(form: str, *, ascending: bool) -> tuple[int, ...]:
    try:
        return (_UP if ascending else _DOWN)[form]
    except (KeyError, TypeError):
        raise UnknownScaleError(f"{form!r} is not a scale form", right=f"use one of {', '.join(FORMS)}") from None


def scale_pitches(start: Pitch, form: str, *, ascending: bool = True) -> tuple[Pitch, ...]:
    """Spell a scale of one octave in its place: up from ``start``, or down from it.

    Raises:
        UnknownScaleError: no such form.

    >>> [pitch.short for pitch in scale_pitches(Pitch("D", 0, 5), "harmonic minor", ascending=False)]
    ['D5', 'C#5', 'Bb4', 'A4', 'G4', 'F4', 'E4', 'D4']
    """
    return _pitches(start.diatonic, start.alter, form, ascending)


@lru_cache(maxsize=4096)
def _pitches(diatonic: int, alter: int, form: str, ascending: bool) -> tuple[Pitch, ...]:
    names = scale_names(pitch_at(diatonic, alter).name, form, ascending=ascending)
    step = 1 if ascending else -1
    return tuple(pitch_at(diatonic + step * index, name.alter) for index, name in enumerate(names))


def semitones(form: str, *, ascending: bool = True) -> tuple[tuple[int, int], ...]:
    """Say between which degrees the semitones of a scale lie, counted from the tonic upwards, 8 the upper tonic.

    Source: Gehrkens, Music Notation and Terminology (1914) §§81-88.

    >>> semitones("harmonic minor")
    ((2, 3), (5, 6), (7, 8))
    """
    return _gaps(form, 1, ascending=ascending)


def augmented_seconds(form: str, *, ascending: bool = True) -> tuple[tuple[int, int], ...]:
    """Say between which degrees a scale steps by an augmented 2nd.

    >>> augmented_seconds("harmonic minor")
    ((6, 7),)
    """
    return _gaps(form, 3, ascending=ascending)


def _gaps(form: str, size: int, *, ascending: bool) -> tuple[tuple[int, int], ...]:
    heights = [7 * distance % 12 for distance in _distances(form, ascending=ascending)] + [12]
    return tuple((index + 1, index + 2) for index in range(7) if heights[index + 1] - heights[index] == size)


def name_scale(notes: Sequence[NoteName | Pitch]) -> tuple[tuple[NoteName, str], ...]:
    """Name a written scale of eight notes, up or down: every tonic and form that fits, none if it is no scale.

    A rising melodic minor is its own form; falling, the melodic and natural minors are alike, and the natural is named.

    >>> notes = scale_names(NoteName("E"), "harmonic minor")
    >>> [(tonic.short, form) for tonic, form in name_scale(notes)]
    [('E', 'harmonic minor')]
    """
    names = tuple(note.name if isinstance(note, Pitch) else note for note in notes)
    if len(names) != 8:
        return ()
    rising = (names[1].index - names[0].index) % 7 == 1
    places = [note.diatonic for note in notes if isinstance(note, Pitch)]
    if {after - before for before, after in pairwise(places)} - {1 if rising else -1}:
        return ()
    return tuple(
        (names[0], form)
        for form in FORMS
        if (rising or form != "melodic minor") and names == scale_names(names[0], form, ascending=rising)
    )


def chromatic(
    tonic: NoteName, convention: str = "harmonic", *, mode: str = "major", ascending: bool = True
) -> tuple[NoteName, ...]:
    """Spell a chromatic scale of one octave: thirteen note names.

    The *harmonic* form is the same both ways and in both modes: each degree but the tonic and dominant twice. The
    *melodic* form keeps the notes of the key, raised going up and lowered coming down; a minor key keeps its 6th and
    7th in both heights.
    Source: Gehrkens, Music Notation and Terminology (1914) §§93-94 (rising, falling); harmonic form, common practice.

    Raises:
        UnknownScaleError: the convention is neither ``"harmonic"`` nor ``"melodic"``, or no such mode.

    >>> " ".join(name.short for name in chromatic(NoteName("C"), "melodic"))
    'C C# D D# E F F# G G# A A# B C'
    """
    if convention == "harmonic" and mode in ("major", "minor"):
        distances = _HARMONIC
    elif convention == "melodic" and (mode, ascending) in _MELODIC:
        distances = _MELODIC[mode, ascending]
    else:
        raise UnknownScaleError(
            f"no chromatic scale is {convention!r} and {mode!r}",
            right="use 'harmonic' or 'melodic', 'major' or 'minor'",
        )
    rising = tuple(NoteName.from_fifths(tonic.fifths + distance) for distance in (*distances, 0))
    return rising if ascending else rising[::-1]


def chromatic_pitches(
    start: Pitch, convention: str = "harmonic", *, mode: str = "major", ascending: bool = True
) -> tuple[Pitch, ...]:
    """Spell a chromatic scale in its place: up from ``start``, or down from it.

    >>> " ".join(p.short for p in chromatic_pitches(Pitch("F", 0, 4), ascending=False))
    'F4 E4 Eb4 D4 Db4 C4 B3 Bb3 A3 Ab3 G3 Gb3 F3'
    """
    pitches = [start]
    step = 1 if ascending else -1
    for name in chromatic(start.name, convention, mode=mode, ascending=ascending)[1:]:
        before = pitches[-1]
        moved = (name.index - before.diatonic) * step % 7 * step
        pitches.append(pitch_at(before.diatonic + moved, name.alter))
    return tuple(pitches)


def chromatic_faults(pitches: Sequence[Pitch], tonic: NoteName | None = None) -> tuple[str, ...]:
    """List what keeps written notes from being a chromatic scale of one octave; nothing if they are one.

    Any spelling passes that has thirteen notes a semitone apart, both ends alike, and each letter once or twice from
    the tonic to the note below the upper tonic.
    Source: Gehrkens, Music Notation and Terminology (1914) §94; the letter rule, common practice.

    >>> notes = chromatic_pitches(Pitch("C", 0, 4))
    >>> chromatic_faults(notes[:-1])
    ('12 notes where a chromatic scale has 13',)
    """
    faults = []
    if len(pitches) != 13:
        return (f"{len(pitches)} notes where a chromatic scale has 13",)
    moves = [after.midi - before.midi for before, after in pairwise(pitches)]
    step = 1 if pitches[-1].midi > pitches[0].midi else -1
    for number, move in enumerate(moves, start=2):
        if move != step:
            faults.append(f"note {number} is not a semitone from the note before")
    if pitches[0].name != pitches[-1].name:
        faults.append("the two ends are not the same note")
    if tonic is not None and pitches[0].name != tonic:
        faults.append(f"it does not begin on {tonic.text}")
    body = pitches[:-1] if step > 0 else pitches[1:]
    for letter in "CDEFGAB":
        count = sum(pitch.step == letter for pitch in body)
        if count == 0:
            faults.append(f"the letter {letter} is missing")
        elif count > 2:
            faults.append(f"the letter {letter} comes {count} times")
    return tuple(faults)


def is_chromatic(pitches: Sequence[Pitch], tonic: NoteName | None = None) -> bool:
    """Whether written notes are a chromatic scale of one octave, in any accepted spelling.

    >>> is_chromatic(chromatic_pitches(Pitch("C", 0, 4), "melodic"))
    True
    """
    return not chromatic_faults(pitches, tonic)
