"""The next question that says most about which slip a pupil holds."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import log2

from stavewright.marking.likely_slips import Foretold


def uncertainty(likely: Mapping[str, float]) -> float:
    """How unsure one is of what is held, in bits.

    >>> uncertainty({"a": 0.5, "b": 0.5})
    1.0
    """
    return -sum(part * log2(part) for part in likely.values() if part > 0)


def told_by(likely: Mapping[str, float], foretold: Foretold) -> float:
    """How many bits the answer to a question is expected to say about what is held (the expected fall of uncertainty).

    >>> apart = Foretold({"a": 1, "b": 2}, 2)
    >>> alike = Foretold({"a": 1, "b": 1}, 1)
    >>> told_by({"a": 0.5, "b": 0.5}, apart) > told_by({"a": 0.5, "b": 0.5}, alike)
    True
    """
    after = 0.0
    for outcome in foretold.outcomes:
        joint = {held: part * foretold.chance(outcome, held) for held, part in likely.items()}
        whole = sum(joint.values())
        if whole > 0:
            after += whole * uncertainty({held: part / whole for held, part in joint.items()})
    return uncertainty(likely) - after


def most_telling(likely: Mapping[str, float], candidates: Sequence[Foretold]) -> int | None:
    """The place of the candidate whose answer says most; None where none says anything.

    To tell two slips apart, give only those two as `likely`.
    """
    gains = [told_by(likely, one) for one in candidates]
    best = max(range(len(gains)), key=gains.__getitem__, default=None)
    return best if best is not None and gains[best] > 1e-9 else None
