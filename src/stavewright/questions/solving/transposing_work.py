"""Working out a transposition step by step, and the versions that come near to the right one."""

from __future__ import annotations

from stavewright.questions.documents import Step
from stavewright.questions.solving.transposing import (
    Version,
    key_names,
    notes_of,
    signature_of,
    signed_notes,
    written,
)
from stavewright.questions.values import Value, WrittenNote
from stavewright.score.stave import Score
from stavewright.theory.interval import Interval
from stavewright.theory.key import signature_text
from stavewright.theory.pitch import Pitch


def near_versions(score: Score, right: Version) -> tuple[Value, ...]:
    """The right version with one note a step too high or too low."""
    found: list[Value] = []
    for at, by in ((0, 1), (len(right.notes) // 2, -1), (len(right.notes) - 1, 1)):
        value = written(score, right)
        notes = list(value.notes or ())
        near = Pitch.from_diatonic(right.notes[at].pitch.diatonic + by)
        notes[at] = _moved_note(notes[at], near)
        found.append(Value(notes=tuple(notes), clef=value.clef, signature=value.signature, bar_lines=value.bar_lines))
    return tuple(found)


def _moved_note(note: WrittenNote, to: Pitch) -> WrittenNote:
    return WrittenNote(to.step, 0, to.octave, note.type, note.dots, None)


def transposing_work(
    score: Score, right: Version, size: Interval, *, up: bool, by_degree: bool = False
) -> tuple[Step, ...]:
    """The worked transposition of a melody: new key, first notes, notes with signs of their own, check."""
    old = notes_of(score)
    way = "up" if up else "down"
    steps = [_key_step(score, right, size, way)]
    first, new = old[0].pitch.name, right.notes[0].pitch.name
    fifths = signature_of(score)
    if by_degree and fifths is not None and right.fifths is not None:
        was, now = key_names(fifths)[0], key_names(right.fifths)[0]
        numbers = " ".join(str((note.pitch.name.index - was.tonic.index) % 7 + 1) for note in old[:8])
        steps.append(
            Step(
                f"Number the notes in {was.text}: {numbers}{' ...' if len(old) > 8 else '.'}",
                tuple(note.id for note in old[:8] if note.id),
                numbers,
            )
        )
        steps.append(Step(f"Write the same numbers in {now.text}: {first.text} becomes {new.text}.", (), new.short))
    else:
        moved = size.number - 1
        places = f"{moved} line{'s' if moved > 1 else ''} and spaces" if moved > 1 else "one place"
        steps.append(
            Step(
                f"Move every note {way} {places}: {first.text} becomes {new.text}.",
                (old[0].id,) if old[0].id else (),
                f"{first.short} > {new.short}",
            )
        )
    apart = signed_notes(score)
    if apart:
        index = old.index(apart[0])
        name = _full(right.notes[index].pitch)
        said = f"Where a note has its own sign, such as {_full(apart[0].pitch)}, move it exactly: {name}."
        steps.append(Step(said, tuple(note.id for note in apart if note.id), name))
    last, end = old[-1].pitch.name.text, right.notes[-1].pitch.name.text
    steps.append(Step(f"Check: the last note, {last}, must be a {size.text} from your last note, {end}."))
    return tuple(steps)


def _full(pitch: Pitch) -> str:
    return pitch.name.text if pitch.alter else f"{pitch.step} natural"


def _key_step(score: Score, right: Version, size: Interval, way: str) -> Step:
    fifths = signature_of(score)
    if fifths is None or right.fifths is None:
        return Step(f"There is no key signature: each note moves {way} by a {size.text} of its own.", (), size.short)
    was, now = key_names(fifths)[0], key_names(right.fifths)[0]
    if was == now:
        return Step(f"The music moves {way} by a {size.text}: the key signature stays.", (), f"{size.short} {way}")
    said = f"The signature is that of {was.text}; a {size.text} {way} from {was.tonic.text} is {now.tonic.text}, "
    return Step(f"{said}so the new signature has {signature_text(right.fifths)}.", (), f"{was.short} > {now.short}")
