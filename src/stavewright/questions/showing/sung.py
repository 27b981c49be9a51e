"""Words under notes: a sung line as it is written, right or wrong alike, and an empty stave to write one on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from stavewright.questions.documents import TextBlock
from stavewright.questions.showing.bars import bars_score
from stavewright.questions.showing.extract import credit_block
from stavewright.score.event import Event, Gap, Note
from stavewright.score.stave import Bar, Score, Stave
from stavewright.theory.duration import Duration
from stavewright.theory.metre import TimeSignature
from stavewright.theory.verse import Syllable

_ROOM = 20
"""Gaps of a minim: so many are longer than one line of a page, and shorter than three."""


def verse_blocks(words: Sequence[str], credit: str) -> tuple[TextBlock, ...]:
    """Lines of verse, and the line that names the poet where there is one.

    >>> [block.text for block in verse_blocks(["Hey", "ho"], "A Poet")]
    ['Hey', 'ho', 'A Poet']
    """
    return (*(TextBlock(line) for line in words), *credit_block(credit))


def with_words(row: Sequence[Event], lines: Sequence[Sequence[Syllable]]) -> tuple[Event, ...]:
    """A row of notes with a syllable under each that is sung anew, as far as both go.

    >>> from stavewright.theory.duration import Duration
    >>> from stavewright.theory.pitch import Pitch
    >>> from stavewright.theory.verse import read_line
    >>> note = Note(Pitch("B", 0, 4), Duration("minim"))
    >>> [one.lyric for one in with_words([note, note], [read_line("*Lis-ten, *all")])]
    ['Lis-', 'ten,']
    """
    words = iter([syllable.sung for line in lines for syllable in line])
    held = False
    found: list[Event] = []
    for event in row:
        if not isinstance(event, Note):
            held = False
        else:
            event = event if held else replace(event, lyric=next(words, None))  # noqa: PLW2901
            held = event.tie
        found.append(event)
    return tuple(found)


def sung_score(
    row: Sequence[Event], bar_lines: Sequence[int] | None, time: TimeSignature, *, clef: str = "treble", fifths: int = 0
) -> Score:
    """A sung line with the bar lines that were drawn; a short first bar is an upbeat, and bars bear numbers."""
    inside = sorted({line for line in bar_lines or () if 0 < line < len(row)})
    bars = [list(row[start:end]) for start, end in pairwise([0, *inside, len(row)])]
    drawn = bars_score(bars, time, last="final").staves[0]
    upbeat = len(bars) > 1 and sum(event.ticks for event in bars[0]) < time.ticks
    stave = replace(drawn, clef=clef, fifths=fifths or None)
    return Score((stave,), numbered=len(bars) > 1, anacrusis=upbeat)


def empty_lines(time: TimeSignature, *, clef: str = "treble", fifths: int = 0) -> Score:
    """An empty stave without bar lines, long enough for a couplet: on a page it takes two lines."""
    room = tuple(Gap(Duration("minim"), f"g{place}") for place in range(1, _ROOM + 1))
    return Score((Stave(clef, (Bar((room,), line="none", free=True),), fifths or None, time),))
