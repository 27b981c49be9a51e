"""Naming the printed chord of a key: its label, the labels that slips give it, and the working."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from stavewright.questions.documents import Step
from stavewright.theory.chord import PRIMARY, ChordLabel, chord_notes, identify, roman
from stavewright.theory.degree import degree_name
from stavewright.theory.errors import UnknownChordError
from stavewright.theory.interval import ordinal
from stavewright.theory.key import Key
from stavewright.theory.pitch import NoteName, Pitch

_POSITIONS = ("root position", "first inversion", "second inversion", "third inversion")
_PARTS = ("root", "third", "fifth", "seventh")


@dataclass(frozen=True, slots=True)
class Mislabelled:
    """A wrong label, the wrong rule that gives it, and what to say to the pupil."""

    name: str
    label: ChordLabel
    remedy: str
    steady: bool = False


def label_of(pitches: Sequence[Pitch], key: Key) -> ChordLabel:
    """The label of sounding notes in a key; the lowest note is the bass.

    Raises:
        UnknownChordError: the notes are no chord of the key.

    >>> label_of([Pitch("F", 0, 3), Pitch("A", 0, 3), Pitch("D", 0, 4)], Key.parse("C")).text
    'IIb'
    """
    label = identify(pitches, key)
    if label is None:
        spelt = ", ".join(pitch.short for pitch in pitches)
        raise UnknownChordError(f"{spelt} is no chord of {key.text}", right="use the notes of one triad of the key")
    return label


def label_reason(label: ChordLabel, key: Key) -> str:
    """Why a label is right: the notes of the chord, its root's place in the key, and what is in the bass."""
    stack = chord_notes(key, ChordLabel(label.degree, seventh=label.seventh))
    bass = chord_notes(key, label)[0]
    ways = (roman(key, label).replace("o", "°"), label.figured)
    names = [name for name in dict.fromkeys(ways) if name != label.text]
    also = f", also written {' or '.join(names)}" if names else ""
    return (
        f"The notes {', '.join(name.text for name in stack)} stack in thirds on {stack[0].text}, degree {label.degree} "
        f"of {key.text}; its {_PARTS[label.inversion]}, {bass.text}, is lowest: {label.text}{also}."
    )


def mislabelled(pitches: Sequence[Pitch], key: Key, *, inversions: bool) -> Iterator[Mislabelled]:
    """The labels that wrong rules give; where only root positions are asked, wrong positions are left out."""
    label = label_of(pitches, key)
    rising = sorted(pitches, key=lambda pitch: (pitch.midi, pitch.diatonic))
    bass, top = rising[0], rising[-1]
    stack = [name.index for name in chord_notes(key, ChordLabel(label.degree))]
    keep = label.inversion if inversions else 0
    if inversions:
        by_bass = (bass.name.index - key.tonic.index) % 7 + 1
        yield Mislabelled(
            "bass taken for the root",
            ChordLabel(by_bass),
            "Stack the notes in thirds first: the lowest of that stack is the root.",
        )
        hint = "Only the lowest note of all tells the position, not the top one."
        by_top = ChordLabel(label.degree, stack.index(top.name.index))
        yield Mislabelled("position read from the top note", by_top, hint)
        mixed = {2: 4, 4: 2}.get(label.degree)
        if mixed is not None:
            hint = "II and IV share two notes: stack them in thirds to find the root."
            yield Mislabelled("II and IV confused", ChordLabel(mixed, keep), hint)
    else:
        top_degree = (top.name.index - key.tonic.index) % 7 + 1
        hint = "In root position the lowest note is the root."
        yield Mislabelled("top note taken for the root", ChordLabel(top_degree), hint)
    if label.degree > 1:
        hint = "Count up the scale from the tonic, the tonic being 1."
        yield Mislabelled("counted down", ChordLabel(9 - label.degree, keep), hint)
    if label.degree in PRIMARY and any(pitch.alter != key.alter_of(pitch.step) for pitch in pitches):
        hint = "In a minor key the raised 7th belongs to chord V: expect its sign there."
        yield Mislabelled("leading note not expected in V", ChordLabel(1, keep), hint)
    other = (label.degree - 1 + key.tonic.index - key.relative.tonic.index) % 7 + 1
    hint = f"The key is {key.text}: call its tonic, {key.tonic.text}, degree 1."
    yield Mislabelled("counted in the relative key", ChordLabel(other, keep), hint, steady=True)


def chord_work(pitches: Sequence[Pitch], key: Key, ids: tuple[str, ...], *, inversions: bool) -> tuple[Step, ...]:
    """The worked label: notes, stack of thirds, degree, position, check."""
    label = label_of(pitches, key)
    rising = sorted(pitches, key=lambda pitch: (pitch.midi, pitch.diatonic))
    names = list(dict.fromkeys(pitch.name for pitch in rising))
    stack = chord_notes(key, ChordLabel(label.degree, seventh=label.seventh))
    named = f". {stack[0].text} is the {ordinal(label.degree)} degree, the {degree_name(label.degree)}"
    steps = [
        Step(
            f"In {key.text} the notes, from the lowest up, are {', '.join(name.text for name in names)}.",
            ids,
            " ".join(name.short for name in names),
        ),
        Step(
            f"Stack them in thirds, leaving out every other letter: {', '.join(name.text for name in stack)}. "
            f"The root is {stack[0].text}.",
            (),
            " ".join(name.short for name in stack),
        ),
        Step(
            f"{counted_up(key, label.degree)}{named if label.degree > 1 else ''}: chord {label.numeral}.",
            (),
            label.numeral,
        ),
    ]
    if inversions:
        letter = "abc"[label.inversion]
        steps.append(
            Step(
                f"The lowest note, {names[0].text}, is the {_PARTS[label.inversion]} of the chord: "
                f"{_POSITIONS[label.inversion]}, letter {letter}.",
                (ids[-1],),
                label.text,
            )
        )
    raised = [pitch.name for pitch in pitches if pitch.alter != key.alter_of(pitch.step)]
    if raised:
        seventh = raised[0].full_text
        steps.append(Step(f"Check: {seventh} is the raised 7th of {key.text}, so chord V is to be expected."))
    else:
        steps.append(Step(f"Check: all the notes belong to {key.text}."))
    return tuple(steps)


def counted_up(key: Key, degree: int) -> str:
    """Counting up to a degree of a key, note by note, no full stop at its end.

    >>> counted_up(Key.parse("C sharp minor"), 4)
    'Count up from the tonic: C sharp, D sharp, E, F sharp'
    """
    steps = ("CDEFGAB"[(key.tonic.index + away) % 7] for away in range(degree))
    names = ", ".join(NoteName(step, key.alter_of(step)).text for step in steps)
    return f"Count up from the tonic: {names}" if degree > 1 else f"The tonic of {key.text} is {names}"
