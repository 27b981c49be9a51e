"""The named errors of the theory layer: what is wrong, where, and what would be right."""

from __future__ import annotations


class StavewrightError(ValueError):
    """Something the user or a document said cannot be right; the message says what would be."""
