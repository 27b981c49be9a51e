"""Checks of four-part writing: ranges, spacing, crossing, consecutives and the leading note."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations, pairwise
from typing import Final

from stavewright.theory.errors import UnknownChordError
from stavewright.theory.interval import between
from stavewright.theory.key import Key
from stavewright.theory.pitch import Pitch
from stavewright.theory.voice import SATB, voice

__all__ = [
    "PartFault",
    "check_chord",
    "check_move",
    "check_parts",
    "consecutives",
]

_PERFECT: Final = {0: "octaves", 7: "fifths"}
_OCTAVE: Final = 12


@dataclass(frozen=True, slots=True)
class PartFault:
    """One fault in part-writing: its kind, the chord where it stands (from 0), the voices, and a sentence.

    ``kind`` is ``"range"``, ``"spacing"``, ``"crossing"``, ``"overlap"``, ``"consecutive fifths"``, ``"consecutive
    octaves"``, ``"doubled leading note"`` or ``"leading note"``.
    """

    kind: str
    chord: int
    voices: tuple[str, ...]
    text: str


def check_parts(chords: Sequence[Sequence[Pitch]], key: Key | None = None) -> tuple[PartFault, ...]:
    """Check a passage for soprano, alto, tenor and bass, chord by chord; each chord lists its notes from the top.

    With a key the leading note is checked as well: not doubled, and rising to the tonic in the top voice.
    Source: common practice.

    Raises:
        UnknownChordError: a chord has not four notes.

    >>> C, D = "C5 G4 E4 C3", "D5 A4 F4 D3"
    >>> chords = [[Pitch.parse(note) for note in chord.split()] for chord in (C, D)]
    >>> [fault.text for fault in check_parts(chords)]
    ['consecutive octaves between soprano and bass', 'consecutive fifths between alto and bass']
    """
    faults: list[PartFault] = []
    for index, chord in enumerate(chords):
        faults.extend(check_chord(chord, index, key))
    for index, (before, after) in enumerate(pairwise(chords), start=1):
        faults.extend(check_move(before, after, index, key))
    return tuple(faults)


def check_chord(chord: Sequence[Pitch], index: int = 0, key: Key | None = None) -> tuple[PartFault, ...]:
    """Check one chord, its notes from the top: ranges, spacing, crossing, and a doubled leading note.

    Soprano and alto, and alto and tenor, stand within an octave; tenor and bass may stand wider apart. A range fault is
    a note outside every source's limits.

    >>> [fault.kind for fault in check_chord([Pitch.parse(note) for note in "C6 A4 E4 A3".split()])]
    ['spacing']
    """
    return tuple(_chord_faults(_by_voice(chord), index, key))


def _by_voice(chord: Sequence[Pitch]) -> dict[str, Pitch]:
    if len(chord) != len(SATB):
        raise UnknownChordError(f"a chord of {len(chord)} notes", right="give four, for soprano, alto, tenor and bass")
    return dict(zip(SATB, chord, strict=True))


def _chord_faults(notes: dict[str, Pitch], index: int, key: Key | None) -> Iterator[PartFault]:
    for name, pitch in notes.items():
        if not voice(name).can_reach(pitch):
            yield PartFault("range", index, (name,), f"{pitch.short} is out of range for the {name}")
    for upper, lower in pairwise(SATB):
        gap = notes[upper].midi - notes[lower].midi
        if gap < 0:
            yield PartFault("crossing", index, (upper, lower), f"the {lower} is above the {upper}")
        elif gap > _OCTAVE and lower != "bass":
            yield PartFault("spacing", index, (upper, lower), f"{upper} and {lower} are more than an octave apart")
    if key is not None:
        doubled = tuple(name for name, pitch in notes.items() if pitch.name == key.leading_note)
        if len(doubled) > 1:
            yield PartFault(
                "doubled leading note", index, doubled, f"{key.leading_note.text}, the leading note, is doubled"
            )


def check_move(
    before: Sequence[Pitch], after: Sequence[Pitch], index: int = 1, key: Key | None = None
) -> tuple[PartFault, ...]:
    """Check the step from one chord to the next: consecutives, overlap, and the leading note in the top voice.

    >>> before, after = ([Pitch.parse(note) for note in chord.split()] for chord in ("B4 G4 D4 G3", "G4 G4 E4 C4"))
    >>> [fault.text for fault in check_move(before, after, key=Key.parse("C"))]
    ['B, the leading note, does not rise to C']
    """
    start, end = _by_voice(before), _by_voice(after)
    faults: list[PartFault] = []
    for upper, lower in combinations(SATB, 2):
        kind = consecutives(start[upper], start[lower], end[upper], end[lower])
        if kind is not None:
            text = f"consecutive {kind} between {upper} and {lower}"
            faults.append(PartFault(f"consecutive {kind}", index, (upper, lower), text))
    for upper, lower in pairwise(SATB):
        if end[lower].midi > start[upper].midi or end[upper].midi < start[lower].midi:
            faults.append(PartFault("overlap", index, (upper, lower), f"{upper} and {lower} overlap"))
    if key is not None and start["soprano"].name == key.leading_note:
        to = end["soprano"]
        resolved = between(start["soprano"], to).short == "m2" and to.midi > start["soprano"].midi
        if not resolved and to != start["soprano"] and any(pitch.name == key.tonic for pitch in after):
            text = f"{key.leading_note.text}, the leading note, does not rise to {key.tonic.text}"
            faults.append(PartFault("leading note", index, ("soprano",), text))
    return tuple(faults)


def consecutives(upper: Pitch, lower: Pitch, next_upper: Pitch, next_lower: Pitch) -> str | None:
    """Name the consecutives two voices make in moving: ``"fifths"``, ``"octaves"`` or None.

    Perfect fifths and twelfths count alike, as do unisons, octaves and fifteenths, in similar motion or contrary. A
    repeated pair is none, nor is a diminished fifth before a perfect one.
    Source: common practice; twelfth to fifth by contrary motion as strict texts count it.

    >>> consecutives(*(Pitch.parse(note) for note in "G4 C4 A4 D4".split()))
    'fifths'
    >>> consecutives(*(Pitch.parse(note) for note in "F4 B3 G4 C4".split())) is None
    True
    """
    if upper == next_upper or lower == next_lower:
        return None
    kinds = {_perfect(upper, lower), _perfect(next_upper, next_lower)}
    return kinds.pop() if len(kinds) == 1 else None


def _perfect(first: Pitch, second: Pitch) -> str | None:
    steps = abs(first.diatonic - second.diatonic)
    semitones = abs(first.midi - second.midi)
    kind = _PERFECT.get(semitones % _OCTAVE)
    if kind is None or steps % 7 != (0 if kind == "octaves" else 4):
        return None
    return kind
