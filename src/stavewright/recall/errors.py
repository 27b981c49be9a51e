"""What can go wrong with memories and recall."""

from __future__ import annotations

from stavewright.theory.errors import StavewrightError


class BadMemory(StavewrightError):
    """A recall that cannot have happened: no such grade, or days out of order."""
