"""Bar lines: where they go, and how a pupil's own are judged."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from stavewright.theory.bar_lines import (
    BarLineError,
    bar_line_places,
    bars,
    faulty_bars,
    judge_bar_lines,
    last_bar_ticks,
    lines_without_pick_up,
)
from stavewright.theory.duration import Duration, total_ticks
from stavewright.theory.metre import ALL_TIMES, TimeSignature

Q, C, M = Duration("quaver"), Duration("crotchet"), Duration("minim")


def test_a_plain_row() -> None:
    """Two bars of 3/4 (common practice)."""
    assert bar_line_places([C, Q, Q, C, M, C], TimeSignature(3, 4)) == (4, 6)


def test_a_pick_up_stands_before_the_first_line() -> None:
    """The first full bar is bar 1, and the last bar is short by the pick-up (common practice)."""
    row = [Q, C, Q, C, Q, C, Q, C]
    assert bar_line_places(row, TimeSignature(6, 8), anacrusis=Q.ticks) == (1, 5)
    assert [len(bar) for bar in bars(row, TimeSignature(6, 8), anacrusis=Q.ticks)] == [1, 4, 3]
    assert last_bar_ticks(TimeSignature(6, 8), Q.ticks) == 5 * Q.ticks
    assert lines_without_pick_up(row, TimeSignature(6, 8)) == (4, 8)


def test_a_note_over_the_line_is_refused() -> None:
    with pytest.raises(BarLineError, match=r"value 3 \(minim\) runs over bar line 1"):
        bar_line_places([C, C, M], TimeSignature(3, 4))
    with pytest.raises(BarLineError, match="pick-up"):
        bar_line_places([C], TimeSignature(3, 4), anacrusis=3 * C.ticks)


def test_one_misplaced_line_costs_once() -> None:
    """Bars after a misplaced line are judged from the pupil's own line."""
    row = [C] * 12
    assert [bar.right for bar in judge_bar_lines([4, 8], row, TimeSignature(4, 4))] == [True, True, True]
    assert [bar.right for bar in judge_bar_lines([3, 7, 11], row, TimeSignature(4, 4))] == [False, True, True, True]
    assert [bar.right for bar in judge_bar_lines([4], row, TimeSignature(4, 4))] == [True, False]
    assert [bar.right for bar in judge_bar_lines([4, 6, 8], row, TimeSignature(4, 4))] == [True, False, False, True]


def test_a_pick_up_counted_as_a_bar_is_wrong_once() -> None:
    row = [C] * 9
    right = judge_bar_lines([1, 5], row, TimeSignature(4, 4), anacrusis=C.ticks)
    assert [bar.right for bar in right] == [True, True, True]
    pick_up_lost = judge_bar_lines([4, 8], row, TimeSignature(4, 4), anacrusis=C.ticks)
    assert [bar.right for bar in pick_up_lost] == [False, True, True]


def test_a_line_outside_the_row_is_refused() -> None:
    with pytest.raises(BarLineError, match="after 1 to 2 values"):
        judge_bar_lines([3], [C, C], TimeSignature(2, 4))


def test_faulty_bars() -> None:
    rows = [[C, C], [M], [C, Duration("crotchet", 1)], [Q, Q]]
    assert faulty_bars(rows, TimeSignature(2, 4)) == (2, 3)
    assert faulty_bars([[Q], [M], [C, Q]], TimeSignature(2, 4), anacrusis=Q.ticks) == ()


@st.composite
def tunes(draw: st.DrawFn) -> tuple[TimeSignature, list[Duration], int, int]:
    time = draw(st.sampled_from(ALL_TIMES))
    unit = time.unit_value
    pick_up = draw(st.integers(0, time.beats - 1))
    count = draw(st.integers(1, 4))
    row = [unit] * pick_up
    for number in range(count):
        left = time.beats - (pick_up if number == count - 1 else 0)
        while left:
            step = draw(st.sampled_from([size for size in (1, 2) if size <= left]))
            row.append(unit if step == 1 else unit.scaled(1))
            left -= step
    return time, row, pick_up * unit.ticks, count


@given(tunes())
def test_bars_add_up(tune: tuple[TimeSignature, list[Duration], int, int]) -> None:
    """Every bar is full, except a pick-up and the last bar, which together make one."""
    time, row, anacrusis, count = tune
    cut = bars(row, time, anacrusis=anacrusis)
    sums = [total_ticks(bar) for bar in cut]
    if anacrusis:
        assert sums[0] == anacrusis
        sums[-1:] = [sums[-1] + sums.pop(0)]
    assert sums == [time.ticks] * count
    assert [value for bar in cut for value in bar] == row


@given(tunes())
def test_right_lines_are_judged_right(tune: tuple[TimeSignature, list[Duration], int, int]) -> None:
    """The program's own bar lines earn full marks."""
    time, row, anacrusis, _ = tune
    lines = bar_line_places(row, time, anacrusis=anacrusis)
    assert all(bar.right for bar in judge_bar_lines(lines, row, time, anacrusis=anacrusis))
