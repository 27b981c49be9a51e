"""From scale steps to pitches: the raised 6th and 7th of a minor key, where the line asks for them."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

from stavewright.composing.plan import DOMINANT
from stavewright.theory.key import Key
from stavewright.theory.pitch import STEPS, Pitch, pitch_at

SIXTH, SEVENTH = 5, 6
_GOOD = {0: {0}, 1: {1, 2}, 2: {3, 4}, 3: {5}, 4: {7}, 5: {8, 9}, 7: {12}}


def raised(steps: Sequence[int], roots: Sequence[int], breaths: frozenset[int] = frozenset()) -> tuple[bool, ...]:
    """Which notes of a minor melody are raised, given each note's implied chord; `breaths` are where phrases begin.

    A run of 6ths and 7ths is taken as one: raised when it rises to the tonic or holds a 7th over the dominant,
    as the signature has it when it falls.
    Source: the melodic minor scale, Gehrkens, Music Notation and Terminology (1914) §86;
    the dominant's major third, common practice.

    >>> raised([4, 5, 6, 7, 6, 5, 4], [0] * 7)
    (False, True, True, False, False, False, False)
    """
    marks = [False] * len(steps)
    index = 0
    while index < len(steps):
        if steps[index] % 7 not in (SIXTH, SEVENTH):
            index += 1
            continue
        end = index
        while end < len(steps) and steps[end] % 7 in (SIXTH, SEVENTH) and (end == index or end not in breaths):
            end += 1
        run = range(index, end)
        rises = steps[end - 1] % 7 == SEVENTH and (end == len(steps) or steps[end] - steps[end - 1] == 1)
        dominant = any(steps[one] % 7 == SEVENTH and roots[one] == DOMINANT for one in run)
        if rises or dominant:
            for one in run:
                marks[one] = True
        index = end
    return tuple(marks)


@lru_cache(maxsize=4096)
def pitch_of(key: Key, tonic: int, step: int, up: bool) -> Pitch:
    """The pitch at a scale step above a tonic given by its diatonic place, raised or not."""
    place = tonic + step
    return pitch_at(place, key.alter_of(STEPS[place % 7]) + up)


def spell(
    key: Key, tonic: int, steps: Sequence[int], roots: Sequence[int], breaths: frozenset[int] = frozenset()
) -> tuple[Pitch, ...]:
    """The pitches of a line in a key; `tonic` is the diatonic place of step 0.

    >>> [one.short for one in spell(Key.parse("a"), 33, [4, 5, 6, 7], [0] * 4)]
    ['E5', 'F#5', 'G#5', 'A5']
    """
    marks = raised(steps, roots, breaths) if key.is_minor else (False,) * len(steps)
    return tuple(pitch_of(key, tonic, step, up) for step, up in zip(steps, marks, strict=True))


def singable(pitches: Sequence[Pitch], breaths: frozenset[int] = frozenset()) -> bool:
    """Whether every move is a major, minor or perfect interval of an octave at most: nothing augmented or diminished.

    Nor does a note come back altered after one other note, which would sound false (B flat, A, B natural), unless a
    phrase begins between them: `breaths` are the indexes where one does.
    """
    for index in range(1, len(pitches)):
        one, other = pitches[index - 1], pitches[index]
        if abs(other.midi - one.midi) not in _GOOD.get(abs(other.diatonic - one.diatonic), ()):
            return False
        if index > 1 and not {index - 1, index} & breaths:
            first = pitches[index - 2]
            if first.step == other.step and first.alter != other.alter:
                return False
    return True
