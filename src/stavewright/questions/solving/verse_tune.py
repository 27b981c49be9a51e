"""A melody for verse by rule: strong syllables on a plan of degrees, lighter ones on the way from one to the next."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from stavewright.questions.errors import BadDocument
from stavewright.questions.score_document import ScoreDocument
from stavewright.questions.score_mirror import document_of
from stavewright.questions.showing.sung import sung_score, with_words
from stavewright.questions.solving.verse_rhythm import Setting, settings
from stavewright.score.event import Event, Note, Rest
from stavewright.score.stave import Score
from stavewright.score.writing import with_accidentals
from stavewright.theory.key import Key
from stavewright.theory.metre import TimeSignature
from stavewright.theory.pitch import Pitch
from stavewright.theory.verse import Syllable, feet
from stavewright.theory.voice import Voice

Lines = tuple[tuple[Syllable, ...], ...]
MOST_FEET = 6
_HIGHEST, _STEPS = 5, 7
PLANS: tuple[tuple[dict[int, tuple[int, ...]], dict[int, tuple[int, ...]]], ...] = (
    (
        {1: (2,), 2: (0, 1), 3: (0, 2, 1), 4: (0, 2, 4, 1), 5: (0, 2, 4, 2, 1), 6: (0, 1, 2, 4, 2, 1)},
        {1: (0,), 2: (4, 0), 3: (4, 2, 0), 4: (4, 5, 2, 0), 5: (4, 5, 4, 2, 0), 6: (2, 4, 5, 4, 2, 0)},
    ),
    (
        {1: (4,), 2: (4, 1), 3: (4, 2, 1), 4: (4, 2, 3, 1), 5: (4, 5, 4, 3, 1), 6: (4, 5, 4, 2, 3, 1)},
        {1: (0,), 2: (2, 0), 3: (2, 4, 0), 4: (2, 4, 2, 0), 5: (2, 3, 4, 2, 0), 6: (2, 3, 4, 5, 2, 0)},
    ),
)
"""Steps above the tonic of the strong syllables, for a first and a last line of so many feet: a rise, and a fall.

A first line ends on the 2nd degree, of the dominant chord; a last one on the tonic.
"""


@dataclass(frozen=True, slots=True)
class Song:
    """What a melody is written for: the lines, their time, the key, the voice and its clef."""

    lines: Lines
    time: TimeSignature
    key: Key
    voice: Voice
    clef: str


def tunes(song: Song) -> Iterator[ScoreDocument]:
    """A rising and a falling melody to each rhythm the rule gives."""
    for setting in settings(song.lines, song.time):
        for plan in range(len(PLANS)):
            yield document_of(written(song, setting, degrees(song.lines, plan)))


def first_setting(song: Song) -> Setting:
    """The plainest rhythm for the lines in their time.

    Raises:
        BadDocument: there is none.
    """
    found = settings(song.lines, song.time)
    if not found:
        raise BadDocument(f"no plain rhythm in {song.time.text} fits these lines: choose another time")
    return found[0]


def degrees(lines: Lines, plan: int) -> list[int]:
    """Steps above the tonic, one for each syllable.

    >>> from stavewright.theory.verse import read_line
    >>> degrees((read_line("*Who has *seen the *wind?"), read_line("*Nei-ther *I nor *you:")), 0)
    [0, 1, 2, 2, 1, 4, 3, 2, 1, 0]
    """
    parted = [feet(line) for line in lines]
    first, last = PLANS[plan]
    chosen = [(first if place == 0 else last)[len(row)] for place, (_, row) in enumerate(parted)]
    found: list[int] = []
    for place, (upbeat, row) in enumerate(parted):
        strong = chosen[place]
        if found:
            found += _between(found[-1], strong[0], len(upbeat))
        else:
            found += [strong[0]] * len(upbeat)
        for number, foot in enumerate(row):
            ends = number == len(row) - 1
            found.append(strong[number])
            target = strong[number] if ends else strong[number + 1]
            found += _between(strong[number], target, len(foot) - 1)
    return [*found[:-2], 1, 0]


def _between(one: int, other: int, count: int) -> list[int]:
    """So many steps on the way from one to the other, evenly, nearer to where they come from."""
    way = other - one
    size = abs(way)
    return [one + (size * place // (count + 1)) * (1 if way > 0 else -1) for place in range(1, count + 1)]


def home(key: Key, voice: Voice) -> Pitch:
    """The tonic from which a sixth up lies best in a voice."""
    found: list[tuple[float, Pitch]] = []
    middle = (voice.low.midi + voice.high.midi) / 2
    for octave in range(1, 6):
        tonic = Pitch(key.tonic.step, key.tonic.alter, octave)
        top = Pitch.from_diatonic(tonic.diatonic + _HIGHEST)
        over = max(0, voice.low.midi - tonic.midi) + max(0, top.midi + 1 - voice.high.midi)
        found.append((100 * over + abs(tonic.midi + 4 - middle), tonic))
    return min(found, key=lambda one: one[0])[1]


def written(
    song: Song, setting: Setting, steps: Sequence[int], changed: Mapping[int, Pitch] | None = None, *, octaves: int = 0
) -> Score:
    """A melody as it is written: a rhythm, and steps above the tonic for its notes, some of them `changed`."""
    tonic = home(song.key, song.voice).diatonic + _STEPS * octaves
    pitches = [Pitch.from_diatonic(tonic + step) for step in steps]
    pitches = [Pitch(pitch.step, song.key.alter_of(pitch.step), pitch.octave) for pitch in pitches]
    for place, other in (changed or {}).items():
        pitches[place] = other
    given = iter(pitches)
    row: list[Event] = []
    for number, value in enumerate(setting.row, 1):
        if value.rest:
            row.append(Rest(value.duration, f"a{number}"))
        else:
            row.append(Note(next(given), value.duration, f"a{number}", beam=value.beam))
    words = with_words(row, song.lines)
    return with_accidentals(
        sung_score(words, setting.bar_lines, song.time, clef=song.clef, fifths=song.key.fifths)
    )
