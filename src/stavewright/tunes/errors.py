"""Named errors of the collections of tunes."""

from __future__ import annotations

from stavewright.theory.errors import StavewrightError

__all__ = ["BadIndex", "NoCollections", "NotUnderstoodTune", "NothingInFolder"]


class NotUnderstoodTune(StavewrightError):
    """A tune, or a bar of one, that holds something this program does not read; it is skipped and counted."""


class NoCollections(StavewrightError):
    """The collections of real tunes are not installed on this machine."""


class NothingInFolder(StavewrightError):
    """A folder of the teacher's own music holds nothing that an extract can be taken from."""


class BadIndex(StavewrightError):
    """The index of tunes cannot be written or is not one."""
