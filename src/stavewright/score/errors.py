"""Named errors about notated music."""

from __future__ import annotations

from stavewright.theory.errors import StavewrightError


class BadScore(StavewrightError):
    """The music as written breaks a rule of notation; the message says which bar and what would be right."""


class BadMusicText(BadScore):
    """Music typed as a line of text that cannot be read; the message gives every fault with its place."""
