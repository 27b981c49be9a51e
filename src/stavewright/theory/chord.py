"""Chords in a key: their labels in every naming, their notes, and which label notes deserve."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Final

from stavewright.theory.errors import UnknownChordError
from stavewright.theory.key import Key
from stavewright.theory.pitch import NoteName, Pitch, pitch_at
from stavewright.theory.scale import scale_names
from stavewright.theory.triad import INVERSION_NAMES, Chord, read_chord

__all__ = [
    "CHORD_FORMS",
    "PRIMARY",
    "ROMANS",
    "ChordLabel",
    "chord_in",
    "chord_notes",
    "chord_pitches",
    "identify",
    "is_label_of",
    "key_of_triad",
    "roman",
]

ROMANS: Final = ("I", "II", "III", "IV", "V", "VI", "VII")
PRIMARY: Final = (1, 4, 5)
"""The degrees of the primary triads: tonic, subdominant, dominant."""

CHORD_FORMS: Final = ("mixed", "harmonic", "natural")
"""How a minor key builds its chords: raised 7th in V and VII only, in every chord, or in none."""

_TRIAD_FIGURES: Final = ("", "6", "6/4")
_SEVENTH_FIGURES: Final = ("7", "6/5", "4/3", "4/2")
_READ_FIGURES: Final = {
    **dict.fromkeys(("", "a", "5/3", "53"), (False, 0)),
    **dict.fromkeys(("b", "6", "6/3", "63"), (False, 1)),
    **dict.fromkeys(("c", "6/4", "64"), (False, 2)),
    **dict.fromkeys(("7", "7a", "7/5/3", "753"), (True, 0)),
    **dict.fromkeys(("7b", "6/5", "65", "6/5/3", "653"), (True, 1)),
    **dict.fromkeys(("7c", "4/3", "43", "6/4/3", "643"), (True, 2)),
    **dict.fromkeys(("7d", "4/2", "42", "2", "6/4/2", "642"), (True, 3)),
}
_LABEL: Final = re.compile(r"(VII|VI|IV|V|III|II|I|vii|vi|iv|v|iii|ii|i)([o°ø+])?([a-d0-9/]{0,6})")


@dataclass(frozen=True, slots=True)
class ChordLabel:
    """A chord by its degree in a key, its inversion, and whether it has a seventh.

    ``degree`` is 1 to 7; ``inversion`` 0 root position, 1 first, 2 second, 3 third (sevenths only).

    Raises:
        UnknownChordError: no such degree or inversion.

    >>> ChordLabel(5, 1, seventh=True).text, ChordLabel(5, 1, seventh=True).figured
    ('V7b', 'V6/5')
    """

    degree: int
    inversion: int = 0
    seventh: bool = False

    def __post_init__(self) -> None:
        if type(self.degree) is not int or not 1 <= self.degree <= 7:
            raise UnknownChordError(f"there is no chord on degree {self.degree!r}", right="use 1 to 7")
        if type(self.inversion) is not int or not 0 <= self.inversion <= 2 + self.seventh:
            kind = "seventh" if self.seventh else "triad"
            raise UnknownChordError(
                f"a {kind} has no inversion {self.inversion!r}", right=f"use 0 to {2 + self.seventh}"
            )

    @property
    def numeral(self) -> str:
        """The Roman numeral in capitals: ``"V"``."""
        return ROMANS[self.degree - 1]

    @property
    def text(self) -> str:
        """The label with a letter for the inversion: ``"I"``, ``"Ib"``, ``"Ic"``, ``"V7"``, ``"V7d"``."""
        return f"{self.numeral}{'7' if self.seventh else ''}{'abcd'[self.inversion] if self.inversion else ''}"

    @property
    def figures(self) -> str:
        """The figures of the inversion: nothing, 6, 6/4; 7, 6/5, 4/3, 4/2.

        Source: Gehrkens, Music Notation and Terminology (1914) §§199-200, 209.
        """
        return (_SEVENTH_FIGURES if self.seventh else _TRIAD_FIGURES)[self.inversion]

    @property
    def figured(self) -> str:
        """The label with figures for the inversion: ``"I6/4"``, ``"V4/3"``."""
        return f"{self.numeral}{self.figures}"

    @property
    def position(self) -> str:
        """The inversion in words: ``"first inversion"``."""
        return INVERSION_NAMES[self.inversion]

    @property
    def names(self) -> tuple[str, ...]:
        """Every way of writing the label in capitals, the usual one first.

        >>> ChordLabel(1, 2).names
        ('Ic', 'I6/4', 'I64')
        """
        spellings = [figure for figure, read in _READ_FIGURES.items() if read == (self.seventh, self.inversion)]
        usual = [self.text, self.figured]
        return tuple(dict.fromkeys([*usual, *(f"{self.numeral}{figure}" for figure in spellings)]))

    @staticmethod
    def parse(text: str) -> ChordLabel:
        """Read a label from ``"Ib"``, ``"I6"``, ``"I6/4"``, ``"V7c"``, ``"V4/3"``, ``"ii"``, ``"viio6"``.

        Numerals are all capitals or all small; the marks for diminished and augmented are read and passed over.

        Raises:
            UnknownChordError: the text is not a label.

        >>> ChordLabel.parse("V4/3")
        ChordLabel(degree=5, inversion=2, seventh=True)
        """
        return _read(text)[0]


@lru_cache(maxsize=1024)
def _read(text: str) -> tuple[ChordLabel, str, str]:
    match = _LABEL.fullmatch("".join(text.split()))
    figures = _READ_FIGURES.get(match[3]) if match else None
    if match is None or figures is None:
        raise UnknownChordError(f"{text!r} is not a chord label", right="write it as 'Ib', 'I6', 'V7' or 'V6/5'")
    seventh, inversion = figures
    return ChordLabel(ROMANS.index(match[1].upper()) + 1, inversion, seventh), match[1], match[2] or ""


def chord_notes(key: Key, label: ChordLabel, form: str = "mixed") -> tuple[NoteName, ...]:
    """Spell the chord of a label in a key, from the bass upwards.

    In a minor key ``form`` says where the 7th is raised: ``"mixed"`` in V and VII only, ``"harmonic"`` in every chord
    (III is then augmented), ``"natural"`` in none.
    Source: Gehrkens, Music Notation and Terminology (1914) §198; mixed form, Open Music Theory, version 1.

    Raises:
        UnknownChordError: no such form.

    >>> [name.short for name in chord_notes(Key.parse("A minor"), ChordLabel.parse("V7b"))]
    ['G#', 'B', 'D', 'E']
    """
    return _notes(key.fifths, key.mode, label.degree, label.inversion, label.seventh, form)


@lru_cache(maxsize=4096)
def _notes(fifths: int, mode: str, degree: int, inversion: int, seventh: bool, form: str) -> tuple[NoteName, ...]:
    if form not in CHORD_FORMS:
        raise UnknownChordError(f"{form!r} is not a form of chords", right=f"use one of {', '.join(CHORD_FORMS)}")
    raised = form == "harmonic" or (form == "mixed" and degree in (5, 7))
    kind = "major" if mode == "major" else "harmonic minor" if raised else "natural minor"
    scale = scale_names(Key.from_signature(fifths, mode).tonic, kind)
    stack = tuple(scale[(degree - 1 + third) % 7] for third in (0, 2, 4, 6)[: 3 + seventh])
    return stack[inversion:] + stack[:inversion]


def chord_in(key: Key, label: ChordLabel, form: str = "mixed") -> Chord:
    """Find the chord of a label in a key: its root, kind and inversion.

    Raises:
        UnknownChordError: the seventh is of a kind that has no name here (as on I in harmonic minor).

    >>> chord_in(Key.parse("G minor"), ChordLabel.parse("VIIb")).text
    'F sharp diminished, first inversion'
    """
    chord = read_chord(chord_notes(key, label, form))
    if chord is None:
        raise UnknownChordError(f"{label.text} in {key.text} ({form}) is a seventh without a name here")
    return chord


def chord_pitches(key: Key, label: ChordLabel, bass: Pitch, form: str = "mixed") -> tuple[Pitch, ...]:
    """Place the chord of a label in close position above a bass note.

    Raises:
        UnknownChordError: the bass note is not the bass of this chord.

    >>> [pitch.short for pitch in chord_pitches(Key.parse("D"), ChordLabel.parse("Ib"), Pitch("F", 1, 3))]
    ['F#3', 'A3', 'D4']
    """
    names = chord_notes(key, label, form)
    if bass.name != names[0]:
        raise UnknownChordError(
            f"{bass.short} is not the bass of {label.text} in {key.text}", right=f"use {names[0].text}"
        )
    return tuple(pitch_at(bass.diatonic + (name.index - bass.name.index) % 7, name.alter) for name in names)


def roman(key: Key, label: ChordLabel, form: str = "mixed") -> str:
    """Write a label with capitals for major, small letters for minor, and the marks for diminished and augmented.

    Source: Gehrkens, Music Notation and Terminology (1914) §198.

    >>> roman(Key.parse("C"), ChordLabel.parse("IIb")), roman(Key.parse("A minor"), ChordLabel.parse("VII7"))
    ('ii6', 'viio7')
    """
    stack = chord_notes(key, ChordLabel(label.degree, seventh=label.seventh), form)
    triad = read_chord(stack[:3])
    kind = triad.kind if triad is not None else "major"
    numeral = label.numeral if kind in ("major", "augmented") else label.numeral.lower()
    half = label.seventh and stack[3].fifths - stack[0].fifths == -2
    mark = {"diminished": "ø" if half else "o", "augmented": "+"}.get(kind, "")
    return f"{numeral}{mark}{label.figures}"


def is_label_of(text: str, key: Key, label: ChordLabel, form: str = "mixed") -> bool:
    """Whether a written label names this chord in this key.

    Capitals are taken for every chord; small letters only for a minor or diminished one.

    >>> is_label_of("ii6", Key.parse("C"), ChordLabel(2, 1)), is_label_of("i", Key.parse("C"), ChordLabel(1))
    (True, False)
    """
    read, numeral, mark = _read(text)
    if read != label:
        return False
    own = roman(key, label, form)
    kind = next((sign for sign in own if sign in "oø+"), "")
    marks = {"", kind} | ({"°"} if kind == "o" else set())
    return mark in marks and (numeral.isupper() or own.startswith(numeral))


def identify(
    notes: Sequence[NoteName | Pitch],
    key: Key,
    *,
    forms: Sequence[str] = CHORD_FORMS,
    without_fifth: bool = False,
) -> ChordLabel | None:
    """Find the label of sounding notes in a key, or None where they are no chord of it.

    Pitches may be doubled and spaced in any way; the lowest is the bass. In a minor key every form of ``forms`` is
    tried. A chord with a note foreign to the key has no label.

    >>> identify([Pitch("B", 0, 3), Pitch("G", 1, 4), Pitch("E", 0, 5)], Key.parse("A minor")).text
    'Vc'
    >>> identify([NoteName("D"), NoteName("F", 1), NoteName("A")], Key.parse("C")) is None
    True
    """
    chord = read_chord(notes, without_fifth=without_fifth)
    if chord is None:
        return None
    degree = (chord.root.index - key.tonic.index) % 7 + 1
    label = ChordLabel(degree, chord.inversion, chord.is_seventh)
    return label if any(chord_notes(key, label, form) == chord.notes for form in forms) else None


def key_of_triad(notes: Sequence[NoteName | Pitch]) -> Key | None:
    """Find the key whose tonic triad these notes make, or None.

    >>> key_of_triad([NoteName("G"), NoteName("B", -1), NoteName("D")]).text
    'G minor'
    """
    chord = read_chord(notes)
    if chord is None or chord.kind not in ("major", "minor"):
        return None
    offset = -3 if chord.kind == "minor" else 0
    return Key(chord.root, chord.kind) if abs(chord.root.fifths + offset) <= 7 else None
