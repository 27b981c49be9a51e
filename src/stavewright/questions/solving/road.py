"""Playing through the signs of repeating: which bars are played, in which order, by the rules or by a wrong one."""

from __future__ import annotations

from dataclasses import dataclass

from stavewright.questions.score_document import BarDocument, ScoreDocument

_MOST_PLAYED = 200


@dataclass(frozen=True, slots=True)
class Rules:
    """How a player reads the signs; as they stand here they are right.

    `again` takes repeats once more after D.C. or D.S., `early` stops at the Fine the first time it is reached.
    Source: Gehrkens, Music Notation and Terminology (1914) §36-39; no repeats after D.C. is common practice.
    """

    repeats: bool = True
    again: bool = False
    endings: bool = True
    jump: bool = True
    fine: bool = True
    early: bool = False
    segno: bool = True
    coda: bool = True


RIGHT = Rules()


def has(bar: BarDocument, kind: str) -> bool:
    """Whether a sign of that kind stands in the bar; "to-coda" is the word that leaves for the coda."""
    if kind == "to-coda":
        return any(one.kind == "text" and one.text == "To Coda" for one in bar.directions)
    return any(one.kind == kind for one in bar.directions)


def _find(bars: tuple[BarDocument, ...], kind: str) -> int:
    return next((at for at, bar in enumerate(bars) if has(bar, kind)), -1)


def _back(bars: tuple[BarDocument, ...], at: int) -> int:
    """Where a repeat begins: the last sign that opens one, else the beginning."""
    return max((one for one in range(at + 1) if bars[one].repeat_start), default=0)


def played(music: ScoreDocument, rules: Rules = RIGHT) -> tuple[int, ...]:
    """The numbers of the bars in the order they are played.

    >>> from stavewright.questions.score_document import RestDocument, StaveDocument
    >>> bar = BarDocument(((RestDocument(),),))
    >>> end = BarDocument(((RestDocument(),),), line="repeat-end")
    >>> played(ScoreDocument((StaveDocument("treble", (bar, end, bar)),)))
    (1, 2, 1, 2, 3)
    """
    bars = music.staves[0].bars
    order: list[int] = []
    taken: set[int] = set()
    at, jumped = 0, False
    while at < len(bars) and len(order) < _MOST_PLAYED:
        bar = bars[at]
        closing = bar.line == "repeat-end"
        if bar.ending == 1 and rules.endings and (at in taken or (jumped and not rules.again)):
            at += 1
            continue
        order.append(at + 1)
        if jumped and rules.coda and has(bar, "to-coda"):
            at = _find(bars, "coda")
            continue
        if closing and at not in taken and rules.repeats and (not jumped or rules.again):
            taken.add(at)
            at = _back(bars, at)
            continue
        if has(bar, "fine") and rules.fine and (jumped or rules.early):
            break
        if rules.jump and not jumped and (has(bar, "da-capo") or has(bar, "dal-segno")):
            jumped = True
            taken = set() if rules.again else taken
            at = _find(bars, "segno") if has(bar, "dal-segno") and rules.segno else 0
            continue
        at += 1
    return tuple(order)


def stretches(order: tuple[int, ...]) -> tuple[tuple[int, int], ...]:
    """The bars played, as stretches from bar to bar; each runs on until the player leaves the order of the page.

    >>> stretches((1, 2, 1, 2, 3))
    ((1, 2), (1, 3))
    """
    found: list[tuple[int, int]] = []
    for bar in order:
        if found and found[-1][1] + 1 == bar:
            found[-1] = (found[-1][0], bar)
        else:
            found.append((bar, bar))
    return tuple(found)
