"""Melodies written with too few accidentals: what comes of forgetting how long a sign holds, and how far."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from stavewright.questions.solving.transposing import Version, bar_lines
from stavewright.score.event import Note
from stavewright.score.stave import Score
from stavewright.theory.accidental import sign_alter
from stavewright.theory.key import signature_alter, signature_text
from stavewright.theory.pitch import Pitch

BAR = "A sign lasts to the bar line only: write it again in the next bar."
OCTAVE = "A sign holds on its own line or space only: another octave needs its own."


def careless_versions(score: Score, right: Version) -> Iterator[Version]:
    """The right version with signs left out by two wrong rules, where they make a difference.

    Source of the rules they break: Gehrkens, Music Notation and Terminology (1914) §24.
    """
    lines = frozenset(bar_lines(score))
    yield from _without(right, _repeated(right.notes), "sign not repeated after the bar line", BAR)
    yield from _without(right, _elsewhere(right.notes, lines), "sign not repeated in another octave", OCTAVE)


def _without(right: Version, places: frozenset[int], name: str, remedy: str) -> Iterator[Version]:
    if places:
        notes = tuple(replace(n, accidental=None) if at in places else n for at, n in enumerate(right.notes))
        yield Version(name, right.fifths, notes, remedy)


def _repeated(notes: tuple[Note, ...]) -> frozenset[int]:
    """The signs that stood on the same line or space in an earlier bar."""
    seen: set[tuple[str, int, str]] = set()
    found = set()
    for at, note in enumerate(notes):
        if note.accidental is not None:
            sign = (note.pitch.step, note.pitch.octave, note.accidental)
            if sign in seen:
                found.add(at)
            seen.add(sign)
    return frozenset(found)


def _elsewhere(notes: tuple[Note, ...], lines: frozenset[int]) -> frozenset[int]:
    """The signs that their letter has had last in the same bar, so that it must have been in another octave."""
    in_bar: dict[str, str] = {}
    found = set()
    for at, note in enumerate(notes):
        if at in lines:
            in_bar = {}
        if note.accidental is not None:
            if in_bar.get(note.pitch.step) == note.accidental:
                found.add(at)
            in_bar[note.pitch.step] = note.accidental
    return frozenset(found)


def without_signs(right: Version, name: str, remedy: str) -> Version:
    """The right version with every printed sign left out: one cause for all of them."""
    bare = tuple(replace(note, accidental=None) for note in right.notes)
    return Version(name, right.fifths, bare, remedy, steady=True)


def heard_text(score: Score, version: Version) -> str:
    """A version in words, each note as its signs, the signature and the bar lines make it sound; the signature first.

    >>> from stavewright.score.stave import single
    >>> from stavewright.theory.duration import Duration
    >>> row = (Note(Pitch("F", 1, 4), Duration("minim"), accidental="sharp"), Note(Pitch("F", 1, 4), Duration("minim")))
    >>> heard_text(single("treble", row), Version("", 2, row))
    '2 sharps: F sharp, F sharp'
    """
    lines = frozenset(bar_lines(score))
    force: dict[int, int] = {}
    tied: Pitch | None = None
    said = []
    for at, note in enumerate(version.notes):
        place = note.pitch.diatonic
        force = {} if at in lines else force
        if note.accidental is not None:
            alter = force[place] = sign_alter(note.accidental)
        elif tied is not None and tied.diatonic == place:
            alter = tied.alter
        else:
            alter = force.get(place, signature_alter(version.fifths or 0, note.pitch.step))
        heard = note.pitch.altered(alter - note.pitch.alter)
        tied = heard if note.tie else None
        said.append(heard.name.text)
    named = ", ".join(said)
    return named if version.fifths is None else f"{signature_text(version.fifths)}: {named}"
