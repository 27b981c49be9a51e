"""Chromatic scales: the accepted rows, and the rows that break the rule of letters."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from functools import lru_cache
from itertools import pairwise, product

from stavewright.theory.pitch import STEPS, NoteName, Pitch
from stavewright.theory.scale import CHROMATIC_FORMS, chromatic_faults, chromatic_pitches, is_chromatic

Row = tuple[Pitch, ...]

MOST_SIGNS = 2
_NOTES = 12


@lru_cache(maxsize=512)
def conventions(tonic: Pitch, first: str, mode: str, *, up: bool) -> tuple[tuple[Row, str], ...]:
    """The rows of the known conventions from the tonic, each once with its reason, the one named `first` leading.

    >>> [row[1].short for row, _ in conventions(Pitch("C", 0, 4), "harmonic", "major", up=True)]
    ['Db4', 'C#4', 'C#4']
    """
    found: dict[Row, str] = {}
    other = "minor" if mode == "major" else "major"
    forms = sorted(CHROMATIC_FORMS, key=lambda form: form != first)
    named = [(form, one) for form in forms for one in ((mode,) if form == "harmonic" else (mode, other))]
    for form, one in named:
        row = chromatic_pitches(tonic, form, mode=one, ascending=up)
        if all(abs(pitch.alter) <= MOST_SIGNS for pitch in row):
            found.setdefault(row, _reason(form, one, up=up))
    return tuple(found.items())


def _reason(form: str, mode: str, *, up: bool) -> str:
    if form == "harmonic":
        return "The harmonic form: the tonic and the dominant stand once, every other letter twice."
    way = "raised going up" if up else "lowered coming down"
    return f"The melodic form: the notes of the {mode} key stand, and the others are {way}."


def fillings(row: Row, missing: Sequence[int], keeps: Callable[[Row], bool]) -> Iterator[Row]:
    """Every accepted row that differs from the given one at the missing places only; `keeps` passes the printed rest.

    >>> row = chromatic_pitches(Pitch("C", 0, 4))
    >>> len(list(fillings(row, (6,), lambda _: True)))
    1
    """
    choices = [_spelt(row[place].midi) for place in missing]
    for filling in product(*choices):
        filled = list(row)
        for place, pitch in zip(missing, filling, strict=True):
            filled[place] = pitch
        made = tuple(filled)
        way = 1 if made[-1].midi > made[0].midi else -1
        if made != row and is_chromatic(made, row[0].name) and not _turns(made, way) and keeps(made):
            yield made


@lru_cache(maxsize=128)
def _spelt(midi: int) -> Row:
    """Every spelling of a sound with no more than double signs."""
    octaves = range(midi // 12 - 2, midi // 12 + 1)
    every = (Pitch(step, alter, octave) for octave in octaves for step in STEPS for alter in range(-2, 3))
    return tuple(sorted((pitch for pitch in every if pitch.midi == midi), key=lambda pitch: abs(pitch.alter)))


def row_faults(pitches: Sequence[Pitch], tonic: NoteName, *, up: bool) -> int:
    """How many faults a written chromatic scale shows; none for any accepted spelling, in whichever octave.

    Notes too few or too many count one each; else wrong notes, or wrong steps where those are fewer (one slip may put
    off all that follows), letters missing or coming more than twice, whichever are more (they go together), and steps
    that turn back on the stave.

    >>> row_faults(chromatic_pitches(Pitch("C", 0, 4)), NoteName("C"), up=True)
    0
    """
    if len(pitches) != _NOTES + 1:
        return abs(_NOTES + 1 - len(pitches))
    way = 1 if up else -1
    wrong_steps = sum(after.midi - before.midi != way for before, after in pairwise(pitches))
    wrong_notes = sum(pitch.midi != pitches[0].midi + way * at for at, pitch in enumerate(pitches))
    found = chromatic_faults(pitches, tonic)
    often = sum(fault.endswith(" times") for fault in found)
    missing = sum(fault.endswith(" is missing") for fault in found)
    ends = sum(fault.startswith(("it ", "the two ends")) for fault in found)
    return min(wrong_steps, wrong_notes) + max(often, missing) + ends + (0 if wrong_steps else _turns(pitches, way))


def _turns(pitches: Sequence[Pitch], way: int) -> int:
    """Steps that go the wrong way on the stave, though the right way in sound: B, then C double flat."""
    return sum((after.diatonic - before.diatonic) * way < 0 for before, after in pairwise(pitches))


@lru_cache(maxsize=64)
def letter_missing(low: Pitch) -> Row:
    """Thirteen right sounds from a tonic up, one letter never used and no letter more than twice: fewest signs.

    >>> [pitch.short for pitch in letter_missing(Pitch("C", 0, 4))][:5]
    ['C4', 'C#4', 'D4', 'D#4', 'E4']
    """
    return _cheapest(low, lambda counts: 0 in counts and max(counts) <= 2)


@lru_cache(maxsize=64)
def letter_three_times(low: Pitch) -> Row:
    """Thirteen right sounds from a tonic up, no letter missing but one used three times: fewest signs.

    >>> row = letter_three_times(Pitch("C", 0, 4))
    >>> max([pitch.step for pitch in row[:-1]].count(letter) for letter in "CDEFGAB")
    3
    """
    return _cheapest(low, lambda counts: 0 not in counts and max(counts) == 3)


def every_letter_sharp(major: Row) -> Row | None:
    """Each note of a major scale and the same letter a semitone higher, whether or not there is room between.

    >>> " ".join(pitch.name.short for pitch in every_letter_sharp(chromatic_pitches(Pitch("C", 0, 4))[:1] * 2))
    'C C# C'
    """
    row = [pitch for one in major[:-1] for pitch in (one, one.altered(1))]
    return None if any(pitch.alter > MOST_SIGNS for pitch in row) else (*row, major[-1])


def _cheapest(low: Pitch, wanted: Callable[[list[int]], bool]) -> Row:
    best: list[tuple[int, Row]] = []

    def grow(row: list[Pitch], counts: list[int], cost: int) -> None:
        if best and cost >= best[0][0]:
            return
        if len(row) == _NOTES:
            if wanted(counts):
                best[:] = [(cost, (*row, low.shifted(1)))]
            return
        for pitch in _spelt(low.midi + len(row)):
            letters = pitch.diatonic - row[-1].diatonic
            at = (pitch.diatonic - low.diatonic) % 7
            if 0 <= letters <= 2 and pitch.diatonic < low.diatonic + 7 and counts[at] < 3:
                counts[at] += 1
                grow([*row, pitch], counts, cost + abs(pitch.alter - low.alter))
                counts[at] -= 1

    grow([low], [1, 0, 0, 0, 0, 0, 0], 0)
    return best[0][1]
