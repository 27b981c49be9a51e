"""Statements about an extract, true and false, made by the setter from what it sees on its own flat line."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from itertools import combinations, pairwise
from random import Random

from stavewright.questions.properties import Property
from stavewright.questions.setting.extract_finds import may_name, named, syncopated_bars, touching
from stavewright.questions.setting.flat_line import Flat, FlatBar, sung
from stavewright.questions.setting.marked_notes import degrees_of
from stavewright.syllabus.scope import Scope
from stavewright.theory.duration import Duration
from stavewright.theory.interval import ordinal
from stavewright.theory.key import Key

Said = tuple[Property, bool]
_MARKS = ("pp", "p", "mp", "mf", "f", "ff")
_BEGINS = (
    "very quietly", "quietly", "moderately quietly", "moderately loudly", "loudly", "very loudly",
)  # fmt: skip
_DEGREES = ("tonic", "supertonic", "mediant", "subdominant", "dominant", "submediant", "leading note")
_COUNTS = {2: "duple", 3: "triple", 4: "quadruple", 5: "quintuple", 7: "septuple"}
_ENDS = (1, 3, 5)
_FEW = 3


def statements(bars: list[FlatBar], scope: Scope, key: Key | None) -> dict[str, list[Said]]:
    """What may fairly be said, by subject: every statement is plainly true or plainly false."""
    whole = [bar for bar in bars if bar.number and bar.notes]
    found: dict[str, list[Said]] = defaultdict(list)
    sources = (
        _notes(bars), _lengths(bars, scope), _pairs(whole), _first_two(whole, scope), _widest(bars, scope),
        _bar_by_bar(bars, whole, scope), _time(bars, scope), _opening(bars, scope), _degrees(bars, scope, key),
    )  # fmt: skip
    for source in sources:
        for said, truth in source:
            found[said.about].append((said, truth))
    return found


def choose(found: dict[str, list[Said]], rng: Random, count: int) -> list[Said] | None:
    """So many statements on different subjects, some true and some false; None where there are too few."""
    true_ones = rng.randint(1, count - 1)
    subjects = sorted(found)
    rng.shuffle(subjects)
    chosen: list[Said] = []
    for truth in [True] * true_ones + [False] * (count - true_ones):
        about = next((a for a in subjects if any(t == truth for _, t in found[a])), None)
        if about is None:
            return None
        subjects.remove(about)
        chosen.append(rng.choice([one for one in found[about] if one[1] == truth]))
    rng.shuffle(chosen)
    return chosen


def _notes(bars: list[FlatBar]) -> Iterator[Said]:
    heard = sung(bars)
    names = sorted({note.name for note in heard})
    for about, best in (("highest", max(n.midi for n in heard)), ("lowest", min(n.midi for n in heard))):
        right = {note.name for note in heard if note.midi == best}
        if len(right) == 1:
            for name in names:
                yield Property(about, word=name), name in right
    span = max(n.steps for n in heard) - min(n.steps for n in heard)
    yield Property("octave"), span <= 7


def _lengths(bars: list[FlatBar], scope: Scope) -> Iterator[Said]:
    written = [note for bar in bars for note in bar.notes]
    if any(note.group for note in written):
        return
    heard = sung(bars)
    longest = max(written, key=lambda note: note.length)
    shortest = min(written, key=lambda note: note.length)
    values = {value: Duration(value).ticks for value in scope.values}
    if max(note.length for note in heard) == longest.length and not longest.tied and not longest.joined:
        yield Property("longest", word=longest.value), True
        for value, ticks in values.items():
            if _near(ticks, longest.length):
                yield Property("longest", word=value), False
    if min(note.length for note in heard) == shortest.length:
        yield Property("shortest", word=shortest.value), True
        for value, ticks in values.items():
            if _near(ticks, shortest.length):
                yield Property("shortest", word=value), False


def _near(ticks: int, right: int) -> bool:
    """Whether a value is wrong by little: not the right one, and within twice or half of it."""
    return ticks != right and right <= 2 * ticks <= 4 * right


def _ties(bar: FlatBar) -> tuple[tuple[bool, bool], ...]:
    return tuple((note.joined, note.tied) for note in bar.notes)


def _pairs(bars: list[FlatBar]) -> Iterator[Said]:
    """Two bars compared: rhythm, notes, shape."""
    for one, other in combinations(bars, 2):
        first, second = one.number, other.number
        alike = one.pattern == other.pattern
        if alike and _ties(one) != _ties(other):
            continue
        if alike and len(one.notes) >= _FEW:
            yield Property("same-rhythm", bar=first, other=second), True
            repeated = [n.midi for n in one.notes] == [n.midi for n in other.notes]
            yield Property("same-notes", bar=first, other=second), repeated
            moves = {b.steps - a.steps for a, b in zip(one.notes, other.notes, strict=True)}
            if other.number == one.number + 1 and not repeated and len({n.steps for n in one.notes}) > 1:
                moved = len(moves) == 1 and moves != {0}
                if moved or len(moves) > 1:
                    yield Property("sequence", bar=first, other=second), moved
        elif len(one.notes) == len(other.notes) >= _FEW and not alike:
            yield Property("same-rhythm", bar=first, other=second), False


def _first_two(bars: list[FlatBar], scope: Scope) -> Iterator[Said]:
    """The interval at the start of a bar, and one that is wrong by a little."""
    for bar in bars:
        if len(bar.notes) < 2 or bar.notes[0].joined or not bar.notes[1].follows or bar.notes[1].joined:
            continue
        found = named(bar.notes[0], bar.notes[1])
        size = abs(bar.notes[0].steps - bar.notes[1].steps) + 1
        if found is None or size < 2 or (size > 8 and not scope.intervals.compound):
            continue
        quality = found[1].split()[0]
        if may_name(scope, size, quality):
            yield Property("interval", bar=bar.number, word=found[1]), True
            for other in {"major": ("minor",), "minor": ("major",)}.get(quality, ()):
                yield Property("interval", bar=bar.number, word=f"{other} {ordinal(size)}"), False
        elif not (scope.intervals.quality and not scope.intervals.above_tonic):
            yield Property("interval", bar=bar.number, word=found[0]), True
            for wrong in (size - 1, size + 1):
                if 2 <= wrong <= 8:
                    yield Property("interval", bar=bar.number, word=ordinal(wrong)), False


def _widest(bars: list[FlatBar], scope: Scope) -> Iterator[Said]:
    most = max((abs(a.steps - b.steps) for bar in bars for a, b in touching(bar)), default=0) + 1
    limit = 12 if scope.intervals.compound else 8
    if _FEW <= most <= limit:
        for size in range(max(_FEW, most - 1), min(most + 1, limit) + 1):
            yield Property("largest-leap", word=ordinal(size)), size == most


def _bar_by_bar(bars: list[FlatBar], whole: list[FlatBar], scope: Scope) -> Iterator[Said]:
    """What one bar has or has not."""
    hairpins = {(one.kind, bar.number) for bar in bars for one in bar.directions}
    spelled = any(one.kind == "text" for bar in bars for one in bar.directions)
    regular = all(bar.time.kind != "irregular" for bar in bars)
    plain, nearly = syncopated_bars(bars) if regular else (set(), set())
    groups = {note.group for bar in bars for note in bar.notes if note.group in scope.tuplets}
    for bar in whole:
        here = bar.number
        yield Property("dotted", bar=here), any("dotted" in note.value for note in bar.notes)
        yield Property("held-over", bar=here), bar.notes[0].joined
        yield Property("accidental", bar=here), any(note.sign for note in bar.notes)
        yield Property("rest", bar=here), bool(bar.rests)
        for word in ("crescendo", "diminuendo"):
            if not spelled and any(kind == word for kind, _ in hairpins):
                yield Property("hairpin", bar=here, word=word), (word, here) in hairpins
        if regular and (here in plain or here not in nearly):
            yield Property("syncopation", bar=here), here in plain
        for group in groups:
            yield Property("tuplet", bar=here, number=group), any(note.group == group for note in bar.notes)
        yield from _steps(bar)


def _steps(bar: FlatBar) -> Iterator[Said]:
    moves = {abs(b.steps - a.steps) for a, b in pairwise(bar.notes)}
    if len(bar.notes) > _FEW and not bar.rests and 0 not in moves:
        yield Property("step", bar=bar.number), moves == {1}


def _time(bars: list[FlatBar], scope: Scope) -> Iterator[Said]:
    time = bars[0].time
    if any(bar.time != time for bar in bars):
        return
    right = (time.count, time.beat.text)
    known = {(one.count, one.beat.text) for one in scope.time_signatures} | {right}
    for count, word in sorted(known):
        if (count == time.count) != (word == time.beat.text) or (count, word) == right:
            yield Property("beats", number=count, word=word), (count, word) == right
    if any(one.kind == "compound" for one in scope.time_signatures):
        for kind in ("simple", "compound"):
            for number in (2, 3, 4):
                word = f"{kind} {_COUNTS[number]}"
                yield Property("metre", word=word), (kind, number) == (time.kind, time.count)


def _opening(bars: list[FlatBar], scope: Scope) -> Iterator[Said]:
    marks = [one.text for one in bars[0].directions if one.kind == "dynamic" and one.at == 0]
    if len(marks) == 1 and marks[0] in _MARKS:
        level = _MARKS.index(marks[0])
        for other, word in enumerate(_BEGINS):
            if other == level or abs(other - level) > 1:
                yield Property("begins", word=word), other == level
    if scope.anacrusis:
        yield Property("upbeat"), bars[0].number == 0


def _degrees(bars: list[FlatBar], scope: Scope, key: Key | None) -> Iterator[Said]:
    """The degree of the first and the last note."""
    if key is None:
        return
    owned = degrees_of(key)
    notes: list[Flat] = sung(bars)
    for about, note in (("first-note", notes[0]), ("last-note", notes[-1])):
        degree = owned.get(note.name)
        if degree is None or (degree == 7 and key.is_minor) or (about == "last-note" and not scope.degree_names):
            continue
        for number, word in enumerate(_DEGREES, 1):
            if (scope.degree_names and (about == "first-note" or number in _ENDS)) or number == 1:
                yield Property(about, word=word), number == degree
