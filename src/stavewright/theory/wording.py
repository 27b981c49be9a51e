"""The choice between British and American words."""

from __future__ import annotations

from typing import Final

from stavewright.theory.errors import UnknownWordsError

__all__ = ["WORDS", "choose"]

WORDS: Final = ("uk", "us")


def choose(words: str, uk: str, us: str) -> str:
    """Pick the British or the American word.

    Raises:
        UnknownWordsError: ``words`` is neither ``"uk"`` nor ``"us"``.

    >>> choose("us", "leading note", "leading tone")
    'leading tone'
    """
    if words == "uk":
        return uk
    if words == "us":
        return us
    raise UnknownWordsError(f"{words!r} is not a choice of words", right="use 'uk' or 'us'")
