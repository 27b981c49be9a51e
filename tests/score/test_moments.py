"""What sounds together: held notes go on sounding, rests are silent, voices and staves are heard as one."""

from __future__ import annotations

from stavewright.score.event import Chord, Note, Rest
from stavewright.score.moments import moments
from stavewright.score.stave import Bar, Score, Stave
from stavewright.theory.duration import Duration
from stavewright.theory.pitch import Pitch


def note(name: str, value: str = "crotchet", **more: object) -> Note:
    return Note(Pitch.parse(name), Duration(value), **more)  # type: ignore[arg-type]


def heard(score: Score) -> list[str]:
    return [" ".join(pitch.short for pitch in moment.pitches) for moment in moments(score)]


def test_held_notes_sound_on_and_rests_are_silent() -> None:
    upper = Bar(((note("E5"), note("F5"), Rest(Duration("crotchet")), note("G5")),))
    lower = Bar(((note("C3", "minim"), Chord((Pitch.parse("E3"), Pitch.parse("G3")), Duration("minim"))),))
    score = Score((Stave("treble", (upper,)), Stave("bass", (lower,))))
    assert heard(score) == ["C3 E5", "C3 F5", "E3 G3", "E3 G3 G5"]


def test_two_voices_of_one_stave_and_grace_notes() -> None:
    bar = Bar(((note("D5", grace="acciaccatura"), note("C5", "minim")), (note("E4"), note("F4"))))
    score = Score((Stave("treble", (bar, bar)),))
    assert heard(score) == ["E4 C5", "F4 C5"] * 2
    assert [moment.bar for moment in moments(score)] == [0, 0, 1, 1]
