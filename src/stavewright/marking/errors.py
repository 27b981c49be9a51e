"""Named errors about scripts."""

from __future__ import annotations

from stavewright.theory.errors import StavewrightError


class BadScript(StavewrightError):
    """A script does not fit its paper; the message lists every fault with the question it is in."""


class WrongPaper(BadScript):
    """A script for another paper."""


class BadDecisions(BadScript):
    """Decisions that do not fit the marked script; the message lists every fault with the question it is in."""
