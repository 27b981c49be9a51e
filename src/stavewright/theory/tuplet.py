"""Irregular groups: what duplets, triplets and the rest stand for in simple and compound time."""

from __future__ import annotations

from typing import Final

from stavewright.theory.duration import TUPLET_NAMES, VALUES, Duration, Tuplet, Words, of_ticks
from stavewright.theory.errors import StavewrightError
from stavewright.theory.metre import TimeSignature


class TupletError(StavewrightError):
    """An irregular group that has no agreed meaning in the metre."""


SIMPLE: Final[dict[int, tuple[int, ...]]] = {3: (2,), 5: (4,), 6: (4,), 7: (4,), 9: (8,)}
"""Simple time: notes shown -> ordinary notes of the same value they replace.

Source: Gehrkens, Music Notation and Terminology (1914) §55 (3, 5, 6); Schmidt-Jones, m11888; 7 and 9 common practice.
"""

COMPOUND: Final[dict[int, tuple[int, ...]]] = {
    2: (3,),
    3: (2,),
    4: (3, 6),
    5: (3, 6),
    7: (6,),
    8: (6, 12),
    9: (6, 12),
}
"""Compound time; where there are two, the value the group is written in decides (quavers 4 in 3, semiquavers 4 in 6).

Source: Hutchinson, Music Theory for the 21st-Century Classroom, duplet and quadruplet; Gehrkens (1914) §55;
5, 7, 8, 9 from memory.
"""


def normals(actual: int, time: TimeSignature) -> tuple[int, ...]:
    """How many ordinary notes a group of ``actual`` may replace in this metre, usual answer first.

    Irregular metres follow simple time, their beats being undotted.
    Raises: TupletError when the group does not occur there.

    >>> normals(2, TimeSignature(6, 8))
    (3,)
    """
    table = COMPOUND if time.kind == "compound" else SIMPLE
    if actual not in table:
        known = ", ".join(f"{count} ({TUPLET_NAMES[count]})" for count in table)
        raise TupletError(f"{time.text} has no irregular group of {actual}; it has groups of {known}")
    return table[actual]


def stands_for(duration: Duration) -> Duration:
    """The one ordinary value a whole group of these notes fills.

    ``duration``: one note of the group, with its tuplet. Raises: TupletError without a tuplet, or
    when no single value, dotted or not, has that length.

    >>> stands_for(Duration("quaver", tuplet=Tuplet(3, 2))).text
    'crotchet'
    >>> stands_for(Duration("quaver", tuplet=Tuplet(2, 3))).text
    'dotted crotchet'
    """
    if duration.tuplet is None:
        raise TupletError(f"a {duration.text} is in no irregular group; give it a tuplet")
    found = of_ticks(duration.plain.ticks * duration.tuplet.normal)
    if found is None:
        raise TupletError(f"{duration.tuplet.normal} of a {duration.plain.text} are not one value")
    return found


def group(actual: int, time: TimeSignature, fills: Duration | None = None) -> tuple[Duration, ...]:
    """The notes of an irregular group that fills one beat, or the value ``fills``.

    Raises: TupletError when the metre has no such group or no value fits.

    >>> [note.text for note in group(3, TimeSignature(2, 4))]
    ['triplet quaver', 'triplet quaver', 'triplet quaver']
    >>> group(5, TimeSignature(4, 4), Duration("minim"))[0].type
    'quaver'
    """
    whole = time.beat if fills is None else fills
    for normal in normals(actual, time):
        note = of_ticks(whole.ticks // normal, max_dots=0) if whole.ticks % normal == 0 else None
        if note is not None:
            return (Duration(note.type, 0, Tuplet(actual, normal)),) * actual
    raise TupletError(f"no note value puts {actual} in the time of a {whole.text} in {time.text}")


def sentence(duration: Duration, words: Words = "uk") -> str:
    """What the group means, in words: so many in the time of so many.

    Raises: TupletError without a tuplet.

    >>> sentence(Duration("quaver", tuplet=Tuplet(5, 4)), "us")
    '5 eighth notes in the time of 4 eighth notes'
    """
    if duration.tuplet is None:
        raise TupletError(f"a {duration.text} is in no irregular group; give it a tuplet")
    name = duration.plain
    many = name.name(words, plural=True)
    return f"{duration.tuplet.actual} {many} in the time of {duration.tuplet.normal} {many}"


def runs(durations: tuple[Duration, ...], starts: tuple[int, ...], beats: tuple[int, ...]) -> tuple[range, ...]:
    """Where the irregular groups lie in a row of values, as ranges of places in the row.

    ``starts``: tick of each value from the bar's start; ``beats``: ticks where a beat ends. A group is as many
    equal notes as its figure says; one of unequal notes ends at the first beat's end it reaches.

    >>> three = (Duration("quaver", tuplet=Tuplet(3, 2)),) * 3
    >>> runs(three, (0, 53760, 107520), (161280,))
    (range(0, 3),)
    """
    found: list[range] = []
    place = 0
    while place < len(durations):
        tuplet = durations[place].tuplet
        if tuplet is None:
            place += 1
            continue
        equal = durations[place : place + tuplet.actual]
        if len(equal) == tuplet.actual and len(set(equal)) == 1:
            end = place + tuplet.actual
        else:
            end = place + 1
            while (
                end < len(durations)
                and durations[end].tuplet == tuplet
                and starts[end - 1] + durations[end - 1].ticks not in beats
            ):
                end += 1
        found.append(range(place, end))
        place = end
    return tuple(found)


def smallest(durations: tuple[Duration, ...]) -> Duration:
    """The shortest written value of a row, dots and groups left out.

    Raises: TupletError for an empty row.

    >>> smallest((Duration("minim"), Duration("quaver", 1))).text
    'quaver'
    """
    if not durations:
        raise TupletError("a row of values needs at least one")
    return Duration(VALUES[max(VALUES.index(duration.type) for duration in durations)])
