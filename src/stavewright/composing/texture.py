"""Chords with some life in them: passing and neighbour notes above, broken chords in the left hand."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from random import Random
from typing import Final

from stavewright.composing.errors import CannotCompose
from stavewright.composing.voicing import Voicing, lead
from stavewright.score.event import Chord, Event, Note
from stavewright.score.stave import Bar, Score, Stave
from stavewright.score.writing import with_accidentals, with_ids
from stavewright.theory.chord import ChordLabel, chord_notes
from stavewright.theory.duration import Duration
from stavewright.theory.key import Key
from stavewright.theory.metre import TimeSignature
from stavewright.theory.part_writing import check_move
from stavewright.theory.pitch import Pitch

TEXTURES: Final = ("choir", "piano")
TIMES: Final = (TimeSignature(4, 4), TimeSignature(3, 4), TimeSignature(2, 4))
"""Metres these textures are written in: two chords a bar in 4/4, one in the others."""

_TRIES: Final = 6
_MINIM, _CROTCHET, _QUAVER = Duration("minim"), Duration("crotchet"), Duration("quaver")
_LONG: Final = {"4/4": Duration("semibreve"), "3/4": Duration("minim", 1), "2/4": _MINIM}
_LEFT_TOP: Final = Pitch("G", 0, 4).midi
_SPAN: Final = 16
"""Semitones that one hand reaches."""


@dataclass(frozen=True, slots=True)
class Textured:
    """A passage, and for each chord but the last the ids of the first and last event of the top voice over it."""

    score: Score
    spans: tuple[tuple[str, str], ...]


def textured(key: Key, labels: Sequence[ChordLabel], rng: Random, *, texture: str, time: TimeSignature) -> Textured:
    """Write chords as a short passage for choir, or for piano with a broken left hand, with notes between the chords.

    Passing notes fill thirds, neighbour notes turn about a note that stays; none makes a fault of part-writing, none
    makes another chord of I, II, IV and V, and none stands at the start of a chord. The last chord is held for a bar.

    Raises:
        CannotCompose: fewer than two chords, a texture or metre not in TEXTURES and TIMES, or chords that cannot follow
            each other.

    >>> row = [ChordLabel.parse(text) for text in "I IIb V I".split()]
    >>> made = textured(Key.parse("G"), row, Random(1), texture="piano", time=TIMES[0])
    >>> len(made.spans), made.score.join
    (3, 'brace')
    """
    if len(labels) < 2 or texture not in TEXTURES or time not in TIMES:
        raise CannotCompose(
            f"no {texture} texture of {len(labels)} chords in {time.text}",
            right=f"give two chords or more, {' or '.join(TEXTURES)}, and 4/4, 3/4 or 2/4",
        )
    for _ in range(_TRIES):
        chords = lead(key, labels, rng)
        if chords is not None and (texture == "choir" or all(one[1].midi <= _LEFT_TOP for one in chords)):
            return _written(key, chords, rng, texture, time)
    row = " ".join(label.text for label in labels)
    raise CannotCompose(f"{row} in {key.text} cannot be written for {texture}", right="choose other chords")


def _bars(count: int, time: TimeSignature) -> list[list[int]]:
    """Which chords stand in each bar: in 4/4 two by two, the last (and if need be the first) alone."""
    if time.text != "4/4":
        return [[index] for index in range(count)]
    first = [[0]] if count % 2 == 0 else []
    pairs = [[index, index + 1] for index in range(len(first), count - 1, 2)]
    return [*first, *pairs, [count - 1]]


def _written(key: Key, chords: Sequence[Voicing], rng: Random, texture: str, time: TimeSignature) -> Textured:
    upper: list[Bar] = []
    lower: list[Bar] = []
    tops: list[int] = []
    for bar in _bars(len(chords), time):
        voices: tuple[list[Event], ...] = ([], [], [], [])
        for beam, index in enumerate(bar, 1):
            value = _MINIM if len(bar) == 2 else _LONG[time.text]
            if index == len(chords) - 1:
                _close(voices, chords[index], value, texture)
                continue
            for part, row in enumerate(_parts(key, chords, index, value, rng, texture, beam)):
                voices[part].extend(row)
                if part == 0:
                    tops.append(len(row))
        line = "final" if bar[-1] == len(chords) - 1 else "single"
        if texture == "choir":
            upper.append(Bar((tuple(voices[0]), tuple(voices[1])), line=line))
            lower.append(Bar((tuple(voices[2]), tuple(voices[3])), line=line))
        else:
            upper.append(Bar((tuple(voices[0]),), line=line))
            lower.append(Bar((tuple(voices[3]),), line=line))
    staves = (Stave("treble", tuple(upper), key.fifths, time), Stave("bass", tuple(lower), key.fifths, time))
    score = with_ids(with_accidentals(Score(staves, join="bracket" if texture == "choir" else "brace")))
    ids = [event.id for bar in score.staves[0].bars for event in bar.voices[0]]
    spans: list[tuple[str, str]] = []
    at = 0
    for size in tops:
        spans.append((ids[at], ids[at + size - 1]))
        at += size
    return Textured(score, tuple(spans))


def _close(voices: tuple[list[Event], ...], chord: Voicing, value: Duration, texture: str) -> None:
    """The last chord, held."""
    soprano, alto, tenor, bass = chord
    if texture == "choir":
        for part, pitch in enumerate(chord):
            voices[part].append(Note(pitch, value, stem=("up", "down", "up", "down")[part]))
    elif tenor.midi - bass.midi <= _SPAN:
        voices[0].append(Chord((alto, soprano), value) if alto != soprano else Note(soprano, value))
        voices[3].append(Chord((bass, tenor), value) if bass != tenor else Note(bass, value))
    else:
        right = tuple(dict.fromkeys((tenor, alto, soprano)))
        voices[0].append(Chord(right, value))
        voices[3].append(Note(bass, value))


def _parts(
    key: Key, chords: Sequence[Voicing], index: int, value: Duration, rng: Random, texture: str, beam: int
) -> tuple[list[Event], ...]:
    chord, after = chords[index], chords[index + 1]
    top = _moving(key, chord, after, 0, value, rng, beam)
    if texture == "piano":
        return top, [], [], _broken(chord, value, beam)
    rows: list[list[Event]] = [top]
    busy = len({event.pitches for event in top if isinstance(event, Note)}) > 1
    for part in (1, 2, 3):
        lively = part < 3 and not busy and rng.random() < 0.5
        row = _moving(key, chord, after, part, value, rng, beam, plain=not lively)
        busy = busy or len(row) > 1
        rows.append(row)
    return tuple(rows)


def _moving(
    key: Key,
    chord: Voicing,
    after: Voicing,
    part: int,
    value: Duration,
    rng: Random,
    beam: int,
    *,
    plain: bool = False,
) -> list[Event]:
    """One voice over one chord: a note between it and the next, or the note again; the lower voices may just hold."""
    here, there = chord[part], after[part]
    halves = _halves(value)
    stem = ("up", "down", "up", "down")[part]
    between = None if plain else _between(key, chord, after, part)
    if between is not None:
        return [Note(here, halves[0], stem=stem), Note(between, halves[1], stem=stem)]
    turn = None if plain or here != there or part else _neighbour(key, chord, rng)
    if turn is not None and value == _MINIM:
        quavers = [Note(pitch, _QUAVER, stem=stem, beam=beam) for pitch in (turn, here)]
        return [Note(here, _CROTCHET, stem=stem), *quavers]
    if part == 0:
        return [Note(here, length, stem=stem) for length in halves]
    return [Note(here, value, stem=stem)]


def _halves(value: Duration) -> tuple[Duration, Duration]:
    if value == _MINIM:
        return _CROTCHET, _CROTCHET
    return (_MINIM, _CROTCHET) if value.dots else (_MINIM, _MINIM)


def _between(key: Key, chord: Voicing, after: Voicing, part: int) -> Pitch | None:
    """The passing note that fills a third, where it brings no raised note into play and no fault of part-writing."""
    here, there = chord[part], after[part]
    if abs(there.diatonic - here.diatonic) != 2:
        return None
    bare = Pitch.from_diatonic((here.diatonic + there.diatonic) // 2)
    note = bare.altered(key.alter_of(bare.step))
    if key.is_minor and _unsteady(key, (here, note, there)):
        return None
    moved = (*chord[:part], note, *chord[part + 1 :])
    held = [pitch.midi for place, pitch in enumerate(chord) if place != part]
    clashes = note.midi in held or _another_chord(key, chord, note)
    return None if clashes or check_move(moved, after, 1, key) else note


def _another_chord(key: Key, chord: Voicing, note: Pitch) -> bool:
    """Whether a note makes another chord of I, II, IV and V together with the notes of this one."""
    own = {pitch.name for pitch in chord}
    others = (set(chord_notes(key, ChordLabel(degree))) for degree in (1, 2, 4, 5))
    return any(other != own and other <= own | {note.name} for other in others)


def _unsteady(key: Key, row: Sequence[Pitch]) -> bool:
    """Whether a row touches the 6th or 7th degree of a minor key, which have two heights."""
    return any((pitch.name.index - key.tonic.index) % 7 in (5, 6) for pitch in row)


def _neighbour(key: Key, chord: Voicing, rng: Random) -> Pitch | None:
    """The note next to a soprano that stays."""
    here = chord[0]
    bare = Pitch.from_diatonic(here.diatonic + rng.choice((1, 1, -1)))
    note = bare.altered(key.alter_of(bare.step))
    unfit = (key.is_minor and _unsteady(key, (here, note))) or note.midi <= chord[1].midi
    return None if unfit or _another_chord(key, chord, note) else note


def _broken(chord: Voicing, value: Duration, beam: int) -> list[Event]:
    """The left hand: bass, tenor and alto one after another."""
    _, alto, tenor, bass = chord
    if value.dots:
        return [Note(pitch, _CROTCHET) for pitch in (bass, tenor, alto)]
    beats = 2 if value == _MINIM else 4
    row: list[Event] = []
    for group in range(beats // 2):
        row += [Note(pitch, _QUAVER, beam=beam + group) for pitch in (bass, alto, tenor, alto)]
    return row
