"""Reading a note from the line that its clef names: the steps a good teacher shows."""

from __future__ import annotations

from stavewright.questions.documents import Step
from stavewright.theory.clef import CLEFS
from stavewright.theory.interval import ordinal

_LONGEST_SPELLING = 8


def landmark(clef: str) -> Step:
    """The line that the clef names.

    Source: Gehrkens, Music Notation and Terminology (1914) §15-17.

    >>> landmark("bass").text
    'The bass clef makes its 4th line F.'
    """
    sign = CLEFS[clef]
    return Step(
        f"The {clef} clef makes its {ordinal(sign.line)} line {sign.named_pitch.step}.", (), sign.named_pitch.step
    )


def spelling(clef: str, place: int) -> str:
    """The letters from the landmark to a place, one for each line and space.

    >>> spelling("treble", 5)
    'G, A, B, C'
    """
    start = CLEFS[clef].place(CLEFS[clef].named_pitch)
    way = 1 if place >= start else -1
    return ", ".join(CLEFS[clef].pitch_at(at).step for at in range(start, place + way, way))


def reading(clef: str, place: int, *ids: str) -> tuple[Step, ...]:
    """The two steps from the clef to the letter of a place.

    >>> [step.text for step in reading("treble", 0, "n1")]
    ['The treble clef makes its 2nd line G.', 'Go down from there, one letter for each line and space: G, F, E.']
    """
    sign = CLEFS[clef]
    away = place - sign.place(sign.named_pitch)
    letter = sign.pitch_at(place).step
    if not away:
        return (landmark(clef), Step(f"The note is on that line: {letter}.", ids, letter))
    side = "up" if away > 0 else "down"
    walk = f"Go {side} from there, one letter for each line and space: {spelling(clef, place)}."
    if abs(away) >= _LONGEST_SPELLING:
        octave = place - 7 if away > 0 else place + 7
        walk = (
            f"Go {side} an octave from there, to {sign.named_pitch.step} again, then on, one letter for each line and "
            f"space: {spelling(clef, octave)}."
        )
    return (landmark(clef), Step(walk, ids, letter))
