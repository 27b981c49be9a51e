"""Naming the interval of two notes: every accepted name, the slips pupils make, and the two methods of working."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from stavewright.questions.documents import Answer, Slip, Step
from stavewright.questions.kind import answer, slip
from stavewright.questions.reading import read_words
from stavewright.questions.values import Value
from stavewright.theory.errors import UnknownIntervalError
from stavewright.theory.interval import Interval, between, of_size, ordinal
from stavewright.theory.pitch import STEPS, NoteName, Pitch
from stavewright.theory.scale import scale_names

METHODS = ("usual", "by semitones")
_USUAL_OF_SIZE = {
    0: "P1", 1: "m2", 2: "M2", 3: "m3", 4: "M3", 5: "P4", 6: "A4", 7: "P5", 8: "m6", 9: "M6", 10: "m7", 11: "M7",
    12: "P8",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Misread:
    """Two notes as a pupil misreads them, why, and what to say to the pupil."""

    name: str
    first: Pitch
    second: Pitch
    remedy: str
    steady: bool = False


def lower_first(first: Pitch, second: Pitch) -> tuple[Pitch, Pitch]:
    """The two notes, the one written lower first (of two on one line, the one that sounds lower)."""
    return (first, second) if (first.diatonic, first.midi) <= (second.diatonic, second.midi) else (second, first)


def interval_answers(first: Pitch, second: Pitch) -> tuple[Answer, ...]:
    """The usual name of an interval and every other name that a marker takes, each with its reason."""
    interval = between(first, second)
    low, high = lower_first(first, second)
    usual = (
        f"From {low.name.text} up to {high.name.text} is {_an(interval.number_text)} by its letters and "
        f"{semitones_text(interval.semitones)}: {_an(interval.text)}."
    )
    found = [answer(Value(words=interval.text), interval.text, usual)]
    for name in interval.names[1:]:
        found.append(answer(Value(words=name), name, f"Another name of the {interval.text}."))
    if interval.text in ("perfect octave", "perfect unison"):
        short = interval.number_text
        found.append(answer(Value(words=short), short, "With nothing said of its quality it is perfect."))
    if interval.short == "P15":
        for name in ("double octave", "two octaves"):
            found.append(answer(Value(words=name), name, "Two octaves make a perfect 15th."))
    if interval.short in ("A4", "d5"):
        both = f"{interval.text}, tritone"
        found.append(answer(Value(words=both), both, "Tritone may be added, but number and quality must be there."))
    return tuple(found)


def interval_slips(first: Pitch, second: Pitch, misread: Sequence[Misread]) -> tuple[Slip, ...]:
    """The wrong names that known slips give to two notes: first the rules of the kind, then plain misreadings."""
    interval = between(first, second)
    low, _ = lower_first(first, second)
    found: list[Slip] = []

    def add(name: str, wrong: Interval | None, remedy: str, *, steady: bool = False) -> None:
        if wrong is not None and wrong != interval:
            found.append(slip(name, Value(words=wrong.text), wrong.text, remedy, steady=steady))

    add(
        "quality by the upper note",
        _named(interval.inversion.quality, interval.number),
        f"Use the major scale of the lower note, {low.name.text}, not of the upper one.",
    )
    add(
        "counted semitones only",
        _by_size(interval),
        "Count the letters first: they give the number. Then the semitones tell its quality.",
    )
    if interval.is_compound:
        add(
            "took eight off",
            nearest(interval.quality, interval.number - 1),
            "Take seven off the number of a compound interval: a 10th is an octave and a 3rd.",
        )
        add("octave left out", interval.simple, "It is wider than an octave: say compound, or count on past eight.")
    else:
        add(
            "counted the gap",
            nearest(interval.quality, interval.number - 1),
            "Count the letter you start on as one, and the letter you end on too.",
        )
    for one in misread:
        add(one.name, _maybe(one.first, one.second), one.remedy, steady=one.steady)
    return tuple(found)


def interval_neighbours(first: Pitch, second: Pitch) -> tuple[Value, ...]:
    """Names near the right one: its number with other qualities, and its quality or the turned one a number away."""
    interval = between(first, second)
    near = [_named(quality, interval.number) for quality in "PMmAd"]
    near += [nearest(interval.quality, interval.number + step) for step in (1, -1)]
    near += [nearest(interval.inversion.quality, interval.number + step) for step in (1, -1)]
    return tuple(Value(words=one.text) for one in near if one is not None and one != interval)


def split_name(value: Value) -> tuple[str, str]:
    """The number and the quality that a written name says, for gated marking.

    >>> split_name(Value(words="compound major third")), split_name(Value(words="6th"))
    (('10', 'M'), ('6', ''))
    """
    words = read_words(value.words or "")
    try:
        interval = Interval.parse(words.removesuffix(" tritone"))
    except UnknownIntervalError:
        number = re.search(r"\b(\d{1,2})(st|nd|rd|th)?\b", words)
        if number is None:
            return "", ""
        wide = 7 if "compound" in words and int(number[1]) <= 8 else 0
        return str(int(number[1]) + wide), ""
    return str(interval.number), interval.quality


def interval_work(first: Pitch, second: Pitch, ids: tuple[str, ...], method: str) -> tuple[Step, ...]:
    """The worked name of an interval, by the major scale of the lower note or by semitones."""
    interval = between(first, second)
    low, high = lower_first(first, second)
    simple = interval.simple
    top = high.shifted(-((interval.number - simple.number) // 7))
    steps = [_number_step(low, top, simple, ids)]
    if interval.is_compound:
        steps.insert(
            0,
            Step(
                f"The notes are more than an octave apart: bring the upper one down an octave, to {top.name.text}.",
                ids,
                f"{interval.number} - 7 = {simple.number}",
            ),
        )
    steps += _by_semitones(low, top, simple) if method == "by semitones" else _by_scale(low, top, simple)
    if interval.is_compound:
        back = f"Put the octave back: a compound {simple.text}, {_an(interval.text)}."
        steps.append(Step(f"{back} Check: {simple.number} and 7 make {interval.number}.", (), interval.short))
    else:
        steps.append(_check_step(low, simple, method))
    return tuple(steps)


def _number_step(low: Pitch, top: Pitch, simple: Interval, ids: tuple[str, ...]) -> Step:
    letters = [STEPS[(low.diatonic + n) % 7] for n in range(simple.number)]
    if simple.number == 1:
        return Step(f"Both notes have the letter {low.step}: the number is a unison.", ids, f"{low.step} = 1")
    return Step(
        f"Count the letters from {low.step} up to {top.step}, both ends too: {', '.join(letters)}. "
        f"That makes {simple.number}, {_an(simple.number_text)}.",
        ids,
        f"{' '.join(letters)} = {simple.number}",
    )


def _by_scale(low: Pitch, top: Pitch, simple: Interval) -> list[Step]:
    start, steps = low, []
    end = top
    if _too_far(low.name):
        start, end = low.altered(-low.alter), top.altered(-low.alter)
        way = "lower" if low.alter > 0 else "raise"
        steps.append(
            Step(
                f"{low.name.text} major has too many signs, so {way} both notes alike: "
                f"{start.name.text} and {end.name.text}.",
                (),
                f"{start.name.short} {end.name.short}",
            )
        )
    home = scale_names(start.name, "major")[simple.number - 1]
    kept = of_size(simple.steps, simple.semitones - (end.alter - home.alter))
    steps.append(
        Step(
            f"In {start.name.text} major the {ordinal(simple.number)} note is {home.text}, {_an(kept.text)}.",
            (),
            f"{start.name.short} major: {home.short}",
        )
    )
    apart = end.alter - home.alter
    if apart:
        way = "higher" if apart > 0 else "lower"
        steps.append(
            Step(
                f"Here it is {end.name.text}, {semitones_text(abs(apart))} {way}: {_an(simple.text)}.", (), simple.short
            )
        )
    else:
        steps.append(Step(f"Here it is that very note: {_an(simple.text)}.", (), simple.short))
    return steps


def _by_semitones(low: Pitch, top: Pitch, simple: Interval) -> list[Step]:
    home = nearest("M", simple.number) or simple
    steps = [
        Step(
            f"Count the semitones from {low.name.text} up to {top.name.text}: {semitones_text(simple.semitones)}.",
            (),
            str(simple.semitones),
        )
    ]
    apart = simple.semitones - home.semitones
    if apart:
        more = "more" if apart > 0 else "fewer"
        said = f"{_an(home.text).capitalize()} has {semitones_text(home.semitones)}; this has {abs(apart)} {more}"
    else:
        said = f"{_an(home.text).capitalize()} has {semitones_text(home.semitones)}, just as many"
    steps.append(Step(f"{said}: {_an(simple.text)}.", (), simple.short))
    return steps


def _check_step(low: Pitch, simple: Interval, method: str) -> Step:
    if method == "by semitones" and not _too_far(low.name):
        home = scale_names(low.name, "major")[simple.number - 1]
        scale = f"{low.name.text} major"
        return Step(f"Check by the scale: note {simple.number} of {scale} is {home.text}.", (), home.short)
    count = simple.semitones
    return Step(f"Check: {_an(simple.text)} has {semitones_text(count)}; count them.", (), str(count))


def _too_far(name: NoteName) -> bool:
    return abs(name.fifths) > 7


def _an(words: str) -> str:
    vowel = words.startswith(("a", "o", "8", "11"))
    return f"{'an' if vowel else 'a'} {words}"


def semitones_text(count: int) -> str:
    """A count of semitones in words.

    >>> semitones_text(1), semitones_text(10)
    ('1 semitone', '10 semitones')
    """
    return f"{count} semitone{'' if count == 1 else 's'}"


def _named(quality: str, number: int) -> Interval | None:
    try:
        return Interval(quality, number)
    except UnknownIntervalError:
        return None


def _maybe(first: Pitch, second: Pitch) -> Interval | None:
    try:
        found = between(first, second)
    except UnknownIntervalError:
        return None
    return found if len(found.quality) <= 2 else None


def nearest(quality: str, number: int) -> Interval | None:
    """The interval of a number with a quality it can have, as near as may be to the one given."""
    if number < 1:
        return None
    swap = {"M": "P", "m": "P", "P": "M"}
    return _named(quality, number) or _named(swap.get(quality, quality), number)


def _by_size(interval: Interval) -> Interval | None:
    """The usual interval of so many semitones, compounds as their simple ones with the octave kept."""
    octaves = (interval.number - interval.simple.number) // 7
    usual = Interval.parse(_USUAL_OF_SIZE.get(interval.simple.semitones, "A8"))
    return _named(usual.quality, usual.number + 7 * octaves)
