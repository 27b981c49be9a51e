"""Which transposing players a scope knows, and the keys they read, found on the line of fifths."""

from __future__ import annotations

from stavewright.syllabus.scope import Scope
from stavewright.theory.instrument import INSTRUMENTS, Instrument
from stavewright.theory.key import Key

_OCTAVE = "P8"


def players(scope: Scope, *, octaves: bool = False) -> tuple[Instrument, ...]:
    """The instruments that transpose by an interval of the grade; with `octaves` those that move by an octave as well.

    >>> from stavewright.syllabus.scope import scope_for
    >>> "cor anglais" in [one.name for one in players(scope_for(5))], players(scope_for(4))
    (True, ())
    """
    wanted = (*scope.transpositions, _OCTAVE) if octaves and scope.transpositions else scope.transpositions
    return tuple(
        one
        for one in INSTRUMENTS.values()
        if one.transposes is not None and one.transposes.short in wanted and one.is_pitched
    )


def read_by(player: Instrument, concert: Key) -> int:
    """How many fifths from C the signature of a player's part stands, sharps counted up."""
    away = 0 if player.transposes is None else player.transposes.fifths
    return concert.fifths + (-away if player.sounds_higher else away)
