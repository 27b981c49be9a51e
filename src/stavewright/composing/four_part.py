"""Cadences for keyboard or choir: chords chosen to lead to a cadence, and written in four parts."""

from __future__ import annotations

from collections.abc import Sequence
from random import Random
from typing import Final, Literal

from stavewright.composing.cells import slots_of
from stavewright.composing.errors import CannotCompose
from stavewright.composing.voicing import Voicing, lead
from stavewright.score.event import Chord, Event, Note
from stavewright.score.stave import Bar, Score, Stave
from stavewright.score.writing import with_accidentals, with_ids
from stavewright.theory.cadence import parse_cadence
from stavewright.theory.chord import ChordLabel
from stavewright.theory.duration import Duration, of_ticks
from stavewright.theory.key import Key
from stavewright.theory.metre import TimeSignature

Layout = Literal["keyboard", "choir"]

_FOUR_FOUR: Final = TimeSignature(4, 4)
_TRIES: Final = 6
_PATHS: Final = {
    "perfect": (
        "I IV V I", "I IIb V I", "I IIb V7 I", "Ib IV V I", "I IV Ic V I", "I IIb Ic V7 I", "I Vb I IV V7 I",
        "I IV Ib IIb V I",
    ),
    "plagal": ("I V I IV I", "I Vb I IV I", "Ib V I IV I", "I IVb I IV I"),
    "imperfect": ("I IV I V", "I Vb I V", "I IIb V", "I Ib IIb V", "I IV Ic V", "Ib IV V", "I V Ib IV V"),
    "interrupted": ("I IV V VI", "I IIb V VI", "I IIb V7 VI", "Ib IV V VI", "I IIb Ic V VI"),
}  # fmt: skip
"""Common ways to each cadence in chords I, II, IV and V. Source: common practice."""


def cadence_labels(name: str, rng: Random, *, inversions: bool = True, sevenths: bool = True) -> tuple[ChordLabel, ...]:
    """Choose chords that lead to a cadence: perfect, plagal, imperfect or interrupted.

    Without `inversions` all chords are in root position; without `sevenths` none has a seventh.

    Raises:
        UnknownCadenceError: no such cadence.

    >>> [label.degree for label in cadence_labels("plagal", Random(1))[-2:]]
    [4, 1]
    """
    paths = _PATHS[parse_cadence(name)]
    labels = [tuple(ChordLabel.parse(one) for one in path.split()) for path in paths]
    fitting = [
        row
        for row in labels
        if (inversions or not any(one.inversion for one in row)) and (sevenths or not any(one.seventh for one in row))
    ]
    if fitting:
        return rng.choice(fitting)
    return tuple(ChordLabel(one.degree) for one in rng.choice(labels) if one.inversion != 2)


def cadence_progression(
    key: Key,
    labels: Sequence[ChordLabel],
    rng: Random,
    *,
    layout: Layout = "keyboard",
    time: TimeSignature = _FOUR_FOUR,
) -> Score:
    """Write a row of chords in four parts without a fault, on two staves that end with a double bar.

    `layout` "keyboard" has three notes in the right hand and one in the left, joined by a brace; "choir" is a short
    score with two voices on each stave. The last chord is held, on a first beat but after Ic.
    Every chord is complete; the checks of `theory.part_writing` find nothing.

    Raises:
        CannotCompose: no chord, chords that cannot follow each other without a fault, or a metre whose bar no single
            value fills (5/4, 9/8).

    >>> row = [ChordLabel.parse(text) for text in "I IIb V7 I".split()]
    >>> score = cadence_progression(Key.parse("G"), row, Random(1))
    >>> score.join, [stave.clef for stave in score.staves], len(chord_ids(score))
    ('brace', ['treble', 'bass'], 4)
    """
    if not labels:
        raise CannotCompose("a progression of no chords", right="give at least one chord label")
    for _ in range(_TRIES):
        chords = lead(key, labels, rng, keyboard=layout == "keyboard")
        if chords is not None:
            return _written(chords, labels, key, layout, time)
    row = " ".join(label.text for label in labels)
    raise CannotCompose(f"{row} in {key.text} cannot be written without a fault", right="choose other chords")


def _values(labels: Sequence[ChordLabel], time: TimeSignature) -> list[list[Duration]]:
    """The value of each chord, bar by bar: two in a bar, the last on a first beat and held (but after Ic, on a second).

    The first chord fills a bar alone where the others ask for it.
    """
    starts = sorted({slot.start for slot in slots_of(time) if slot.heavy} | {0})
    half = starts[1] if len(starts) > 1 else slots_of(time)[-1].start
    long, short, whole = of_ticks(half), of_ticks(time.ticks - half), of_ticks(time.ticks)
    if long is None or short is None or whole is None:
        raise CannotCompose(
            f"no single value fills a {time.text} bar or a part of it", right="choose a metre whose bar one value fills"
        )
    joined = len(labels) > 1 and (labels[-2].degree, labels[-2].inversion) == (1, 2)
    paired = len(labels) if joined else len(labels) - 1
    first = [[whole]] if paired % 2 else []
    return [*first, *([long, short] for _ in range(paired // 2)), *([] if joined else [[whole]])]


def _written(
    chords: Sequence[Voicing], labels: Sequence[ChordLabel], key: Key, layout: Layout, time: TimeSignature
) -> Score:
    given = iter(chords)
    upper: list[Bar] = []
    lower: list[Bar] = []
    values = _values(labels, time)
    for index, row in enumerate(values):
        parts: tuple[list[Event], ...] = ([], [], [], [])
        hand: list[Event] = []
        for value in row:
            voices = next(given)
            for place, pitch in enumerate(voices):
                stem = None if layout == "keyboard" else ("up", "down", "up", "down")[place]
                parts[place].append(Note(pitch, value, stem=stem))
            hand.append(Chord(tuple(reversed(voices[:3])), value))
        line = "final" if index == len(values) - 1 else "single"
        if layout == "keyboard":
            upper.append(Bar((tuple(hand),), line=line))
            lower.append(Bar((tuple(parts[3]),), line=line))
        else:
            upper.append(Bar((tuple(parts[0]), tuple(parts[1])), line=line))
            lower.append(Bar((tuple(parts[2]), tuple(parts[3])), line=line))
    staves = (Stave("treble", tuple(upper), key.fifths, time), Stave("bass", tuple(lower), key.fifths, time))
    join = "brace" if layout == "keyboard" else "bracket"
    return with_ids(with_accidentals(Score(staves, join=join)))


def chord_ids(score: Score) -> tuple[tuple[str, ...], ...]:
    """The ids of the events of each chord of a progression, from the top voice down, chord by chord.

    >>> score = cadence_progression(Key.parse("C"), [ChordLabel(5), ChordLabel(1)], Random(1))
    >>> chord_ids(score)
    (('n1', 'n3'), ('n2', 'n4'))
    """
    rows = [
        [event.id for bar in stave.bars for event in bar.voices[part]]
        for stave in score.staves
        for part in range(len(stave.bars[0].voices))
    ]
    return tuple(zip(*rows, strict=True))
