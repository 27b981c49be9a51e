"""Which extracts a grade may use, and one of them chosen and written out in a key and clef of the grade."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from random import Random
from typing import Final

from stavewright.questions.melodies import Extract
from stavewright.score.stave import Score
from stavewright.syllabus.scope import Scope
from stavewright.theory.duration import VALUES
from stavewright.theory.key import Key, key_of
from stavewright.theory.metre import TimeSignature
from stavewright.theory.pitch import STEPS
from stavewright.tunes.extract import Passage
from stavewright.tunes.index import Entry
from stavewright.tunes.setting_out import letters_to, set_out

__all__ = ["Wanted", "choose", "fitting", "printed_time"]

_TRIES: Final = 40
_SIGN_ALTERS: Final = {"double-sharp": 2, "flat-flat": -2}


@dataclass(frozen=True, slots=True)
class Wanted:
    """What a question asks of an extract."""

    scope: Scope
    bars: int
    clef: str | None
    key: Key | None


def printed_time(text: str, scope: Scope) -> TimeSignature | None:
    """A source's time signature as the grade prints it: C as 4/4 where only that is known; None outside the grade."""
    time = TimeSignature.parse(text)
    known = scope.time_signatures
    return time if time in known else time.plain if time.plain in known else None


def fitting(entries: Iterable[Entry], times: Sequence[str], scope: Scope, bars: int) -> list[Entry]:
    """The entries of so many bars that use only what the grade knows, in their order."""
    allowed = {place for place, text in enumerate(times) if printed_time(text, scope) is not None}
    values = sum(1 << VALUES.index(value) for value in scope.values)
    tuplets = sum(1 << count for count in scope.tuplets)
    return [
        one
        for one in entries
        if one.bars == bars
        and one.time in allowed
        and not one.values & ~values
        and one.dots <= scope.dots
        and not one.tuplets & ~tuplets
        and (scope.anacrusis or not one.pick_up)
    ]


def choose(
    pool: Sequence[Entry],
    times: Sequence[str],
    wanted: Wanted,
    rng: Random,
    fetch: Callable[[Entry], tuple[Passage, str, str] | None],
) -> Extract | None:
    """One extract of a pool in a wanted or drawn key and clef, or None when none of those tried fits.

    ``fetch`` gives the passage of an entry, its credit and its title, or None when the source no longer holds it.
    """
    if not pool:
        return None
    scope = wanted.scope
    for _ in range(_TRIES):
        key = wanted.key or rng.choice(scope.keys)
        clef = wanted.clef or rng.choice(scope.clefs)
        entry = rng.choice(pool)
        time = printed_time(times[entry.time], scope)
        if entry.minor != key.is_minor or time is None or not _fits(entry, key, clef, scope):
            continue
        found = fetch(entry)
        if found is None:
            continue
        passage, credit, title = found
        score = set_out(passage, key, clef, scope.range_of(clef), time, numbered=wanted.bars > 4)
        if score is not None and _printable(score, scope):
            moved = passage.key != key
            return Extract(score, key, f"{credit}; transposed" if moved else credit, title)
    return None


def _fits(entry: Entry, key: Key, clef: str, scope: Scope) -> bool:
    if clef not in scope.ranges:
        return False
    low, high = scope.range_of(clef)
    tonic = key_of(entry.fifths, "minor" if entry.minor else "major").tonic
    places = STEPS.index(tonic.step), STEPS.index(key.tonic.step)
    return letters_to(entry.low, entry.high, *places, (low.diatonic, high.diatonic)) is not None


def _printable(score: Score, scope: Scope) -> bool:
    """Whether every printed sign is one the grade knows."""
    return all(_SIGN_ALTERS.get(note.accidental or "", 0) in (0, *scope.alters) for note in score.notes())
