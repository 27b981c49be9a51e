"""Values and rests that hide the beats."""

from __future__ import annotations

import pytest

from stavewright.theory.duration import Duration, Tuplet
from stavewright.theory.metre import TimeSignature
from stavewright.theory.value_faults import liberties, value_faults

LETTERS = {"w": "semibreve", "m": "minim", "c": "crotchet", "q": "quaver", "s": "semiquaver"}


def bar(letters: str) -> list[tuple[Duration, bool]]:
    events = []
    for word in letters.split():
        note = word.lstrip("-")
        tuplet = Tuplet(3, 2) if note.endswith("3") else None
        events.append((Duration(LETTERS[note[0]], note.count("."), tuplet), word.startswith("-")))
    return events


@pytest.mark.parametrize(
    ("time", "letters", "faults", "source"),
    [
        ("6/8", "q m q", [("note across the beat", True)], "from memory"),
        ("6/8", "c c c", [("note across the beat", True)], "from memory"),
        ("6/8", "q c q c", [], "common practice"),
        ("6/8", "m.", [], "common practice"),
        ("9/8", "m. c.", [], "common practice"),
        ("9/8", "c. m.", [], "common practice"),
        ("12/8", "c. m. c.", [("note across the middle", False)], "common practice"),
        ("4/4", "c m c", [("note across the middle", False)], "accepted unless the question is on grouping"),
        ("4/4", "c c. q c", [("note across the middle", False)], "accepted unless the question is on grouping"),
        ("4/4", "c. q c. q", [], "common practice"),
        ("4/4", "q c q m", [], "common practice: quaver, crotchet, quaver"),
        ("4/4", "m. c", [], "common practice"),
        ("3/4", "c m", [], "common practice"),
        ("3/4", "c. c.", [("note across the beat", True)], "common practice: reads as 6/8"),
        ("3/4", "c c. q", [], "common practice: bwv 269 in music21's corpus, soprano, bar 3"),
        ("3/2", "m m. c", [], "common practice: the same in longer values"),
        ("3/4", "q c. c", [("note across the beat", False)], "common practice"),
        ("3/4", "q m q", [("note across the beat", False)], "common practice"),
        ("2/2", "c m c", [], "common practice: a syncopated minim"),
        ("4/4", "-w", [], "whole-bar rest"),
        ("3/4", "-w", [], "Gehrkens, Music Notation and Terminology (1914) §33"),
        ("3/4", "-m.", [("rests not to convention", True)], "Gehrkens (1914) §33"),
        ("4/4", "c -m c", [("rests not to convention", True)], "The Open University (2016) §4.2"),
        ("4/4", "c -c -c c", [], "The Open University (2016) §4.2"),
        ("6/8", "q -c c.", [("rests not to convention", True)], "from memory"),
        ("2/4", "q3 q3 q3 c", [], "common practice"),
    ],
)
def test_values(time: str, letters: str, faults: list[tuple[str, bool]], source: str) -> None:
    metre = TimeSignature.parse(time)
    found = value_faults(bar(letters), metre)
    assert [(fault.fault, fault.always) for fault in found] == faults, source
    assert all(fault.reason for fault in found)


def test_the_given_grouping_decides() -> None:
    """A crotchet on the third quaver of 5/8 runs across the group in 3+2, not in 2+3 (common practice)."""
    row = bar("c c q")
    assert [fault.index for fault in value_faults(row, TimeSignature(5, 8), grouping=(3, 2))] == [1]
    assert value_faults(row, TimeSignature(5, 8), grouping=(2, 3)) == ()


def test_liberties_count_syncopations() -> None:
    assert liberties(bar("q c q m"), TimeSignature(4, 4)) == 1
    assert liberties(bar("c c c c"), TimeSignature(4, 4)) == 0
