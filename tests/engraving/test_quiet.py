"""The engraver says nothing on a teacher's terminal unless something is wrong."""

from __future__ import annotations

import pytest

from stavewright.engraving.svg import engrave
from stavewright.score.event import Note
from stavewright.score.stave import Bar, Direction, Score, Stave
from stavewright.theory.duration import Duration
from stavewright.theory.pitch import Pitch


def test_warnings_of_the_engraver_are_not_shown(capfd: pytest.CaptureFixture[str]) -> None:
    """A hairpin that begins and ends on one note cannot be drawn: the picture is made without a word."""
    notes = tuple(Note(Pitch("G", 0, 4), Duration("crotchet"), id=f"n{i}") for i in range(1, 5))
    bar = Bar((notes,), directions=(Direction("diminuendo", 1, until=1),), free=True)
    assert engrave(Score((Stave("treble", (bar,)),)), prefix="q").svg
    assert capfd.readouterr().err == ""
