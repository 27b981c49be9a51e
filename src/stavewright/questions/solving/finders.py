"""Finding things in an extract: one rule for each property, from the notes alone."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from itertools import pairwise

from stavewright.questions.properties import Property
from stavewright.questions.solving.line import Sung, SungBar
from stavewright.questions.values import Place
from stavewright.score.event import Note, Rest
from stavewright.theory.interval import Interval, between, ordinal
from stavewright.theory.metre import TimeSignature

Line = tuple[SungBar, ...]
LOUDNESS = ("ppp", "pp", "p", "mp", "mf", "f", "ff", "fff")
_RUN = 4
_MOST_LETTERS = 3


def struck(line: Line) -> Iterator[Sung]:
    """Every note that is begun, in order."""
    for bar in line:
        yield from bar.struck


def neighbours(bar: SungBar) -> Iterator[tuple[Sung, Sung]]:
    """Two notes of a bar that follow one another with no rest between; a tie joins two into one."""
    for first, second in pairwise(bar.notes):
        if not second.held and not second.after_rest:
            yield first, second


def _bars(line: Line, holds: Callable[[SungBar], bool]) -> tuple[Place, ...]:
    return tuple(Place(bar.number) for bar in line if holds(bar))


def _extreme(notes: Iterable[Sung], measure: Callable[[Sung], int]) -> tuple[Place, ...]:
    measured = [(measure(note), note.place) for note in notes]
    best = max((size for size, _ in measured), default=0)
    return tuple(place for size, place in measured if size == best)


def highest(line: Line, _: Property) -> tuple[Place, ...]:
    """The highest notes, as they sound."""
    return _extreme(struck(line), lambda note: note.pitch.midi)


def lowest(line: Line, _: Property) -> tuple[Place, ...]:
    """The lowest notes, as they sound."""
    return _extreme(struck(line), lambda note: -note.pitch.midi)


def longest(line: Line, _: Property) -> tuple[Place, ...]:
    """The longest notes, tied notes counted as one."""
    return _extreme(struck(line), lambda note: note.sounding)


def shortest(line: Line, _: Property) -> tuple[Place, ...]:
    """The shortest notes, tied notes counted as one."""
    return _extreme(struck(line), lambda note: -note.sounding)


def rhythm_of(bar: SungBar) -> tuple[tuple[object, ...], ...]:
    """The rhythm of a bar: every note and rest with its value."""
    return tuple(
        (isinstance(event, Rest), event.duration) for event in bar.bar.events if isinstance(event, Rest) or event.ticks
    )


def numbered(line: Line, number: int) -> SungBar | None:
    """The bar with that printed number."""
    return next((bar for bar in line if bar.number == number), None)


def _like(line: Line, named: Property, same: Callable[[SungBar, SungBar], bool]) -> tuple[Place, ...]:
    model = numbered(line, named.bar)
    if model is None:
        return ()
    return _bars(line, lambda bar: bar.number != named.bar and same(model, bar))


def same_rhythm(line: Line, named: Property) -> tuple[Place, ...]:
    """The other bars with the rhythm of the named one."""
    return _like(line, named, lambda one, other: rhythm_of(one) == rhythm_of(other))


def same_notes(line: Line, named: Property) -> tuple[Place, ...]:
    """The other bars that repeat the named one, notes and rhythm."""
    return _like(line, named, lambda one, other: moved_by(one, other) == 0)


def sequence(line: Line, named: Property) -> tuple[Place, ...]:
    """The other bars that repeat the named one higher or lower, every note by the same number of steps."""
    return _like(line, named, lambda one, other: bool(moved_by(one, other)) and len(one.notes) >= _MOST_LETTERS)


def moved_by(one: SungBar, other: SungBar) -> int | None:
    """How many steps all notes of a bar have moved in the other (0: none); None where it is another pattern.

    An exact repeat has every note at its pitch; a sequence keeps the letters' distance, in the key.
    """
    if rhythm_of(one) != rhythm_of(other) or not one.notes:
        return None
    steps = {b.pitch.diatonic - a.pitch.diatonic for a, b in zip(one.notes, other.notes, strict=True)}
    if len(steps) != 1:
        return None
    (step,) = steps
    if step == 0 and any(a.pitch != b.pitch for a, b in zip(one.notes, other.notes, strict=True)):
        return None
    return step


def run(bar: SungBar, step: int) -> bool:
    """Whether a bar is four notes or more with no rest, every one a step up (1) or down (-1) from the one before."""
    if len(bar.notes) < _RUN or any(isinstance(event, Rest) for event in bar.bar.events):
        return False
    return all(b.pitch.diatonic - a.pitch.diatonic == step for a, b in pairwise(bar.notes))


def interval(line: Line, named: Property) -> tuple[Place, ...]:
    """The bars with two neighbours that make the named interval ("6th" by number only, or "minor 6th")."""
    return _bars(line, lambda bar: any(_is(between(a.pitch, b.pitch), named.word) for a, b in neighbours(bar)))


def _is(found: Interval, word: str) -> bool:
    return word in (*found.names, ordinal(found.number), f"{found.quality_text} {ordinal(found.number)}")


def leap(a: Sung, b: Sung) -> int:
    """How far two notes are apart, in steps."""
    return abs(a.pitch.diatonic - b.pitch.diatonic)


def largest_leap(line: Line, _: Property) -> tuple[Place, ...]:
    """The bars with the largest leap between two neighbours."""
    sizes = {bar.number: max((leap(a, b) for a, b in neighbours(bar)), default=0) for bar in line}
    most = max(sizes.values(), default=0)
    return tuple(Place(number) for number, size in sizes.items() if size == most)


def strength(time: TimeSignature, place: int) -> int:
    """How strong a place of the bar is: 4 its start, 3 its middle, 2 a beat, 1 a part of a beat, 0 less.

    Source: Open Music Theory, version 1, meter; Gehrkens, Music Notation and Terminology (1914) §100 (4/4).
    """
    place %= time.ticks
    if place == 0:
        return 4
    if place == time.middle and time.count == 4:
        return 3
    beats = time.spans()
    if any(place == start for start, _ in beats):
        return 2
    start, length = next((s, n) for s, n in reversed(beats) if s <= place)
    part = length // (3 if time.kind == "compound" else 2)
    return 1 if time.kind != "irregular" and (place - start) % part == 0 else 0


def syncopated(note: Sung, time: TimeSignature) -> bool:
    """Whether a note begins on a weaker place than one it is held through.

    Source: common practice (an accent is moved off its strong place by holding the note before it).
    """
    own = strength(time, note.begin)
    unit = time.beat.ticks // 12
    inside = range(note.begin + unit, note.begin + note.sounding, unit)
    return any(strength(time, place) > own for place in inside) and note.note.duration.tuplet is None


def syncopation(line: Line, _: Property) -> tuple[Place, ...]:
    """The bars in which a syncopated note begins."""
    return _bars(line, lambda bar: bar.time is not None and any(syncopated(note, bar.time) for note in bar.struck))


def tuplet(line: Line, named: Property) -> tuple[Place, ...]:
    """The bars with a group of so many in the time of another number."""
    return _bars(
        line,
        lambda bar: any(
            e.duration.tuplet is not None and e.duration.tuplet.actual == named.number for e in bar.bar.events
        ),
    )


def value(line: Line, named: Property) -> tuple[Place, ...]:
    """The bars with a note of the named value ("semiquaver", "dotted crotchet")."""
    return _bars(line, lambda bar: any(n.note.duration.text == named.word for n in bar.notes))


def dotted(bar: SungBar) -> bool:
    """Whether a bar has a dotted note."""
    return any(note.note.duration.dots for note in bar.notes)


def held_over(line: Line, _: Property) -> tuple[Place, ...]:
    """The bars that begin with a note tied to the bar before."""
    return _bars(line, lambda bar: bool(bar.notes) and bar.notes[0].held)


def accidental(line: Line, _: Property) -> tuple[Place, ...]:
    """The bars with a sign printed before a note."""
    return _bars(line, lambda bar: any(any(note.note.accidentals) for note in bar.notes))


def rest(line: Line, _: Property) -> tuple[Place, ...]:
    """The bars with a rest."""
    return _bars(line, lambda bar: any(isinstance(event, Rest) for event in bar.bar.events))


def hairpin(line: Line, named: Property) -> tuple[Place, ...]:
    """The bars in which the named hairpin ("crescendo" or "diminuendo") begins."""
    return _bars(line, lambda bar: any(one.kind == named.word for one in bar.bar.directions))


def loudness(bar: SungBar) -> list[int]:
    """The dynamic marks of a bar, as places in LOUDNESS."""
    return [LOUDNESS.index(d.text) for d in bar.bar.directions if d.kind == "dynamic" and d.text in LOUDNESS]


def loudest(line: Line, _: Property) -> tuple[Place, ...]:
    """The bars with the loudest dynamic mark."""
    most = max((mark for bar in line for mark in loudness(bar)), default=-1)
    return _bars(line, lambda bar: most in loudness(bar))


def quietest(line: Line, _: Property) -> tuple[Place, ...]:
    """The bars with the quietest dynamic mark."""
    least = min((mark for bar in line for mark in loudness(bar)), default=-1)
    return _bars(line, lambda bar: least in loudness(bar))


def marked(line: Line, named: Property) -> tuple[Place, ...]:
    """The bars with a note that has the named mark ("staccato", "fermata"...)."""
    return _bars(line, lambda bar: any(isinstance(n.note, Note) and named.word in n.note.marks for n in bar.notes))


FINDERS: dict[str, Callable[[Line, Property], tuple[Place, ...]]] = {
    "highest": highest,
    "lowest": lowest,
    "longest": longest,
    "shortest": shortest,
    "same-rhythm": same_rhythm,
    "same-notes": same_notes,
    "sequence": sequence,
    "run-up": lambda line, _: _bars(line, lambda bar: run(bar, 1)),
    "run-down": lambda line, _: _bars(line, lambda bar: run(bar, -1)),
    "interval": interval,
    "largest-leap": largest_leap,
    "syncopation": syncopation,
    "tuplet": tuplet,
    "value": value,
    "held-over": held_over,
    "accidental": accidental,
    "rest": rest,
    "hairpin": hairpin,
    "loudest": loudest,
    "quietest": quietest,
    "marked": marked,
}
"""Every property that can be looked for, with its rule: line and property to bars or notes."""
