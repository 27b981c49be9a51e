"""Transposing a printed melody: the right version, and the versions that known wrong rules give."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial

from stavewright.questions.values import Value, WrittenNote
from stavewright.score.event import Note
from stavewright.score.stave import Score
from stavewright.score.writing import with_accidentals
from stavewright.theory.errors import StavewrightError
from stavewright.theory.interval import Interval
from stavewright.theory.key import Key, key_of, signature_alter, signature_text
from stavewright.theory.pitch import Pitch
from stavewright.theory.transposition import respell, transpose, transpose_melody

_NEAR = {"M2": "m2", "m2": "M2", "m3": "M3", "M3": "m3", "P5": "P4", "P4": "P5", "M6": "m6", "m6": "M6"}


@dataclass(frozen=True, slots=True)
class Version:
    """A melody moved: its signature (None where none is printed), its notes with the signs they need, why."""

    name: str
    fifths: int | None
    notes: tuple[Note, ...]
    remedy: str = ""
    steady: bool = False


def notes_of(score: Score) -> tuple[Note, ...]:
    """The notes of a melody on one stave, in order; grace notes are passed over."""
    return tuple(note for note in score.notes() if note.grace is None)


def signature_of(score: Score) -> int | None:
    """The signature that a melody prints, None for none."""
    return score.staves[0].fifths


def bar_lines(score: Score) -> tuple[int, ...]:
    """How many notes stand before each bar line but the last."""
    counts = [sum(isinstance(event, Note) for event in bar.events) for bar in score.staves[0].bars]
    return tuple(sum(counts[: index + 1]) for index in range(len(counts) - 1))


def written(score: Score, version: Version) -> Value:
    """A version as it is written on the pupil's stave."""
    notes = tuple(
        WrittenNote(n.pitch.step, n.pitch.alter, n.pitch.octave, n.duration.type, n.duration.dots, n.accidental)
        for n in version.notes
    )
    return Value(notes=notes, clef=score.staves[0].clef, signature=version.fifths, bar_lines=bar_lines(score))


def version_text(version: Version) -> str:
    """A version in words: its signature, where it prints one, and its notes."""
    notes = ", ".join(note.pitch.name.text for note in version.notes)
    return notes if version.fifths is None else f"{signature_text(version.fifths)}: {notes}"


def transposed(score: Score, interval: Interval, *, up: bool) -> tuple[Version, ...]:
    """The right version first, then its enharmonic twin where both keys are in use (six signs, or five and seven)."""
    fifths = signature_of(score)
    pitches = [note.pitch for note in notes_of(score)]
    if fifths is None:
        return (version_of(score, None, [transpose(pitch, interval, up=up) for pitch in pitches]),)
    key, moved = transpose_melody(pitches, key_of(fifths, "major"), interval, up=up)
    found = [version_of(score, key.fifths, moved)]
    if key.enharmonic is not None:
        letters = 1 if key.fifths > 0 else -1
        found.append(version_of(score, key.enharmonic.fifths, [respell(pitch, letters) for pitch in moved]))
    return tuple(found)


def version_of(
    score: Score,
    fifths: int | None,
    pitches: Sequence[Pitch],
    name: str = "",
    remedy: str = "",
    *,
    steady: bool = False,
) -> Version:
    """Put pitches into the melody's bars, so that the signs they need can be found."""
    given = iter(pitches)
    stave = score.staves[0]
    bars = tuple(
        replace(
            bar,
            voices=(
                tuple(
                    replace(e, pitch=next(given)) if isinstance(e, Note) and e.grace is None else e for e in bar.events
                ),
            ),
        )
        for bar in stave.bars
    )
    signed = with_accidentals(replace(score, staves=(replace(stave, bars=bars, fifths=fifths),)))
    return Version(name, fifths, notes_of(signed), remedy, steady)


def mistaken_versions(score: Score, interval: Interval, *, up: bool) -> Iterator[Version]:
    """The versions that wrong rules write; those that would need more than double signs are left out."""
    fifths = signature_of(score)
    right = transposed(score, interval, up=up)[0]
    way = "up" if up else "down"
    yield from _copied_signs(score, right)
    yield from _kept_signature(score, right)
    turned = f"The question says {way}: the new notes must be {'higher' if up else 'lower'}."
    yield from _moved(score, interval, not up, "wrong direction", turned)
    near = _NEAR.get(interval.short)
    if near is not None:
        hint = f"Check one pair of notes: from old to new must be a {interval.text}."
        yield from _moved(score, Interval.parse(near), up, "steady wrong interval", hint)
    key = None if right.fifths is None else key_of(right.fifths, "major")
    count = "Count the first letter as 1: a 3rd moves a note by two letters, not by three."
    for extra in (1, -1):
        if interval.number + extra >= 2:
            shift = extra if up else -extra
            off = [_in_key(note.pitch.diatonic + shift, note.pitch, key) for note in right.notes]
            yield from _kept(partial(version_of, score, right.fifths, off, "off by a step", count, steady=True))
    if fifths is None:
        plain = [_in_key(note.pitch.diatonic, None, None) for note in right.notes]
        hint = "Give every note the sign that makes its interval right."
        yield from _kept(partial(version_of, score, None, plain, "signs left out", hint, steady=True))


def _in_key(diatonic: int, near: Pitch | None, key: Key | None) -> Pitch:
    """A line or space as the key makes it, or with the sign of the note it stands for where there is no key."""
    bare = Pitch.from_diatonic(diatonic)
    if key is not None:
        return bare.altered(key.alter_of(bare.step))
    return bare.altered(near.alter) if near is not None else bare


def _moved(score: Score, interval: Interval, up: bool, name: str, remedy: str) -> Iterator[Version]:
    def moved() -> Version:
        one = transposed(score, interval, up=up)[0]
        return Version(name, one.fifths, one.notes, remedy, steady=True)

    yield from _kept(moved)


def _copied_signs(score: Score, right: Version) -> Iterator[Version]:
    """The notes moved and the signature too, but the printed signs copied as they stood."""
    old = notes_of(score)
    copied = tuple(replace(new, accidental=was.accidental) for new, was in zip(right.notes, old, strict=True))
    if any(was.accidental for was in old):
        name = "signature moved, signs not" if right.fifths is not None else "letters moved, signs not"
        hint = "A raised note stays a raised note: its new sign may be another one."
        yield Version(name, right.fifths, copied, hint)


def _kept_signature(score: Score, right: Version) -> Iterator[Version]:
    """The notes moved by letters under the old signature."""
    fifths = signature_of(score)
    if fifths is None or right.fifths == fifths:
        return
    pairs = zip(right.notes, notes_of(score), strict=True)
    signs = tuple(replace(note, accidental=was.accidental) for note, was in pairs)
    hint = "Move the key first: find the new tonic, then write its key signature."
    yield Version("signature not moved", fifths, signs, hint, steady=True)


def _kept(make: Callable[[], Version]) -> Iterator[Version]:
    try:
        yield make()
    except (StavewrightError, KeyError):
        return


def key_names(fifths: int) -> tuple[Key, Key]:
    """The major and the minor key of a signature."""
    return key_of(fifths, "major"), key_of(fifths, "minor")


def signed_notes(score: Score) -> tuple[Note, ...]:
    """The notes that stand apart from the signature, which need thought when they move."""
    fifths = signature_of(score) or 0
    return tuple(note for note in notes_of(score) if note.pitch.alter != signature_alter(fifths, note.pitch.step))
