"""Real chorales for questions on chords: the cadence and the chords that the setter reads there, note for note."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate
from random import Random

from stavewright.questions.melodies import Choirs, Extract, Melodies
from stavewright.questions.score_document import BracketDocument, ScoreDocument
from stavewright.questions.score_mirror import document_of
from stavewright.score.event import Event, Note
from stavewright.score.moments import Moment, moments
from stavewright.score.stave import Score, Stave
from stavewright.score.writing import with_accidentals
from stavewright.syllabus.scope import Scope
from stavewright.theory.cadence import cadence
from stavewright.theory.chord import ROMANS, ChordLabel, chord_notes
from stavewright.theory.key import Key
from stavewright.theory.pitch import Pitch

REAL_SHARE = 0.5
"""How often a real chorale is looked for before a passage is composed."""
_TRIES = 10
_BRACKETS = 2


@dataclass(frozen=True, slots=True)
class MarkedChorale:
    """A passage of a chorale as it is printed, with its brackets, its key, the chords meant there, and its credit."""

    passage: ScoreDocument
    key: Key
    labels: tuple[ChordLabel, ...]
    credit: str


def real_choirs(
    scope: Scope, rng: Random, melodies: Melodies | None, wanted: str | None = None
) -> Iterator[tuple[Extract, Key]]:
    """Closes of phrases of real chorales (with that cadence), so many as are tried, each with its key.

    Nothing where the source of melodies has none, and half the time, when a passage is to be composed.
    """
    if not isinstance(melodies, Choirs) or rng.random() >= REAL_SHARE:
        return
    for _ in range(_TRIES):
        found = melodies.choir(scope, rng, cadence=wanted)
        if found is None or found.key is None:
            return
        yield found, found.key


def chorale_cadence(scope: Scope, rng: Random, melodies: Melodies | None, name: str) -> MarkedChorale | None:
    """A phrase end with that cadence, a bracket over its last two chords; each of its moments is a plain chord.

    The bracket begins with the note of the soprano that sounds at the last chord but one: everything from there on is
    that chord, complete, and the last one.
    """
    for found, key in real_choirs(scope, rng, melodies, name):
        heard = moments(found.score)
        last = _plain(heard[-1].pitches, key)
        before = _plain(heard[-2].pitches, key)
        if last is None or before is None or cadence(before, last) != name:
            continue
        start = _began(heard, len(heard) - 2)
        under = [_plain(one.pitches, key) for one in heard[start:-1]]
        if any(one is None or (one.degree, one.inversion) != (before.degree, before.inversion) for one in under):
            continue
        ends = (heard[start].events[0].id, heard[-1].events[0].id)
        return _marked(found, key, (BracketDocument(*ends),), (before, last))
    return None


def chorale_chords(
    scope: Scope, rng: Random, melodies: Melodies | None, numerals: Sequence[str]
) -> MarkedChorale | None:
    """A passage with brackets A and B over two notes of the soprano, a plain triad of those numerals under each."""
    for found, key in real_choirs(scope, rng, melodies):
        places = [one for one in _held(found.score, key) if one[1].numeral in numerals]
        kinds = {label.text for _, label in places}
        if len(places) < _BRACKETS or len(kinds) < _BRACKETS:
            continue
        first, second = sorted(rng.sample(range(len(places)), _BRACKETS))
        if places[first][1] == places[second][1]:
            continue
        chosen = [places[first], places[second]]
        brackets = tuple(BracketDocument(id_, id_, letter) for (id_, _), letter in zip(chosen, "AB", strict=True))
        return _marked(found, key, brackets, tuple(label for _, label in chosen))
    return None


def _held(score: Score, key: Key) -> list[tuple[str, ChordLabel]]:
    """The notes of the soprano, on a beat and a beat long or more, under which one complete triad stands; its label."""
    heard = moments(score)
    time = score.staves[0].time
    beat = time.beat.ticks if time is not None else 1
    found: list[tuple[str, ChordLabel]] = []
    for place, moment in enumerate(heard):
        if _began(heard, place) != place:
            continue
        note = moment.events[0]
        if note.marks or note.ticks < beat or moment.start % beat:
            continue
        labels = {_plain(one.pitches, key) for one in heard[place:] if one.events[0] is note}
        label = labels.pop()
        if not labels and label is not None and not label.seventh:
            found.append((note.id, label))
    return found


def _began(heard: Sequence[Moment], place: int) -> int:
    """The moment at which the soprano's note of another moment was struck."""
    note = heard[place].events[0]
    while place and heard[place - 1].events[0] is note:
        place -= 1
    return place


def _plain(pitches: Sequence[Pitch], key: Key) -> ChordLabel | None:
    """The triad of the key, or its V7, that these notes are, all of its notes there and no other; None otherwise."""
    names = {pitch.name for pitch in pitches}
    bass = min(pitches, key=lambda pitch: pitch.midi).name
    every = [ChordLabel(degree) for degree in range(1, len(ROMANS) + 1)] + [ChordLabel(5, seventh=True)]
    for label in every:
        stack = chord_notes(key, label)
        if set(stack) == names:
            return ChordLabel(label.degree, stack.index(bass), label.seventh)
    return None


def _marked(
    found: Extract, key: Key, brackets: tuple[BracketDocument, ...], labels: tuple[ChordLabel, ...]
) -> MarkedChorale:
    plain = document_of(found.score)
    return MarkedChorale(ScoreDocument(plain.staves, plain.join, brackets), key, labels, found.credit)


def chorale_passage(scope: Scope, rng: Random, melodies: Melodies | None, most: int) -> Extract | None:
    """A passage of a chorale of at most so many notes, without its pauses, to be copied out.

    One that is too long begins in the middle of its first bar, where every voice has a new note there.
    """
    for found, _ in real_choirs(scope, rng, melodies):
        for score in (found.score, _from_the_middle(found.score)):
            if score is not None and sum(1 for _ in score.notes()) <= most:
                return replace(found, score=_without_marks(score))
    return None


def _from_the_middle(score: Score) -> Score | None:
    time = score.staves[0].time
    if time is None or time.middle is None:
        return None
    staves: list[Stave] = []
    for stave in score.staves:
        rows: list[tuple[Event, ...]] = []
        for voice in stave.bars[0].voices:
            starts = list(accumulate((event.ticks for event in voice), initial=0))
            if time.middle not in starts:
                return None
            rows.append(voice[starts.index(time.middle) :])
        first = replace(stave.bars[0], voices=tuple(rows), free=True)
        staves.append(replace(stave, bars=(first, *stave.bars[1:])))
    return with_accidentals(replace(score, staves=tuple(staves), anacrusis=True))


def _without_marks(score: Score) -> Score:
    staves = []
    for stave in score.staves:
        bars = tuple(
            replace(
                bar,
                voices=tuple(
                    tuple(replace(e, marks=()) if isinstance(e, Note) else e for e in voice) for voice in bar.voices
                ),
            )
            for bar in stave.bars
        )
        staves.append(replace(stave, bars=bars))
    return replace(score, staves=tuple(staves))
