"""What to tell a pupil who counted an irregular group at its face value."""

from __future__ import annotations

from collections.abc import Iterable

from stavewright.theory.duration import Duration


def group_remedy(values: Iterable[Duration]) -> str:
    """A sentence on the first irregular group among the values: how many plain notes its notes last.

    >>> from stavewright.theory.duration import Tuplet
    >>> group_remedy([Duration("crotchet"), Duration("quaver", tuplet=Tuplet(3, 2))])
    'The 3 notes of a triplet last as long as 2 plain ones.'
    >>> group_remedy([Duration("quaver", tuplet=Tuplet(8, 6))])
    'The 8 notes of an octuplet last as long as 6 plain ones.'
    """
    for value in values:
        if value.tuplet is not None:
            name = value.tuplet.name
            article = "an" if name[0] in "aeiou" else "a"
            return (
                f"The {value.tuplet.actual} notes of {article} {name} last as long as {value.tuplet.normal} plain ones."
            )
    return "A figure over a group says how many notes share the room."
