"""Questions on metre held against bars, beams and bar lines of real music: Bach chorales in music21's corpus."""

from __future__ import annotations

from msgspec.structs import replace

from questions.bach_chorales import Part, parts
from stavewright.questions.kinds import (
    add_the_bar_lines,
    add_the_time_signature,
    anacrusis_balance,
    beam_the_bar,
    find_the_faulty_bar,
)
from stavewright.questions.score_mirror import document_of
from stavewright.questions.showing.bars import event_of
from stavewright.questions.solving.beaming import events_of
from stavewright.questions.values import WrittenValue
from stavewright.score.stave import Bar, Score, Stave
from stavewright.syllabus.scope import scope_for
from stavewright.theory.duration import TICKS, total_ticks
from stavewright.theory.grouping import is_accepted
from stavewright.theory.metre import TimeSignature

FULL_LAST_BAR = {"bwv277"}
"""Chorales whose last bar is full in the edition, though they begin with an upbeat."""
VOICES = parts(4)


def ticks(bar: tuple[WrittenValue, ...]) -> int:
    return total_ticks([one.duration for one in bar])


def bare(bar: tuple[WrittenValue, ...]) -> tuple[WrittenValue, ...]:
    return tuple(replace(one, tie=False, beam=None) for one in bar)


def music(part: Part, bars: tuple[tuple[WrittenValue, ...], ...], *, line: str = "single") -> Score:
    """The rhythm of a voice on one line, without its ties."""
    made = []
    for index, bar in enumerate(bars):
        row = tuple(event_of(one, f"n{index}-{at}") for at, one in enumerate(bare(bar)))
        made.append(Bar((row,), line="final" if index == len(bars) - 1 else line, free=True))
    stave = Stave("treble", tuple(made), time=TimeSignature.parse(part.time))
    upbeat = ticks(bars[0]) < TimeSignature.parse(part.time).ticks
    return Score((stave,), numbered=True, anacrusis=upbeat)


def test_the_last_bar_is_short_by_the_upbeat() -> None:
    """D22 of the project's notes: of the first strain, and of the whole chorale but for one edition's full bar."""
    asked = 0
    for part in VOICES:
        full = next(bar for bar in part.bars[1:] if ticks(bar) == TimeSignature.parse(part.time).ticks)
        facts = anacrusis_balance.AnacrusisBalance(part.time, bare(part.bars[0]), bare(full), "semiquaver")
        found = anacrusis_balance.KIND.solve(facts)[0].value[0].number * TICKS["semiquaver"]
        assert found == ticks(part.strain[-1]), part.name
        assert (found == ticks(part.bars[-1])) is (part.name not in FULL_LAST_BAR), part.name
        asked += 2
    assert asked == 128


def test_the_bar_lines_of_a_strain_are_found_again() -> None:
    """Every bar line of every voice, from the values and the upbeat alone."""
    found = 0
    for part in VOICES:
        unbarred = Score(music(part, part.strain, line="none").staves)
        facts = add_the_bar_lines.AddTheBarLines(document_of(unbarred), ticks(part.bars[0]))
        counts = [len(bar) for bar in part.strain]
        lines = tuple(sum(counts[:at]) for at in range(1, len(counts)))
        assert add_the_bar_lines.KIND.solve(facts)[0].value[0].bar_lines == lines, part.name
        found += len(lines)
    assert found == 380


def test_the_time_signature_of_a_chorale_is_among_those_that_fit() -> None:
    """Two full bars at a time, under the edition's own beams, wherever these are beams that we accept."""
    asked = 0
    for part in VOICES:
        time = TimeSignature.parse(part.time)
        full = [bar for bar in part.bars if ticks(bar) == time.ticks and not silent(bar) and _accepted(bar, time)]
        for pair in zip(full[::2], full[1::2], strict=False):
            bars = tuple(tuple(replace(one, tie=False) for one in bar) for bar in pair)
            facts = add_the_time_signature.AddTheTimeSignature(bars, scope_for(5).times)
            said = [answer.text for answer in add_the_time_signature.KIND.solve(facts)]
            assert part.time in said, (part.name, bars)
            asked += 1
    assert asked == 364


def silent(bar: tuple[WrittenValue, ...]) -> bool:
    return all(one.rest for one in bar)


def _accepted(bar: tuple[WrittenValue, ...], time: TimeSignature) -> bool:
    return is_accepted([one.beam for one in bar], events_of(bar), time).accepted


def test_the_beams_of_chorales_are_among_those_accepted() -> None:
    """8 of 342 bars differ: six put quavers and semiquavers of a half bar under one beam, two run over a beat."""
    asked, other = 0, []
    for part in VOICES:
        time = TimeSignature.parse(part.time)
        for bar in part.bars:
            if ticks(bar) < time.ticks or sum(one.duration.tails > 0 and not one.rest for one in bar) < 2:
                continue
            asked += 1
            given = beam_the_bar.BeamTheBar(part.time, bare(bar))
            drawn = tuple(replace(one, tie=False) for one in bar)
            if not any(same_beams(drawn, answer.value[0].rhythm) for answer in beam_the_bar.KIND.solve(given)):
                other.append(part.name)
    assert asked == 342
    assert sorted(other) == ["bwv277", "bwv305", "bwv305", "bwv305", "bwv305", "bwv33.6", "bwv33.6", "bwv33.6"]


def same_beams(one: tuple[WrittenValue, ...], other: tuple[WrittenValue, ...]) -> bool:
    return _runs(one) == _runs(other)


def _runs(row: tuple[WrittenValue, ...]) -> list[tuple[int, ...]]:
    groups: dict[int, list[int]] = {}
    for place, value in enumerate(row):
        if value.beam is not None:
            groups.setdefault(value.beam, []).append(place)
    return sorted(tuple(run) for run in groups.values() if len(run) > 1)


def test_a_note_taken_out_of_a_strain_is_found_and_no_other_bar_is_blamed() -> None:
    """Without the last note of bar 2 that bar is faulty, and the edition's other bars are all right."""
    asked = 0
    for part in VOICES:
        if len(part.strain[2]) < 2:
            continue
        spoilt = (*part.strain[:2], part.strain[2][:-1], *part.strain[3:])
        facts = find_the_faulty_bar.FindTheFaultyBar(document_of(music(part, spoilt)))
        assert [answer.text for answer in find_the_faulty_bar.KIND.solve(facts)] == ["bar 2"], part.name
        asked += 1
    assert asked == 60
