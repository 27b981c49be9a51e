"""Irregular groups, against the published table."""

from __future__ import annotations

import pytest

from stavewright.theory.duration import Duration, DurationError, Tuplet, total_ticks
from stavewright.theory.metre import TimeSignature
from stavewright.theory.tuplet import COMPOUND, SIMPLE, TupletError, group, normals, runs, sentence, stands_for


@pytest.mark.parametrize(
    ("actual", "normal", "written", "fills", "source"),
    [
        (3, 2, "quaver", "crotchet", "Gehrkens, Music Notation and Terminology (1914) §55"),
        (3, 2, "crotchet", "minim", "Gehrkens (1914) §55"),
        (2, 3, "quaver", "dotted crotchet", "Hutchinson, Music Theory for the 21st-Century Classroom, duplet"),
        (4, 3, "quaver", "dotted crotchet", "Hutchinson, quadruplet"),
        (5, 4, "semiquaver", "crotchet", "Gehrkens (1914) §55"),
        (6, 4, "semiquaver", "crotchet", "Gehrkens (1914) §55"),
        (7, 4, "semiquaver", "crotchet", "common practice"),
        (9, 8, "demisemiquaver", "crotchet", "common practice"),
        (4, 6, "semiquaver", "dotted crotchet", "from memory"),
    ],
)
def test_what_groups_stand_for(actual: int, normal: int, written: str, fills: str, source: str) -> None:
    note = Duration(written, 0, Tuplet(actual, normal))
    assert stands_for(note) == Duration.parse(fills), source
    time = TimeSignature(6, 8) if Duration.parse(fills).dots else TimeSignature(2, 4)
    assert normal in normals(actual, time)


@pytest.mark.parametrize(
    ("actual", "time", "written"),
    [
        (3, "4/4", "quaver"),
        (5, "4/4", "semiquaver"),
        (6, "4/4", "semiquaver"),
        (9, "4/4", "demisemiquaver"),
        (2, "6/8", "quaver"),
        (4, "6/8", "quaver"),
        (2, "6/4", "crotchet"),
        (3, "2/2", "crotchet"),
        (7, "6/8", "semiquaver"),
        (8, "6/8", "semiquaver"),
    ],
)
def test_a_group_fills_the_beat(actual: int, time: str, written: str) -> None:
    """The notes drawn for a group on one beat (common practice), and their sum."""
    metre = TimeSignature.parse(time)
    notes = group(actual, metre)
    assert [note.type for note in notes] == [written] * actual
    assert total_ticks(notes) == metre.beat.ticks


def test_the_tables_hold_only_irregular_groups() -> None:
    """No figure equals its own normal number, and ordinary divisions are not in the table."""
    for table in (SIMPLE, COMPOUND):
        assert all(actual not in usual for actual, usual in table.items())
    assert set(SIMPLE) & {2, 4, 8} == set()
    assert 6 not in COMPOUND


def test_refusals() -> None:
    with pytest.raises(TupletError, match="no irregular group of 2"):
        normals(2, TimeSignature(3, 4))
    with pytest.raises(TupletError, match="no irregular group"):
        stands_for(Duration("quaver"))
    with pytest.raises(TupletError, match="are not one value"):
        stands_for(Duration("quaver", 1, Tuplet(4, 3)))
    with pytest.raises(TupletError, match="no note value"):
        group(3, TimeSignature(4, 4), Duration("minim", 1))
    with pytest.raises(DurationError):
        Tuplet(10, 8)


def test_in_words() -> None:
    assert sentence(Duration("quaver", 0, Tuplet(2, 3))) == "2 quavers in the time of 3 quavers"


def test_where_groups_lie() -> None:
    """Equal notes are counted out; unequal ones end with the beat."""
    triplet = Tuplet(3, 2)
    long, short = Duration("crotchet", 0, triplet), Duration("quaver", 0, triplet)
    row = (long, short, short, short, short)
    starts = tuple(total_ticks(row[:place]) for place in range(len(row)))
    crotchet = Duration("crotchet").ticks
    assert runs(row, starts, (crotchet, 2 * crotchet)) == (range(2), range(2, 5))
    two = (short, short)
    assert runs(two, (0, short.ticks), (crotchet,)) == (range(2),)
