"""What can go wrong with memories and recall."""

from __future__ import annotations

from stavewright.theory.errors import StavewrightError


class BadMemory(StavewrightError):
    """A recall that cannot have happened: no such grade, or days out of order."""


class BadMove(StavewrightError):
    """A move that the word game does not have, or not now."""
