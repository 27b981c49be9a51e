"""Named errors about grades, editions and syllabus data."""

from __future__ import annotations

from stavewright.theory.errors import StavewrightError


class UnknownGrade(StavewrightError):
    """No such grade: grades are 1 to 5."""


class UnknownEdition(StavewrightError):
    """No such edition: editions are written and on-screen."""


class BadSyllabus(StavewrightError):
    """A syllabus data file is broken; the message says which line of data and what would be right."""
