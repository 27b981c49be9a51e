"""Scales as they are written on a stave, right and by the known wrong rules."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from stavewright.questions.values import WrittenNote
from stavewright.score.event import Note
from stavewright.score.stave import single
from stavewright.score.writing import with_accidentals
from stavewright.theory.clef import CLEFS
from stavewright.theory.duration import Duration
from stavewright.theory.key import key_of
from stavewright.theory.pitch import NoteName, Pitch
from stavewright.theory.scale import scale_pitches

_LOWEST, _HIGHEST = -5, 13
RAISE = "Raise the 7th with an accidental: it is not in the key signature."


@dataclass(frozen=True, slots=True)
class WrongScale:
    """A scale by a known wrong rule: the rule's name, the pitches it gives, what to tell the pupil."""

    name: str
    pitches: tuple[Pitch, ...]
    remedy: str
    steady: bool = False


def scale_row(tonic: NoteName, form: str, direction: str, octave: int) -> tuple[Pitch, ...]:
    """The pitches of one octave of a scale whose lower tonic is in `octave`: "up", "down" or "both" ways.

    >>> [p.short for p in scale_row(NoteName("E"), "melodic minor", "down", 4)][:3]
    ['E5', 'D5', 'C5']
    """
    low = Pitch(tonic.step, tonic.alter, octave)
    up = scale_pitches(low, form)
    down = scale_pitches(low.shifted(1), form, ascending=False)
    return {"up": up, "down": down, "both": (*up, *down[1:])}[direction]


def octaves_on_the_stave(tonic: NoteName, clef: str, first: int) -> tuple[int, ...]:
    """Where the lower tonic may stand so that the octave keeps within two ledger lines; `first` leads the row."""
    found = [first]
    for octave in range(1, 7):
        bottom = octave * 7 + tonic.index - CLEFS[clef].bottom_line.diatonic
        if octave != first and bottom >= _LOWEST and bottom + 7 <= _HIGHEST:
            found.append(octave)
    return tuple(found)


def as_written(pitches: Sequence[Pitch], clef: str, fifths: int | None, value: str) -> tuple[WrittenNote, ...]:
    """The notes with just the signs they need under the signature.

    >>> [n.accidental for n in as_written([Pitch("F", 1, 4), Pitch("G", 1, 4)], "treble", 1, "minim")]
    [None, 'sharp']
    """
    row = tuple(Note(pitch, Duration(value)) for pitch in pitches)
    notes = with_accidentals(single(clef, row, fifths)).notes()
    return tuple(WrittenNote(n.pitch.step, octave=n.pitch.octave, type=value, accidental=n.accidental) for n in notes)


def names_of(pitches: Sequence[Pitch]) -> str:
    """The names of pitches in a row of words."""
    return " ".join(pitch.name.text for pitch in pitches)


def scale_fifths(tonic: NoteName, form: str) -> int:
    """The signature of the key of a scale."""
    return tonic.fifths - (0 if form == "major" else 3)


