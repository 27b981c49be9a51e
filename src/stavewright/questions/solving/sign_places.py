"""Where a sign belongs in printed music, and where a wrong rule would put it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from stavewright.questions.solving.line import Sung, SungBar
from stavewright.questions.values import Place
from stavewright.theory.clef import CLEFS

_MIDDLE = 4  # the middle line, in places above the bottom line


def right_places(bars: Sequence[SungBar], rule: str, bar: int, value: str, clef: str) -> tuple[Place, ...]:
    """The notes a sign belongs to by its rule; none where the music leaves it open."""
    line = _line(bars)
    if rule == "each":
        return tuple(one.place for one in _of(line, bar) if _length(one) == value)
    if rule == "above":
        return tuple(one.place for one in _of(line, bar) if _stem_down(one, clef))
    if rule == "first":
        return tuple(one.place for one in line if one.number == 1)
    if rule == "longest":
        longest = [one for one in line if one.ticks == max(other.ticks for other in line)]
        return (longest[0].place,) if len(longest) == 1 else ()
    if rule == "slur":
        whole = _of(line, bar)
        return (whole[0].place, whole[-1].place) if len(whole) > 1 else ()
    twins = _steps_apart(line, 0)
    return twins[0] if len(twins) == 1 else ()


def wrong_places(
    bars: Sequence[SungBar], rule: str, bar: int, value: str, clef: str
) -> Iterator[tuple[str, tuple[Place, ...], str]]:
    """Where a pupil puts a sign by a wrong rule: the slip, the places, what to look at."""
    line = _line(bars)
    right = right_places(bars, rule, bar, value, clef)
    if rule == "each":
        other = "crotchet" if value == "quaver" else "quaver"
        inside = _of(line, bar)
        look = f"Look at the notes once more: which of them are {value}s?"
        yield "took the other value", tuple(one.place for one in inside if _length(one) == other), look
        yield "marked the whole bar", tuple(one.place for one in inside), f"Only the {value}s are to have it."
        everywhere = tuple(one.place for one in line if _length(one) == value)
        yield "marked the other bars too", everywhere, f"Only bar {bar} is asked: find its number."
        yield "marked one note only", right[:1], "Each of them has a sign of its own."
    elif rule == "above":
        inside = _of(line, bar)
        highest = tuple(one.place for one in inside if one.pitch == max(inside, key=_height).pitch)
        stems = tuple(one.place for one in inside if not _stem_down(one, clef))
        yield "put it on the stem side", stems, "The sign stands at the head, on the side where the stem is not."
        yield "marked the whole bar", tuple(one.place for one in inside), "Look at each stem: up or down?"
        yield "took the highest note alone", highest[:1], "Every note whose stem goes down has it above."
    elif rule == "first":
        lasts = tuple(_of(line, place.bar)[-1].place for place in right)
        yield "took the last note of each bar", lasts, "The first note stands right after the bar line."
        yield "marked the first bar only", right[:1], "Every bar has a first note."
        crotchets = tuple(one.place for one in line if _length(one) == "crotchet")
        yield "marked the crotchets", crotchets, "Look for the notes after the bar lines."
    elif rule == "longest":
        yield "took the last note", (line[-1].place,), "A pause may stand on any note: look for the longest."
        yield "took the first note", (line[0].place,), "Compare the values of all the notes."
        quick = tuple(one.place for one in line if _length(one) == "quaver")
        yield "took tails for length", quick[:1], "A tail or beam makes a note shorter."
    elif rule == "slur":
        whole, after = _of(line, bar), _of(line, bar + 1)
        first, too_soon = whole[0].place, whole[-2:][0].place
        yield "stopped one note too soon", (first, too_soon), "A slur reaches the last note it covers."
        on = tuple(one.place for one in after[:1])
        yield "went on over the bar line", (first, *on), f"The last note of bar {bar} ends it."
        others = _of(line, bar - 1) or after
        ends = (others[0].place, others[-1].place) if others else ()
        yield "counted the bars wrongly", ends, "Find the number of the bar first."
    else:
        for name, steps, remedy in (
            ("took a slur for a tie", 1, "A tie joins notes of one pitch, a slur different ones."),
            ("joined notes an octave apart", 7, "A tie joins notes at the same place."),
        ):
            near = _steps_apart(line, steps)
            yield name, near[0] if near else (), remedy
        apart = [
            (one.place, other.place) for one, other in zip(line, line[2:], strict=False) if one.pitch == other.pitch
        ]
        yield "joined notes with another between", apart[0] if apart else (), "A tie joins two neighbours."


def _line(bars: Sequence[SungBar]) -> list[Sung]:
    return [note for bar in bars for note in bar.notes]


def _of(line: Sequence[Sung], bar: int) -> list[Sung]:
    return [note for note in line if note.bar == bar]


def _height(one: Sung) -> int:
    return one.pitch.diatonic


def _stem_down(one: Sung, clef: str) -> bool:
    """Whether a note's stem goes down: from the middle line up. Source: common practice."""
    return CLEFS[clef].place(one.pitch) >= _MIDDLE


def _length(one: Sung) -> str:
    return one.note.duration.text


def _steps_apart(line: Sequence[Sung], steps: int) -> list[tuple[Place, Place]]:
    """Neighbours whose places on the stave lie so many steps apart."""
    return [
        (one.place, other.place)
        for one, other in pairwise(line)
        if abs(one.pitch.diatonic - other.pitch.diatonic) == steps
    ]
