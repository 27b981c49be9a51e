"""Melodies written with too few accidentals: what comes of forgetting how long a sign holds, and how far."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from stavewright.questions.solving.transposing import Version, bar_lines
from stavewright.score.event import Note
from stavewright.score.stave import Score
from stavewright.theory.accidental import sign_text
from stavewright.theory.key import signature_text

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


def printed_text(version: Version) -> str:
    """A version in words with the signs it prints, since two versions of the same letters may differ in these alone.

    >>> from stavewright.theory.duration import Duration
    >>> from stavewright.theory.pitch import Pitch
    >>> note = Note(Pitch("F", 1, 4), Duration("minim"))
    >>> printed_text(Version("", 1, (note, replace(note, accidental="sharp"))))
    '1 sharp: F, F sharp'
    """
    said = ", ".join(
        f"{n.pitch.step} {sign_text(n.accidental)}" if n.accidental else n.pitch.step for n in version.notes
    )
    return said if version.fifths is None else f"{signature_text(version.fifths)}: {said}"
