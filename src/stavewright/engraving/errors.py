"""Named errors of engraving."""

from __future__ import annotations

from stavewright.theory.errors import StavewrightError


class EngravingError(StavewrightError):
    """Music could not be drawn as it is written; the message says which picture and what was wrong."""


class PageError(StavewrightError):
    """A page could not be set from its document; the message says which part and what would be right."""
