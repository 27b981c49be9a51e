"""Named errors of composing: what was asked cannot be written by the rules."""

from __future__ import annotations

from stavewright.theory.errors import StavewrightError


class CannotCompose(StavewrightError):
    """The range, values or bars given leave no music that keeps the rules; the message says what to widen."""
