"""Named errors of music and documents that come from outside or go out."""

from __future__ import annotations

from stavewright.theory.errors import StavewrightError

__all__ = ["BadMusicXML", "CannotWrite", "NotUnderstood", "TooLarge"]


class BadMusicXML(StavewrightError):
    """The file is not a sound MusicXML document: broken, cut short, hostile or of another kind."""


class TooLarge(BadMusicXML):
    """The file, or what it unpacks to, is larger than this program will read."""


class NotUnderstood(StavewrightError):
    """The music holds something that the score model has no place for; nothing of it is guessed."""


class CannotWrite(StavewrightError):
    """The score holds something that a MusicXML document cannot say."""