def wrong_scales(
    tonic: NoteName, form: str, direction: str, octave: int, clef: str, *, under: int | None = None
) -> list[WrongScale]:
    """Every known wrong scale in the place of the one that is asked for; some may sound right by chance.

    `under` is the signature on the stave, if any: its signs hold for notes that are put in wrong places too.
    """
    right = scale_row(tonic, form, direction, octave)
    found = _minor_forms(tonic, form, direction, octave) if form != "major" else []
    plain = tuple(p if p.name == tonic else replace(p, alter=0) for p in right)
    found.append(WrongScale("accidentals forgotten", plain, "Say the sharps or flats of the key first.", steady=True))
    if form == "major":
        lowered = tuple(replace(p, alter=p.alter - 1) if _degree(p, tonic) == 7 else p for p in right)
        found.append(WrongScale("7th a semitone too low", lowered, "The last step up to the tonic is a semitone."))
        parallel = scale_row(tonic, "harmonic minor", direction, octave)
        third = "The third step of a major scale is a semitone."
        found.append(WrongScale("minor for major", parallel, third, steady=True))
    else:
        parallel = scale_row(tonic, "major", direction, octave)
        third = "A minor scale has a semitone between 2 and 3."
        found.append(WrongScale("major for minor", parallel, third, steady=True))
    for away in (1, -1):
        fifths = scale_fifths(tonic, form) + away
        if abs(fifths) <= 7:
            key = key_of(fifths, "major")
            wrong = tuple(replace(p, alter=p.alter - _of(p, tonic, form) + key.alter_of(p.step)) for p in right)
            remedy = "Count the sharps or flats of the key once more."
            more = abs(fifths) > abs(fifths - away)
            found.append(WrongScale(f"one sign too {'many' if more else 'few'}", wrong, remedy, steady=True))
    other = "bass" if clef == "treble" else "treble"
    moved = _misplaced(right, clef, other, under)
    remedy = f"This is the {clef} clef: find its landmark line before the first note."
    found.append(WrongScale(f"placed as in the {other} clef", moved, remedy, steady=True))
    if direction != "both":
        turned = scale_row(tonic, form, "down" if direction == "up" else "up", octave)
        found.append(WrongScale("wrong direction", turned, "Read again: up or down?", steady=True))
    return found


def _misplaced(right: tuple[Pitch, ...], clef: str, other: str, under: int | None) -> tuple[Pitch, ...]:
    """The row put where it would stand in another clef, in the octave that lies nearest to the middle line."""
    shift = CLEFS[clef].bottom_line.diatonic - CLEFS[other].bottom_line.diatonic
    middle = CLEFS[clef].bottom_line.diatonic + 4
    centre = right[0].diatonic + right[7].diatonic + 2 * shift
    shift -= 7 * round((centre - 2 * middle) / 14)
    signature = key_of(under or 0, "major")
    moved = []
    for pitch in right:
        bare = Pitch.from_diatonic(pitch.diatonic + shift, 0)
        own = pitch.alter - signature.alter_of(pitch.step)
        moved.append(replace(bare, alter=own + signature.alter_of(bare.step)))
    return tuple(moved)


def _of(pitch: Pitch, tonic: NoteName, form: str) -> int:
    return key_of(scale_fifths(tonic, form), "major").alter_of(pitch.step)


def _degree(pitch: Pitch, tonic: NoteName) -> int:
    return (pitch.name.index - tonic.index) % 7 + 1


def _minor_forms(tonic: NoteName, form: str, direction: str, octave: int) -> list[WrongScale]:
    natural = scale_row(tonic, "natural minor", direction, octave)
    harmonic = scale_row(tonic, "harmonic minor", direction, octave)
    both = scale_row(tonic, "melodic minor", "up", octave)
    same = {"up": both, "down": both[::-1], "both": (*both, *both[::-1][1:])}[direction]
    if form == "harmonic minor":
        rise = "In the harmonic form only the 7th is raised."
        return [
            WrongScale("raised 7th forgotten", natural, RAISE),
            WrongScale("6th raised as well", same, rise),
            WrongScale("melodic for harmonic", scale_row(tonic, "melodic minor", direction, octave), rise),
        ]
    if form == "melodic minor":
        found = [
            WrongScale("harmonic for melodic", harmonic, "The melodic form raises the 6th as well, going up only.")
        ]
        if direction != "up":
            remedy = "Coming down, the melodic minor takes back its raised 6th and 7th."
            found.insert(0, WrongScale("melodic same both ways", same, remedy))
        if direction != "down":
            found.insert(0, WrongScale("raised 7th forgotten", natural, "Going up, raise the 6th and the 7th."))
        return found
    remedy = "The natural form keeps to the key signature."
    return [WrongScale("7th raised", harmonic, remedy), WrongScale("6th and 7th raised", same, remedy)]
