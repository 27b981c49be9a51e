"""Choosing a scale to ask and spelling it as the setter means it: by tones and semitones, letter after letter."""

from __future__ import annotations

from random import Random

from stavewright.questions.setting.picking import pick, pick_key
from stavewright.syllabus.scope import Scope
from stavewright.theory.clef import CLEFS
from stavewright.theory.key import Key
from stavewright.theory.pitch import STEPS, NoteName

# Semitones from note to note, upwards; the melodic minor comes down as the natural one.
# Gehrkens, Music Notation and Terminology (1914) §81-88.
_UP = {
    "major": (2, 2, 1, 2, 2, 2, 1),
    "natural minor": (2, 1, 2, 2, 1, 2, 2),
    "harmonic minor": (2, 1, 2, 2, 1, 3, 1),
    "melodic minor": (2, 1, 2, 2, 2, 2, 1),
}
_NATURAL = (0, 2, 4, 5, 7, 9, 11)
DIRECTIONS = ("up", "down", "both")


def pick_scale(scope: Scope, rng: Random, mode: str | None = None) -> tuple[Key, str] | None:
    """A key of the grade (of that mode if given) and a form of its scale."""
    key = pick_key(scope, rng, mode)
    if key is None:
        return None
    if not key.is_minor:
        return key, "major"
    return key, pick(rng, scope.minor_forms, scope.fresh.get("minor_forms", ()))


def spelled(tonic: NoteName, form: str, direction: str) -> str:
    """The names of the notes of a scale in words, tonic to tonic, up, down or up and down.

    >>> spelled(NoteName("A"), "melodic minor", "both")
    'A B C D E F sharp G sharp A G F E D C B A'
    """
    return " ".join(spelled_notes(tonic, form, direction))


def spelled_notes(tonic: NoteName, form: str, direction: str) -> list[str]:
    """The names of the notes of a scale, one by one."""
    up = _names(tonic, form)
    down = _names(tonic, "natural minor" if form == "melodic minor" else form)[::-1]
    return {"up": up, "down": down, "both": [*up, *down[1:]]}[direction]


def signs_to_add(key: Key, form: str, direction: str, signature: str) -> bool:
    """Whether a scale written as bare letters needs any accidental, with its signature printed or without.

    >>> signs_to_add(Key.parse("D minor"), "melodic minor", "down", "printed")
    False
    """
    if signature == "none":
        return any(" " in name for name in spelled_notes(key.tonic, form, direction))
    return form == "harmonic minor" or (form == "melodic minor" and direction == "up")


def _names(tonic: NoteName, form: str) -> list[str]:
    letter = STEPS.index(tonic.step)
    sound = _NATURAL[letter] + tonic.alter
    names = [tonic.text]
    for number, step in enumerate(_UP[form], 1):
        sound += step
        octave, place = divmod(letter + number, 7)
        names.append(NoteName(STEPS[place], sound - 12 * octave - _NATURAL[place]).text)
    return names


def pick_place(scope: Scope, rng: Random, tonic: NoteName) -> tuple[str, int] | None:
    """A clef of the grade and the octave of the lower tonic in it, so that the scale stays in range."""
    clefs = fitting_clefs(tonic, scope)
    if not clefs:
        return None
    clef = pick(rng, clefs, scope.fresh.get("clefs", ()))
    octave = fitting_octave(tonic, clef, scope)
    return None if octave is None else (clef, octave)


def placed_scale(scope: Scope, rng: Random, mode: str | None = None) -> tuple[Key, str, str, int] | None:
    """A key of the grade (of that mode if given), a form of its scale, a clef, and the octave of the lower tonic."""
    chosen = pick_scale(scope, rng, mode)
    if chosen is None:
        return None
    place = pick_place(scope, rng, chosen[0].tonic)
    return None if place is None else (*chosen, *place)


def fitting_octave(tonic: NoteName, clef: str, scope: Scope) -> int | None:
    """The octave of the lower tonic that keeps the scale in the clef's range, nearest the middle of the stave."""
    low, high = scope.range_of(clef)
    found: list[tuple[int, int]] = []
    for octave in range(1, 7):
        bottom = octave * 7 + tonic.index
        if low.diatonic <= bottom and bottom + 7 <= high.diatonic:
            middle = CLEFS[clef].bottom_line.diatonic + 4
            found.append((abs(2 * bottom + 7 - 2 * middle), octave))
    return min(found)[1] if found else None


def fitting_clefs(tonic: NoteName, scope: Scope) -> tuple[str, ...]:
    """The clefs of the grade in which one octave from the tonic stays in range."""
    return tuple(clef for clef in scope.clefs if fitting_octave(tonic, clef, scope) is not None)
