"""What there is to find in an extract, found by the setter: only things that stand in one or two plain places."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from itertools import pairwise
from operator import attrgetter

from stavewright.questions.properties import Property
from stavewright.questions.setting.flat_line import Flat, FlatBar, sung
from stavewright.questions.values import Place
from stavewright.syllabus.scope import Scope
from stavewright.theory.interval import ordinal

Found = tuple[Property, tuple[Place, ...]]
_MOST = 2
_FEWEST_OF_A_PATTERN = 3
_LETTERS = {"perfect": (0, 3, 4)}
_MAJOR = (0, 2, 4, 5, 7, 9, 11)
_SOFT_TO_LOUD = "ppp pp p mp mf f ff fff".split()
_VALUES = ("semibreve", "minim", "crotchet", "quaver", "semiquaver", "demisemiquaver")


def finds(bars: list[FlatBar], scope: Scope) -> list[Found]:
    """Every fair search: at most two bars answer it, or one note, and nothing nearly answers it."""
    whole = [bar for bar in bars if bar.number]
    made = [
        *_notes(bars),
        *_patterns(bars),
        *_runs(bars),
        *_intervals(bars, scope),
        *_leaps(bars),
        *_beat(bars),
        *_written(bars, scope),
        *_signs(bars),
    ]
    fair: list[Found] = []
    for what, places in made:
        numbers = {place.bar for place in places}
        single = bool(places) and places[0].note is not None
        if 0 not in numbers and 1 <= len(numbers) <= (1 if single else _MOST) and len(numbers) < len(whole) - 1:
            fair.append((what, tuple(sorted(places))))
    return fair


def _notes(bars: list[FlatBar]) -> Iterator[Found]:
    """The one highest, lowest, longest and shortest note, where there is only one."""
    heard = sung(bars)
    written = {(note.bar, note.number): note.length for bar in bars for note in bar.notes}
    for about, field, last in (
        ("highest", "midi", True),
        ("lowest", "midi", False),
        ("longest", "length", True),
        ("shortest", "length", False),
    ):
        ranked = sorted(heard, key=attrgetter(field), reverse=last)
        if len(ranked) < 2 or getattr(ranked[0], field) == getattr(ranked[1], field):
            continue
        best = ranked[0]
        if about in ("highest", "lowest") and best.steps == ranked[1].steps:
            continue
        if about == "longest" and any(
            length >= written[best.bar, best.number]
            for place, length in written.items()
            if place != (best.bar, best.number)
        ):
            continue
        if about == "shortest" and any(
            length <= best.length for place, length in written.items() if place != (best.bar, best.number)
        ):
            continue
        yield Property(about), (Place(best.bar, best.number),)


def _patterns(bars: list[FlatBar]) -> Iterator[Found]:
    """Bars with one rhythm, the same notes, or the same shape higher or lower."""
    alike: dict[tuple[str, ...], list[FlatBar]] = defaultdict(list)
    for bar in bars:
        if len(bar.notes) >= _FEWEST_OF_A_PATTERN:
            alike[bar.pattern].append(bar)
    for family in alike.values():
        if len({tuple((n.joined, n.tied) for n in bar.notes) for bar in family}) > 1:
            continue
        for bar in family:
            if not bar.number:
                continue
            others = tuple(Place(other.number) for other in family if other is not bar)
            yield Property("same-rhythm", bar=bar.number), others
            shape = [note.steps - bar.notes[0].steps for note in bar.notes]
            same = [o for o in family if o is not bar and [n.midi for n in o.notes] == [n.midi for n in bar.notes]]
            yield Property("same-notes", bar=bar.number), tuple(Place(o.number) for o in same)
            moved = [
                o
                for o in family
                if o.notes[0].steps != bar.notes[0].steps
                and [n.steps - o.notes[0].steps for n in o.notes] == shape
                and len(set(shape)) > 1
            ]
            if [o.number for o in moved] == [bar.number + 1]:
                yield Property("sequence", bar=bar.number), (Place(bar.number + 1),)


def _runs(bars: list[FlatBar]) -> Iterator[Found]:
    for about, step in (("run-up", 1), ("run-down", -1)):
        places = []
        for bar in bars:
            moves = {b.steps - a.steps for a, b in pairwise(bar.notes)}
            if len(bar.notes) > _FEWEST_OF_A_PATTERN and moves == {step} and not bar.rests:
                places.append(Place(bar.number))
        yield Property(about), tuple(places)


def touching(bar: FlatBar) -> Iterator[tuple[Flat, Flat]]:
    """Neighbours of a bar that are sung one straight after the other."""
    return ((a, b) for a, b in pairwise(bar.notes) if b.follows and not b.joined)


def named(a: Flat, b: Flat) -> tuple[str, str] | None:
    """The interval between two notes by number, and by quality and number; None past augmented and diminished."""
    low, high = sorted((a, b), key=lambda n: (n.steps, n.midi))
    steps, sound = high.steps - low.steps, high.midi - low.midi
    octaves, place = divmod(steps, 7)
    over = sound - 12 * octaves - _MAJOR[place]
    perfect = place in _LETTERS["perfect"]
    names = {0: "perfect", 1: "augmented", -1: "diminished"} if perfect else {}
    names = names or {0: "major", -1: "minor", 1: "augmented", -2: "diminished"}
    number = ordinal(steps + 1)
    return (number, f"{names[over]} {number}") if over in names else None


def may_name(scope: Scope, number: int, quality: str) -> bool:
    """Whether the grade names the quality of such an interval, or its number only."""
    return (
        scope.intervals.quality
        and not scope.intervals.above_tonic
        and quality in scope.intervals.kinds
        and (number <= 8 or scope.intervals.compound)
    )


def _intervals(bars: list[FlatBar], scope: Scope) -> Iterator[Found]:
    by_number: dict[str, set[int]] = defaultdict(set)
    by_name: dict[str, set[int]] = defaultdict(set)
    for bar in bars:
        for a, b in touching(bar):
            found = named(a, b)
            size = abs(a.steps - b.steps) + 1
            if found is None or size < 3 or (size > 8 and not scope.intervals.compound):
                continue
            by_number[found[0]].add(bar.number)
            if may_name(scope, size, found[1].split()[0]):
                by_name[found[1]].add(bar.number)
    for word, numbers in (by_name or by_number).items():
        yield Property("interval", word=word), tuple(Place(number) for number in numbers)


def _leaps(bars: list[FlatBar]) -> Iterator[Found]:
    """The bar with the largest leap, where no leap over a bar line is as large."""
    sizes = {bar.number: max((abs(a.steps - b.steps) for a, b in touching(bar)), default=0) for bar in bars}
    most = max(sizes.values(), default=0)
    across = [abs(a.notes[-1].steps - b.notes[0].steps) for a, b in pairwise(bars) if a.notes and b.notes]
    places = tuple(Place(number) for number, size in sizes.items() if size == most)
    if most >= _FEWEST_OF_A_PATTERN and most > max(across, default=0) and len(places) == 1:
        yield Property("largest-leap"), places


def off_beat(bar: FlatBar, note: Flat) -> tuple[bool, bool]:
    """Whether a note is a plain syncopation (it begins between two beats and is held through the next), or nearly one.

    Nearly: it begins on any weaker place and is held through a stronger one.
    """
    beat = bar.time.beat.ticks
    begin, end = note.at - bar.at, note.at - bar.at + note.length
    following = (begin // beat + 1) * beat
    plain = begin % beat != 0 and end > following and following < bar.time.ticks and not note.group
    middle = bar.time.ticks // 2 if bar.time.count == 4 else 0
    nearly = begin % beat != 0 and end > following
    nearly = nearly or 0 < begin < middle < end
    nearly = nearly or (begin > 0 and end > bar.time.ticks)
    part = beat // (3 if bar.time.kind == "compound" else 2)
    nearly = nearly or (begin % part != 0 and end > (begin // part + 1) * part)
    return plain, bool(nearly) and not note.group


def syncopated_bars(bars: list[FlatBar]) -> tuple[set[int], set[int]]:
    """The bars with a plain syncopation, and all bars with one or nearly one."""
    where = {bar.number: bar for bar in bars}
    plain, nearly = set(), set()
    for note in sung(bars):
        is_plain, is_nearly = off_beat(where[note.bar], note)
        if is_plain:
            plain.add(note.bar)
        if is_nearly:
            nearly.add(note.bar)
    return plain, nearly


def _beat(bars: list[FlatBar]) -> Iterator[Found]:
    if any(bar.time.kind == "irregular" for bar in bars):
        return
    plain, nearly = syncopated_bars(bars)
    if plain == nearly:
        yield Property("syncopation"), tuple(Place(number) for number in plain)


def _where(bars: list[FlatBar], numbers: set[int]) -> tuple[Place, ...]:
    return tuple(Place(bar.number) for bar in bars if bar.number in numbers)


def _written(bars: list[FlatBar], scope: Scope) -> Iterator[Found]:
    """Values and groups by how they are written."""
    groups: dict[int, set[int]] = defaultdict(set)
    values: dict[str, set[int]] = defaultdict(set)
    for bar in bars:
        for note in bar.notes:
            if note.group:
                groups[note.group].add(bar.number)
            else:
                values[note.value].add(bar.number)
    for size, numbers in groups.items():
        if size in scope.tuplets:
            yield Property("tuplet", number=size), _where(bars, numbers)
    for word, numbers in values.items():
        plain = word.rsplit(" ", 1)[-1]
        # A dotted minim in another bar: is it "a minim" or not? Nobody can tell what is meant.
        dotted = [where - numbers for other, where in values.items() if other.endswith(f" {word}")]
        if plain in _VALUES and not groups and not any(dotted):
            yield Property("value", word=word), _where(bars, numbers)
    yield Property("held-over"), tuple(Place(bar.number) for bar in bars if bar.notes and bar.notes[0].joined)
    yield Property("rest"), tuple(Place(bar.number) for bar in bars if bar.rests)
    signed = tuple(Place(bar.number) for bar in bars if any(note.sign for note in bar.notes))
    yield Property("accidental"), signed


def _signs(bars: list[FlatBar]) -> Iterator[Found]:
    """Hairpins, dynamics and marks."""
    begun: dict[str, set[int]] = defaultdict(set)
    marks: dict[str, set[int]] = defaultdict(set)
    levels: dict[int, set[int]] = defaultdict(set)
    for bar in bars:
        for one in bar.directions:
            if one.kind in ("crescendo", "diminuendo"):
                begun[one.kind].add(bar.number)
            elif one.kind == "text" and one.text.lower()[:4] in ("cres", "dim.", "dimi", "decr"):
                begun["words"].add(bar.number)
            elif one.kind == "dynamic" and one.text in _SOFT_TO_LOUD:
                levels[_SOFT_TO_LOUD.index(one.text)].add(bar.number)
        for note in bar.notes:
            for mark in note.marks:
                marks[mark].add(bar.number)
    for word, numbers in begun.items():
        if "words" not in begun:
            yield Property("hairpin", word=word), _where(bars, numbers)
    for word, numbers in marks.items():
        if word in ("staccato", "accent", "tenuto", "fermata"):
            yield Property("marked", word=word), _where(bars, numbers)
    if len(levels) > 1:
        yield Property("loudest"), _where(bars, levels[max(levels)])
        yield Property("quietest"), _where(bars, levels[min(levels)])
