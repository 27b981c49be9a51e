"""Named errors about papers."""

from __future__ import annotations

from stavewright.theory.errors import StavewrightError


class BadPaper(StavewrightError):
    """A paper document is broken; the message says where and what would be right."""


class CannotSet(StavewrightError):
    """No fair paper could be set to the blueprint; the message says which slot has nothing left to ask."""
