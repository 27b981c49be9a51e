"""A rule report on a melody that goes on from a given opening, criterion by criterion, in words that point at bars.

Bars (2), range (1), key (1), cadence (2), grouping (1), shape (1), balance (1), signs for the player (1). Source of the
criteria: common practice for a tune of eight bars.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache
from itertools import pairwise, takewhile

from stavewright.questions.criterion import Criterion, criterion, none_of
from stavewright.questions.score_document import ScoreDocument
from stavewright.questions.score_mirror import score_of
from stavewright.questions.solving.line import Sung
from stavewright.questions.solving.rhythm_report import named_bars
from stavewright.questions.solving.written_melody import BARS, WrittenMelody, read_melody
from stavewright.score.event import Chord, Gap, Note, Rest
from stavewright.score.stave import Bar
from stavewright.theory.degree import degree_number, degree_of
from stavewright.theory.grouping import is_accepted
from stavewright.theory.instrument import Instrument
from stavewright.theory.interval import between
from stavewright.theory.key import Key
from stavewright.theory.pitch import Pitch

SIGNS = ("tempo", "dynamics", "phrasing")
_BAR_MARKS = 2
_OCTAVE, _SIXTH = 7, 5
_TONIC_CHORD = (1, 3, 5)
_APPROACH = (2, 4, 5, 6, 7)
"""Degrees that lead to a closing tonic: of the dominant chord, its seventh, or of the subdominant chord."""


@lru_cache(maxsize=512)
def melody_report(
    answer: ScoreDocument, opening: ScoreDocument, key: Key, player: Instrument, asked: tuple[str, ...] = SIGNS
) -> tuple[Criterion, ...]:
    """Judge a melody of eight bars, its opening included; six bars alone are read as what follows the opening.

    `asked` are the signs for the player that were asked for. Fewer than half of the bars written earn nothing.
    """
    melody = read_melody(answer, opening)
    given = score_of(opening).staves[0]
    criteria = (
        _bars(melody),
        _range(melody, given.clef, player),
        _key(melody, given.fifths, key),
        _cadence(melody, key),
        _grouping(melody),
        _shape(melody),
        _balance(melody),
        _signs(melody, asked),
    )
    written = sum(bool(bar.struck) for bar in melody.line if bar.number > melody.first)
    return none_of(criteria) if 2 * written < BARS - melody.first else criteria


def _bars(melody: WrittenMelody) -> Criterion:
    """Eight bars, each full, one note at a time, the opening as it was given."""
    bars = melody.bars
    found = [f"{f'bar {number}' if number else 'the upbeat'} is not as it was given" for number in melody.changed]
    if len(bars) != BARS:
        found += [f"it has {len(bars)} bars"] * abs(len(bars) - BARS)
    for number, bar in melody.later:
        if any(isinstance(event, Gap) for event in bar.events):
            found.append(f"bar {number} is not filled")
        elif len(bar.voices) > 1 or any(isinstance(event, Chord) for event in bar.events):
            found.append(f"bar {number} has more than one note at a time")
        elif not _full(number, bar, melody):
            upbeat = melody.pickup and number == BARS
            found.append(f"bar {number} does not {'leave out the upbeat' if upbeat else 'add up'}")
    repaid = ", the last without what the upbeat took" if melody.pickup else ""
    return criterion(
        "bars",
        _BAR_MARKS,
        len(found),
        f"Eight bars, each adding up to {melody.time.text}{repaid}, the opening left as it is; a fault loses half.",
        "; ".join(dict.fromkeys(found)) or "all eight bars add up",
    )


def _full(number: int, bar: Bar, melody: WrittenMelody) -> bool:
    if len(bar.events) == 1 and isinstance(bar.events[0], Rest) and bar.events[0].whole_bar:
        return True
    return sum(event.ticks for event in bar.events) == melody.wanted(number)


def _range(melody: WrittenMelody, clef: str, player: Instrument) -> Criterion:
    """Every note can be played, under the clef that was given."""
    why = f"every note suits the {player.name}"
    low, high = (None, None) if player.limits is None else (player.limits.low, player.limits.high)
    for note in melody.notes:
        here = f"bar {note.bar}: {note.pitch.name.text}"
        if low is not None and player.sounding(note.pitch).midi < low.midi:
            why = f"{here} is too low for the {player.name}"
            break
        if high is not None and player.sounding(note.pitch).midi > high.midi:
            why = f"{here} is too high for the {player.name}"
            break
    if melody.stave.clef != clef:
        why = f"the clef is not the {clef} clef that was given"
    fits = why.startswith("every")
    return criterion("range", 1, int(not fits), f"Every note can be played on the {player.name}, in its clef.", why)


def _key(melody: WrittenMelody, fifths: int | None, key: Key) -> Criterion:
    """The notes belong to the key; a foreign note is reached and left by step."""
    why = f"it stays in {key.text}"
    notes = melody.notes
    for place, note in enumerate(notes):
        near = [other.pitch for other in (*notes[max(0, place - 1) : place], *notes[place + 1 : place + 2])]
        if note.bar > melody.first and degree_number(note.pitch, key) is None and not _passing(note.pitch, near):
            why = f"bar {note.bar}: {note.pitch.name.text} does not belong to {key.text}"
            break
    lowered = _unraised(notes, key)
    if why.startswith("it stays") and lowered is not None:
        why = f"bar {lowered.bar}: the leading note {key.leading_note.text} is not raised"
    if melody.stave.fifths not in (None, fifths):
        why = "the key signature is not the one given"
    fits = why.startswith("it stays")
    return criterion("key", 1, int(not fits), f"The notes belong to {key.text}; any other is left by step.", why)


def _passing(pitch: Pitch, near: Sequence[Pitch]) -> bool:
    return len(near) == 2 and all(abs(other.diatonic - pitch.diatonic) <= 1 for other in near)


def _unraised(notes: Sequence[Sung], key: Key) -> Sung | None:
    """The 7th of a minor key that rises to the last tonic without being raised."""
    if not key.is_minor or len(notes) < 2:
        return None
    seventh, last = notes[-2], notes[-1]
    rises = last.pitch.diatonic - seventh.pitch.diatonic == 1
    degree = degree_of(seventh.pitch, key)
    return seventh if rises and degree.number == 7 and degree.alter == 0 else None


def _cadence(melody: WrittenMelody, key: Key) -> Criterion:
    """The last note is the tonic, long and on a strong beat (or there again); a note that leads there comes before."""
    earns = f"It ends on {key.tonic.text}, held, on a strong beat (half), from a note that leads there (half)."
    notes = melody.notes
    end = len(melody.bars)
    if not notes or (notes[-1].bar != end and not melody.line[-1].notes):
        return criterion("cadence", 2, 2, earns, f"bar {end} has no closing note")
    last = notes[-1]
    home = list(takewhile(lambda note: note.bar == last.bar and note.pitch.name == last.pitch.name, reversed(notes)))
    strong = {start for start, _ in melody.time.spans()} if melody.time.kind == "irregular" else {0, melody.time.middle}
    faults: list[str] = []
    if last.pitch.name != key.tonic:
        faults.append(f"it ends on {last.pitch.name.text}, not on {key.tonic.text}")
    elif sum(note.sounding for note in home) < melody.time.beat.ticks:
        faults.append("the last note is shorter than a beat")
    elif not any(note.begin in strong for note in home):
        faults.append("the last note comes on a weak beat")
    before = _leading(notes, key)
    if before is None:
        faults.append("no note of the dominant or subdominant chord leads to it")
    elif not faults:
        return criterion("cadence", 2, 0, earns, f"{before.pitch.name.text} leads to the closing {key.tonic.text}")
    return criterion("cadence", 2, len(faults), earns, "; ".join(faults))


def _leading(notes: Sequence[Sung], key: Key) -> Sung | None:
    """The note that leads to the end: the last other one, or the last before a bar of the tonic chord alone."""
    last = notes[-1]
    closing = [note for note in notes if note.bar == last.bar]
    before = [note for note in notes if note.pitch.name != last.pitch.name][-1:]
    if all(degree_number(note.pitch, key) in _TONIC_CHORD for note in closing):
        before += [note for note in notes if note.bar < last.bar][-1:]
    return next((note for note in before if degree_number(note.pitch, key) in _APPROACH), None)


def _grouping(melody: WrittenMelody) -> Criterion:
    """Beams show the beats; an answer that writes no beam at all is not judged by them."""
    rows = {number: bar for number, bar in melody.later if _full(number, bar, melody)}
    drawn = any(_beam(event) is not None for bar in rows.values() for event in bar.events)
    wrong = [number for number, bar in rows.items() if drawn and not _beamed(bar, melody)]
    why = f"the beams of {named_bars(wrong)} hide the beat" if wrong else "the beams fit"
    return criterion("grouping", 1, int(bool(wrong)), "Beams show where the beats are.", why)


def _beam(event: object) -> int | None:
    return event.beam if isinstance(event, Note | Rest) else None


def _beamed(bar: Bar, melody: WrittenMelody) -> bool:
    timed = [event for event in bar.events if event.ticks]
    row = [(event.duration, isinstance(event, Rest)) for event in timed]
    groups = [_beam(event) for event in timed]
    return is_accepted(groups, row, melody.time).accepted


def _shape(melody: WrittenMelody) -> Criterion:
    """One climax; mostly steps; no leap hard to sing; a wide leap turns back, but for one between the halves."""
    earns = "It has one climax, moves mostly by step, and turns back after a wide leap."
    why = _misshapen(melody.notes, melody.first)
    return criterion("shape", 1, int(bool(why)), earns, why or "it rises to one climax and moves mostly by step")


def _misshapen(notes: Sequence[Sung], first: int) -> str:
    if not notes:
        return "there are no notes"
    top = max(note.pitch.midi for note in notes)
    peaks = [note for place, note in enumerate(notes) if note.pitch.midi == top and _fresh(notes, place)]
    if not _one_climax([note.bar for note in peaks]):
        return f"the highest note comes {len(peaks)} times, in {named_bars([note.bar for note in peaks])}"
    new = [(a, b) for a, b in pairwise(notes) if b.bar > first]
    for a, b in new:
        size = between(a.pitch, b.pitch)
        if abs(b.pitch.diatonic - a.pitch.diatonic) > _OCTAVE:
            return f"bar {b.bar}: the leap to {b.pitch.name.text} is wider than an octave"
        if size.quality.startswith("A") and size.number > 1:
            return f"bar {b.bar}: an {size.text} to {b.pitch.name.text} is hard to sing"
    longest = max((note.sounding for note in notes if note.bar == BARS // 2), default=0)
    for (a, b), (_, c) in pairwise(new):
        leap, after = b.pitch.diatonic - a.pitch.diatonic, c.pitch.diatonic - b.pitch.diatonic
        breath = a.bar == BARS // 2 and (b.bar > a.bar or a.sounding == longest)
        if abs(leap) >= _SIXTH and not breath and (leap * after > 0 or abs(after) >= _SIXTH):
            return f"bar {b.bar}: the leap to {b.pitch.name.text} is not turned back"
    steps = sum(abs(b.pitch.diatonic - a.pitch.diatonic) <= 1 for a, b in new)
    return "" if 2 * steps >= len(new) else "it leaps more often than it moves by step"


def _one_climax(bars: Sequence[int]) -> bool:
    """Whether the highest note comes in one bar or two that follow each other, or again where the second half does.

    A tune whose second half begins like its first comes to the same height again: that is the same climax.

    >>> _one_climax([6]), _one_climax([3, 4, 4]), _one_climax([2, 6]), _one_climax([3, 6])
    (True, True, True, False)
    """
    return max(bars) - min(bars) <= 1 or ({*bars} == {min(bars), min(bars) + BARS // 2})


def _fresh(notes: Sequence[Sung], place: int) -> bool:
    """Whether a note is not just the one before it again."""
    return place == 0 or notes[place - 1].pitch != notes[place].pitch


def _rhythm(bar: Bar) -> list[tuple[object, ...]]:
    return [
        (event.duration.type, event.duration.dots, event.duration.tuplet, isinstance(event, Note))
        for event in bar.events
        if event.ticks
    ]


def _balance(melody: WrittenMelody) -> Criterion:
    """A later bar takes up the rhythm of the opening, and something new comes as well."""
    earns = "A later bar takes up the rhythm of the opening, and not every bar is a copy of it."
    given = [_rhythm(bar) for bar in melody.bars[: melody.first]]
    taken = next((number for number, bar in melody.later if _rhythm(bar) in given), None)
    if taken is None:
        return criterion("balance", 1, 1, earns, "no later bar has a rhythm of the opening")
    if all(_tune(bar) in [_tune(one) for one in melody.bars[: melody.first]] for _, bar in melody.later):
        return criterion("balance", 1, 1, earns, "it only copies the opening")
    like = given.index(_rhythm(melody.bars[taken - 1])) + 1
    return criterion("balance", 1, 0, earns, f"bar {taken} takes up the rhythm of bar {like}")


def _tune(bar: Bar) -> list[object]:
    return [*_rhythm(bar), *(event.pitch for event in bar.events if isinstance(event, Note))]


def _signs(melody: WrittenMelody, asked: Sequence[str]) -> Criterion:
    """The signs for the player that were asked for."""
    directions = [direction for bar in melody.stave.bars for direction in bar.directions]
    there = {
        "tempo": any(one.kind == "tempo" and one.text for one in directions),
        "dynamics": any(one.kind == "dynamic" for one in directions),
        "phrasing": any(isinstance(event, Note) and event.slur for bar in melody.stave.bars for event in bar.events),
    }
    missing = [f"no {_WORDS[one].removeprefix('a ')}" for one in asked if not there[one]]
    wanted = listed([_WORDS[one] for one in asked])
    why = f"it has {listed(missing) if missing else wanted}"
    return criterion("signs", 1, int(bool(missing)), f"The player is given {wanted}.", why)


_WORDS = {"tempo": "a tempo", "dynamics": "dynamics", "phrasing": "slurs"}


def listed(words: Sequence[str]) -> str:
    """Words in a row.

    >>> listed(["a tempo", "dynamics", "slurs"]), listed(["slurs"])
    ('a tempo, dynamics and slurs', 'slurs')
    """
    return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)
