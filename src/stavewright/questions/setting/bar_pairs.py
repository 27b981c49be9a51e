"""Pairs of bars that belong together, found by the setter: alike, alike in rhythm, a sequence, one turned over."""

from __future__ import annotations

from itertools import combinations

from stavewright.questions.setting.flat_line import FlatBar

Pairs = dict[str, list[tuple[int, int]]]
_FEWEST = 3
_MOST_PAIRS = 3


def pairs_of(bars: list[FlatBar]) -> Pairs:
    """The pairs of bar numbers for each relation, those relations only that every reader would find the same."""
    found: Pairs = {"same-notes": [], "same-rhythm": [], "sequence": [], "inversion": []}
    doubtful: set[str] = set()
    for one, other in combinations([bar for bar in bars if bar.number and bar.notes], 2):
        if one.pattern != other.pattern:
            continue
        alike = [n.midi for n in one.notes] == [n.midi for n in other.notes]
        plain = len(one.notes) >= _FEWEST and len({n.steps for n in one.notes}) > 1
        tied = [(n.joined, n.tied) for n in one.notes] != [(n.joined, n.tied) for n in other.notes]
        for about in ["same-notes"] if alike else ["same-rhythm", *_relations(one, other)]:
            found[about].append((one.number, other.number))
            if tied or (about in ("sequence", "inversion") and not plain):
                doubtful.add(about)
    return {a: pairs for a, pairs in found.items() if a not in doubtful and 0 < len(pairs) <= _MOST_PAIRS}


def _relations(one: FlatBar, other: FlatBar) -> list[str]:
    """How the second bar repeats the shape of the first: moved, turned over, or neither."""
    shape = [note.steps - one.notes[0].steps for note in one.notes]
    again = [note.steps - other.notes[0].steps for note in other.notes]
    if len({note.steps for note in one.notes}) == 1 and shape == again:
        return ["sequence"] if other.number == one.number + 1 else []
    if shape == again:
        same_place = other.notes[0].steps == one.notes[0].steps
        return [] if same_place else ["sequence"] if other.number == one.number + 1 else []
    return ["inversion"] if shape == [-step for step in again] else []
