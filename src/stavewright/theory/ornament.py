"""Ornaments: their names, and how each is written out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from stavewright.theory.duration import TICKS, Duration, Tuplet, of_ticks
from stavewright.theory.errors import OrnamentError
from stavewright.theory.key import signature_alter
from stavewright.theory.pitch import STEPS, Pitch, pitch_at

__all__ = [
    "ORNAMENTS",
    "ORNAMENT_NAMES",
    "Played",
    "Realisation",
    "neighbours",
    "parse_ornament",
    "realise",
    "recognise",
]

ORNAMENT_NAMES: Final = {
    "trill": ("trill", "shake"),
    "turn": ("turn", "gruppetto"),
    "inverted turn": ("inverted turn", "back turn"),
    "mordent": ("lower mordent", "mordent"),
    "upper mordent": ("upper mordent", "inverted mordent", "pralltriller", "short trill"),
    "acciaccatura": ("acciaccatura", "crushed note"),
    "appoggiatura": ("appoggiatura", "leaning note"),
}
"""Every name a marker takes for an ornament, the usual one first.

The sign with a stroke is the mordent (lower), without it the upper mordent; "mordent" alone is used for either, so a
question names the sign. Source: Gehrkens, Music Notation and Terminology (1914) §§65-75.
"""

ORNAMENTS: Final = tuple(ORNAMENT_NAMES)

_READ: Final = {name: kind for kind, names in ORNAMENT_NAMES.items() for name in names}
_DEMI: Final = TICKS["demisemiquaver"]
_TRIPLET: Final = Tuplet(3, 2)
_QUINTUPLET: Final = Tuplet(5, 4)


@dataclass(frozen=True, slots=True)
class Played:
    """One note of an ornament written out: its pitch and its value."""

    pitch: Pitch
    value: Duration


@dataclass(frozen=True, slots=True)
class Realisation:
    """One accepted way to write an ornament out, and what makes it right."""

    notes: tuple[Played, ...]
    reason: str


def parse_ornament(text: str) -> str:
    """Read the name of an ornament.

    Raises:
        OrnamentError: no such ornament.

    >>> parse_ornament("inverted mordent")
    'upper mordent'
    """
    kind = _READ.get(" ".join(text.lower().replace("-", " ").split()))
    if kind is None:
        raise OrnamentError(f"{text!r} is not an ornament", right=f"use one of {', '.join(ORNAMENTS)}")
    return kind


def neighbours(main: Pitch, fifths: int, above: int | None = None, below: int | None = None) -> tuple[Pitch, Pitch]:
    """Find the notes next above and below a note in a key signature, unless a sign above or below alters them.

    >>> [note.short for note in neighbours(Pitch("E", 0, 5), 1, below=1)]
    ['F#5', 'D#5']
    """
    over, under = main.diatonic + 1, main.diatonic - 1
    upper = signature_alter(fifths, STEPS[over % 7]) if above is None else above
    lower = signature_alter(fifths, STEPS[under % 7]) if below is None else below
    return pitch_at(over, upper), pitch_at(under, lower)


def realise(
    ornament: str,
    main: Pitch,
    value: Duration,
    fifths: int,
    *,
    above: int | None = None,
    below: int | None = None,
    grace: Pitch | None = None,
    after_note: bool = False,
    tied: bool = False,
) -> tuple[Realisation, ...]:
    """Write an ornament out on a note of a value, in a key signature: every accepted way, the usual one first.

    ``above`` and ``below`` are the alterations of signs written over and under the ornament; without a sign below,
    a lower note a semitone under the main note is accepted as well. ``grace`` is the small note of an acciaccatura or
    appoggiatura. ``after_note`` puts a turn between this note and the next. ``tied`` means that a tie leads on from
    the main note, so that an appoggiatura takes the whole of it.
    Source: Gehrkens, Music Notation and Terminology (1914) §§65-75, figures 40-52; trills and turns also Clementi,
    Introduction to the Art of Playing on the Piano Forte (1801).

    Raises:
        OrnamentError: no such ornament, a small note is missing, or the value is too short for it.

    >>> played = realise("mordent", Pitch("C", 0, 5), Duration("crotchet"), 0)[0]
    >>> [(note.pitch.short, note.value.text) for note in played.notes]
    [('C5', 'demisemiquaver'), ('B4', 'demisemiquaver'), ('C5', 'dotted quaver')]
    """
    kind = parse_ornament(ornament)
    if value.tuplet is not None:
        raise OrnamentError(f"a {kind} on a note of a {value.tuplet.name} is not written out here")
    if kind in ("acciaccatura", "appoggiatura"):
        if grace is None:
            raise OrnamentError(f"the small note of the {kind} is missing", right="give its pitch")
        ways = _crushed(grace, main, value) if kind == "acciaccatura" else _leaning(grace, main, value, tied=tied)
        found = tuple(ways)
    else:
        found = tuple(
            Realisation(way.notes, f"{way.reason}{note}")
            for upper, lower, note in _sides(main, fifths, above, below)
            for way in _ways(kind, main, upper, lower, value, after_note=after_note)
        )
    if not found:
        raise OrnamentError(f"a {value.text} is no length to write out a {kind} on", right="use a quaver or longer")
    return tuple({way.notes: way for way in reversed(found)}.values())[::-1]


def recognise(
    played: Sequence[Played],
    main: Pitch,
    value: Duration,
    fifths: int,
    *,
    above: int | None = None,
    below: int | None = None,
) -> tuple[str, ...]:
    """Find which ornament signs on a note would be written out as these notes: usually one, none if no sign fits.

    >>> way = realise("turn", Pitch("F", 0, 4), Duration("crotchet"), 0)[0]
    >>> recognise(way.notes, Pitch("F", 0, 4), Duration("crotchet"), 0)
    ('turn',)
    """
    wanted = tuple(played)
    answer = []
    for kind in ORNAMENTS[:5]:
        for after in (False, True) if "turn" in kind else (False,):
            ways = (
                way
                for upper, lower, _ in _sides(main, fifths, above, below)
                for way in _ways(kind, main, upper, lower, value, after_note=after)
            )
            if any(way.notes == wanted for way in ways):
                answer.append(kind)
                break
    return tuple(answer)


def _sides(main: Pitch, fifths: int, above: int | None, below: int | None) -> Iterator[tuple[Pitch, Pitch, str]]:
    upper, lower = neighbours(main, fifths, above, below)
    yield upper, lower, ""
    if below is None and main.midi - lower.midi == 2:
        yield upper, lower.altered(1), ", the lower note a semitone below"


def _ways(
    kind: str, main: Pitch, upper: Pitch, lower: Pitch, value: Duration, *, after_note: bool
) -> Iterator[Realisation]:
    if kind == "trill":
        yield from _trill(main, upper, lower, value)
    elif kind in ("mordent", "upper mordent"):
        yield from _mordent(main, lower if kind == "mordent" else upper, value)
    else:
        first, third = (upper, lower) if kind == "turn" else (lower, upper)
        turn = (first, main, third, main)
        yield from _turn_after(main, turn, value) if after_note else _turn(turn, value)


def _write(*notes: tuple[Pitch, int, Tuplet | None]) -> tuple[Played, ...] | None:
    """Pair pitches with values of so many ticks; in a tuplet, the ticks of the value as it is written."""
    played = []
    for pitch, ticks, tuplet in notes:
        plain = of_ticks(ticks) if ticks > 0 else None
        if plain is None:
            return None
        played.append(Played(pitch, Duration(plain.type, plain.dots, tuplet)))
    return tuple(played)


def _way(reason: str, *notes: tuple[Pitch, int, Tuplet | None]) -> Iterator[Realisation]:
    written = _write(*notes)
    if written is not None:
        yield Realisation(written, reason)


def _mordent(main: Pitch, other: Pitch, value: Duration) -> Iterator[Realisation]:
    short = value.ticks <= TICKS["crotchet"] * 3 // 2
    units = (_DEMI, 2 * _DEMI, _DEMI // 2) if short else (2 * _DEMI, _DEMI, 4 * _DEMI)
    for unit in units:
        rest = value.ticks - 2 * unit
        if rest >= unit:
            yield from _way(
                "two quick notes, then the main note", (main, unit, None), (other, unit, None), (main, rest, None)
            )


def _turn(turn: Sequence[Pitch], value: Duration) -> Iterator[Realisation]:
    if value.dots:
        third = value.ticks // 3
        yield from _way("three quick notes, then the main note", *_triplet(turn[:3], third), (turn[3], 2 * third, None))
        sixth = value.ticks // 6
        yield from _way("four notes", *((note, sixth, None) for note in turn[:3]), (turn[3], 3 * sixth, None))
        return
    quarter = value.ticks // 4
    yield from _way("four equal notes", *((note, quarter, None) for note in turn))
    yield from _way(
        "at a slower speed a quick triplet, then the main note",
        *_triplet(turn[:3], quarter),
        (turn[3], 3 * quarter, None),
    )


def _turn_after(main: Pitch, turn: Sequence[Pitch], value: Duration) -> Iterator[Realisation]:
    if value.dots:
        third = value.ticks // 3
        yield from _way(
            "after the note, with the main note on the dot",
            (main, third, None),
            *_triplet(turn[:3], third),
            (turn[3], third, None),
        )
        yield from _way(
            "after the note, on the dot", (main, 2 * third, None), *((note, third // 4, None) for note in turn)
        )
        return
    for part, reason in ((4, "after the note, in its last quarter"), (2, "after the note, in its second half")):
        quick = value.ticks // part
        yield from _way(reason, (main, value.ticks - quick, None), *((note, quick // 4, None) for note in turn))


def _triplet(notes: Sequence[Pitch], ticks: int) -> list[tuple[Pitch, int, Tuplet | None]]:
    return [(note, ticks // 2, _TRIPLET) for note in notes]


def _trill(main: Pitch, upper: Pitch, lower: Pitch, value: Duration) -> Iterator[Realisation]:
    count, over = divmod(value.ticks, _DEMI)
    if over or count < 4 or count % 4:
        return
    quick = [(note, _DEMI, None) for note in (main, upper) * (count // 2 - 2)]
    for close, reason in (
        ((main, upper, main, lower, main), ", closed with a turn"),
        ((main, upper) * 2 + (main,), ""),
    ):
        ending = [(note, _DEMI, _QUINTUPLET) for note in close]
        yield from _way(f"from the main note{reason}", *quick, *ending)
    turned = (upper, main) * (count // 2 - 1) + (lower, main)
    for notes, reason in ((turned, ", closed with a turn"), ((upper, main) * (count // 2), "")):
        if notes == turned and count < 8:
            continue  # four notes alone would be a turn
        yield from _way(f"from the note above{reason}", *((note, _DEMI, None) for note in notes))


def _crushed(grace: Pitch, main: Pitch, value: Duration) -> Iterator[Realisation]:
    for unit in (_DEMI, _DEMI // 2):
        yield from _way("crushed in as quickly as possible", (grace, unit, None), (main, value.ticks - unit, None))


def _leaning(grace: Pitch, main: Pitch, value: Duration, *, tied: bool) -> Iterator[Realisation]:
    if tied:
        yield from _way("it takes the whole of a note tied to the next", (grace, value.ticks, None))
        return
    part, reason = (3, "two thirds of a dotted note") if value.dots == 1 else (2, "half of the main note")
    rest = value.ticks // part
    yield from _way(f"it takes {reason}", (grace, value.ticks - rest, None), (main, rest, None))
