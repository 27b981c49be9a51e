"""Finishing a melody from its first two bars: the rules of docs/composing.md, tried over many openings."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from random import Random

import pytest

from questions.hand_written import extract
from stavewright.composing.errors import CannotCompose
from stavewright.composing.finishing import WAYS, finish_melody
from stavewright.composing.melody import compose_melody
from stavewright.score.check import faults
from stavewright.score.event import Note
from stavewright.score.stave import Score
from stavewright.theory.chord import ChordLabel, chord_notes
from stavewright.theory.interval import between
from stavewright.theory.key import ALL_KEYS, Key
from stavewright.theory.metre import TimeSignature
from stavewright.theory.pitch import Pitch

LOW, HIGH = Pitch.parse("G3"), Pitch.parse("D6")
TIMES = ("2/4", "3/4", "4/4", "6/8", "9/8", "3/8", "2/2")
VALUES = ("semibreve", "minim", "crotchet", "quaver", "semiquaver")
Made = tuple[Score, Score, Key, str]


@cache
def made() -> tuple[Made, ...]:
    """Openings whose climax is still to come, and what was made of them in both ways."""
    return tuple(_made())


def _made() -> Iterator[Made]:
    for seed in range(40):
        rng = Random(seed)
        key = rng.choice([one for one in ALL_KEYS if abs(one.fifths) <= 4])
        time = TimeSignature.parse(rng.choice(TIMES))
        try:
            whole = compose_melody(
                rng, key=key, time=time, low=LOW, high=HIGH, bars=8, values=VALUES, anacrusis=seed % 3 == 0
            ).score
        except CannotCompose:
            continue
        opening = start(whole)
        if highest(opening) + 2 >= HIGH.diatonic or opening.staves[0].bars[-1].events[-1].tie:
            continue
        for way in WAYS:
            found = finish_melody(opening, Random(1), key=key, low=LOW, high=HIGH, way=way)
            if found is not None:
                yield opening, found, key, way


def start(score: Score) -> Score:
    stave = score.staves[0]
    return replace(score, staves=(replace(stave, bars=stave.bars[: 2 + score.anacrusis]),))


def highest(score: Score) -> int:
    return max(note.pitch.diatonic for note in score.notes())


def struck(score: Score) -> list[Note]:
    notes = list(score.notes())
    return [note for before, note in zip([None, *notes], notes, strict=False) if before is None or not before.tie]


def lengths(score: Score, bar: int) -> list[object]:
    return [event.duration for event in score.staves[0].bars[bar + score.anacrusis].events]


def test_most_openings_can_be_finished():
    assert len(made()) >= 60
    assert {way for *_, way in made()} == set(WAYS)


def test_the_bars_given_stay():
    """A finished melody begins with the bars given, as they were; its bars are full, the last short by a pick-up."""
    for opening, found, _, _ in made():
        count = len(opening.staves[0].bars)
        assert found.staves[0].bars[:count] == opening.staves[0].bars
        assert len(found.staves[0].bars) == count + 6
        assert faults(found) == []
        if found.anacrusis:
            ends = [sum(event.ticks for event in found.staves[0].bars[at].events) for at in (0, -1)]
            assert sum(ends) == found.staves[0].time.ticks


def test_the_ends_of_both_halves():
    """It ends on the tonic, held and reached by step, and its first half ends on a note of the dominant chord."""
    for _, found, key, _ in made():
        led = len(found.staves[0].bars[0].events) if found.anacrusis else 0
        last, half = struck(found)[-1], found.staves[0].bars[3 + found.anacrusis].events[-1 - led]
        assert last.pitch.name == key.tonic
        assert len(found.staves[0].bars[-1].events) <= 2
        assert abs(struck(found)[-2].pitch.diatonic - last.pitch.diatonic) == 1
        assert half.pitch.name in chord_notes(key, ChordLabel(5)) or half.pitch.step in {
            name.step for name in chord_notes(key, ChordLabel(5))
        }


def test_the_climax():
    """Its highest note stands alone, after the opening."""
    for opening, found, _, _ in made():
        top = highest(found)
        assert sum(note.pitch.diatonic == top for note in struck(found)) == 1
        assert top > highest(opening)


def test_the_answer():
    """The answer takes up the rhythm of the opening, and where it is alike its first notes as well."""
    for opening, found, _, way in made():
        assert [lengths(found, 4), lengths(found, 5)] == [lengths(opening, 0), lengths(opening, 1)]
        led = int(found.anacrusis)
        again, first = found.staves[0].bars[4 + led].events, opening.staves[0].bars[led].events
        same = [event.pitch for event in again] == [event.pitch for event in first]
        assert same or way == "apart"


def test_range_and_moves():
    """New notes keep to the range, and no move to them is augmented or diminished."""
    for opening, found, _, _ in made():
        notes = struck(found)
        begin = len(struck(opening))
        for before, note in zip(notes[begin - 1 :], notes[begin:], strict=False):
            assert LOW.diatonic <= note.pitch.diatonic <= HIGH.diatonic
            assert between(before.pitch, note.pitch).quality in ("P", "M", "m")


@pytest.mark.parametrize(
    "text",
    ["G4/1 A4/1 B4/1 | A4/2", "G4/2. | A4/2.", "C6/1 D6/1 C6/1 | B5/1 C6/1 D6/1"],
)
def test_an_opening_without_a_way(text):
    """An opening that leaves no way is not finished."""
    opening = extract(text, "3/4", 1)
    assert finish_melody(opening, Random(1), key=Key.parse("G"), low=LOW, high=HIGH) is None


def test_what_comes_back_is_spelt_as_it_was_given():
    """A natural 7th of the opening stays natural when its bar returns, though the rule would raise it."""
    opening = extract("A4/1 G4/1 A4/1 | B4/2 C5/1", "3/4")
    found = finish_melody(opening, Random(3), key=Key.parse("A minor"), low=LOW, high=HIGH)
    assert found is not None
    assert [event.pitch.short for event in found.staves[0].bars[4].events] == ["A4", "G4", "A4"]
