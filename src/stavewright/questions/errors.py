"""Named errors about questions and their documents."""

from __future__ import annotations

from stavewright.theory.errors import StavewrightError


class BadDocument(StavewrightError):
    """A document is broken or does not fit its schema; the message says where and what would be right."""


class UnknownKind(StavewrightError):
    """No question kind has that id; the message lists near ones."""


class BadAnswer(StavewrightError):
    """An answer is not of the form that the question asks for."""


class Disagreement(StavewrightError):
    """Setter and solver do not agree: a fault of the program, so the question is not set."""
