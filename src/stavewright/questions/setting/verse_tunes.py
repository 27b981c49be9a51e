"""A verse, a voice and a key for a melody, and one tune that would do: up and down the tonic chord, home by step."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise
from random import Random

from stavewright.questions.score_document import ScoreDocument
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.picking import pick
from stavewright.questions.setting.verse_rhythms import VerseRhythm, fitting, pick_verse
from stavewright.score.event import Event, Note, Rest
from stavewright.score.stave import Bar, Score, Stave
from stavewright.syllabus.scope import Scope
from stavewright.theory.key import Key
from stavewright.theory.pitch import Pitch
from stavewright.theory.voice import VOICES, Voice

_MOST_SIGNS = 4
"""A song is asked in keys of so many sharps or flats at most: beyond, the signs are what is asked, not the song."""
_WAVE = (0, 2, 4, 2)


@dataclass(frozen=True, slots=True)
class VerseTune:
    """What is asked, and a tune that would do."""

    rhythm: VerseRhythm
    key: Key
    voice: Voice
    clef: str
    tune: ScoreDocument


def keys_for(scope: Scope) -> list[Key]:
    """The keys in which a song is asked."""
    return [key for key in scope.keys if abs(key.fifths) <= _MOST_SIGNS]


def voices_for(scope: Scope) -> list[tuple[Voice, str]]:
    """The voices that read one clef of the scope, each with it."""
    return [(one, one.clefs[0]) for one in VOICES.values() if len(one.clefs) == 1 and one.clefs[0] in scope.clefs]


def count_tunes(scope: Scope) -> int:
    """How many different songs can be asked."""
    return len(fitting(scope.times)) * len(keys_for(scope)) * len(voices_for(scope))


def pick_tune(scope: Scope, rng: Random) -> VerseTune | None:
    """A verse in a time, a key and a voice of the scope, and a tune for it; None where the scope has none."""
    found, keys, voices = pick_verse(scope, rng), keys_for(scope), voices_for(scope)
    if found is None or not keys or not voices:
        return None
    key = pick(rng, keys)
    voice, clef = rng.choice(voices)
    return VerseTune(found, key, voice, clef, _tune(found, key, voice, clef))


def _tune(found: VerseRhythm, key: Key, voice: Voice, clef: str) -> ScoreDocument:
    first, second = (len(line) for line in found.verse.syllables)
    steps = [*(_WAVE * first)[: first - 1], 1, *(_WAVE * second)[2:second], 1, 0]
    octave = next(n for n in range(1, 7) if Pitch(key.tonic.step, key.tonic.alter, n).midi >= voice.low.midi)
    tonic = Pitch(key.tonic.step, 0, octave).diatonic
    notes = iter([Pitch.from_diatonic(tonic + step) for step in steps])
    ends = [0, *found.bar_lines, len(found.row)]
    bars: list[Bar] = []
    for start, end in pairwise(ends):
        row: list[Event] = []
        for value in found.row[start:end]:
            if value.rest:
                row.append(Rest(value.duration))
                continue
            place = next(notes)
            row.append(Note(Pitch(place.step, key.alter_of(place.step), place.octave), value.duration, beam=value.beam))
        bars.append(Bar((tuple(row),), free=sum(event.ticks for event in row) != found.time.ticks))
    upbeat = len(bars) > 1 and sum(event.ticks for event in bars[0].events) < found.time.ticks
    stave = Stave(clef, tuple(bars), key.fifths or None, found.time)
    return document_of(Score((stave,), anacrusis=upbeat))
