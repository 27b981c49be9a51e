"""Four voices laid out in short score (two staves) or open score (four), read from one and written in the other."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from stavewright.questions.errors import BadDocument
from stavewright.score.event import Event, Note, Rest
from stavewright.score.stave import Bar, Score, Stave
from stavewright.score.writing import with_accidentals, with_ids
from stavewright.theory.key import signature_alter
from stavewright.theory.pitch import Pitch
from stavewright.theory.voice import SATB, clef_in_score

STEMS = ("up", "down", "up", "down")
"""Stems of soprano, alto, tenor and bass where two voices share a stave. Source: common practice."""
_TENOR = SATB.index("tenor")

Part = tuple[tuple[Event, ...], ...]
"""One voice, bar by bar, its pitches as they sound."""


@dataclass(frozen=True, slots=True)
class Habits:
    """How voices are laid out: octaves by which the open tenor is written up, order of the voices, and their stems."""

    tenor_up: int = 1
    order: tuple[int, int, int, int] = (0, 1, 2, 3)
    stems: tuple[str, str, str, str] = STEMS


USUAL = Habits()


def parts_of(score: Score) -> tuple[Part, Part, Part, Part]:
    """The four voices of a short or open score as they sound: the tenor of an open score an octave lower.

    Source: `theory.voice` (in open score the tenor reads the treble clef and sounds an octave lower, common practice).

    Raises:
        BadDocument: the score has neither two staves of two voices nor four staves of one, or has chords.
    """
    staves = score.staves
    if len(staves) == 2 and all(len(bar.voices) == 2 for stave in staves for bar in stave.bars):
        rows = [tuple(bar.voices[voice] for bar in stave.bars) for stave in staves for voice in (0, 1)]
        down = 0
    elif len(staves) == 4 and all(len(bar.voices) == 1 for stave in staves for bar in stave.bars):
        rows = [tuple(bar.events for bar in stave.bars) for stave in staves]
        down = int(staves[_TENOR].clef == "treble")
    else:
        raise BadDocument("four voices need two staves of two voices each, or four staves of one")
    if not all(isinstance(event, Note | Rest) for row in rows for bar in row for event in bar):
        raise BadDocument("a voice has single notes and rests only")
    s, a, t, b = (_bare(row, -down if place == _TENOR else 0) for place, row in enumerate(rows))
    return s, a, t, b


def _bare(row: Sequence[Sequence[Event]], octaves: int) -> Part:
    return tuple(
        tuple(
            replace(event, pitch=event.pitch.shifted(octaves), accidental=None, stem=None, id="")
            if isinstance(event, Note)
            else replace(event, id="")
            for event in bar
        )
        for bar in row
    )


def laid_out(parts: Sequence[Part], to: str, like: Score, habits: Habits = USUAL) -> Score:
    """Four voices in "short" or "open" score, under the signatures and bar lines of another; events are named g1, g2...

    >>> from stavewright.score.stave import single
    >>> from stavewright.theory.duration import Duration
    >>> part = ((Note(Pitch("C", 0, 4), Duration("minim")),),)
    >>> made = laid_out((part,) * 4, "open", single("treble", part[0]))
    >>> [note.pitch.short for note in made.notes()], [stave.clef for stave in made.staves]
    (['C4', 'C4', 'C5', 'C4'], ['treble', 'treble', 'treble', 'bass'])
    """
    rows = [parts[place] for place in habits.order]
    first = like.staves[0]
    staves: list[Stave] = []
    if to == "open":
        for place, (name, row) in enumerate(zip(SATB, rows, strict=True)):
            up = habits.tenor_up if place == _TENOR else 0
            bars = tuple(
                Bar((_shifted(events, up),), line=old.line, free=old.free)
                for events, old in zip(row, first.bars, strict=True)
            )
            staves.append(Stave(clef_in_score(name, to), bars, first.fifths, first.time, name=name.capitalize()))
    else:
        for upper in (0, 2):
            pair = []
            for place in (upper, upper + 1):
                up = habits.tenor_up - 1 if place == _TENOR else 0
                pair.append([_stemmed(_shifted(events, up), habits.stems[place]) for events in rows[place]])
            bars = tuple(
                Bar((one, other), line=old.line, free=old.free)
                for one, other, old in zip(*pair, first.bars, strict=True)
            )
            staves.append(Stave(clef_in_score(SATB[upper], to), bars, first.fifths, first.time))
    return with_ids(with_accidentals(Score(tuple(staves), join="bracket")), "g")


def _shifted(events: Sequence[Event], octaves: int) -> tuple[Event, ...]:
    return tuple(replace(e, pitch=e.pitch.shifted(octaves)) if isinstance(e, Note) and octaves else e for e in events)


def _stemmed(events: Sequence[Event], stem: str) -> tuple[Event, ...]:
    return tuple(replace(event, stem=stem) if isinstance(event, Note) else event for event in events)


def moved(part: Part, letters: int, fifths: int) -> Part:
    """A voice so many letters higher or lower, its notes as the signature makes them."""
    return tuple(
        tuple(
            replace(event, pitch=_in_signature(event.pitch.diatonic + letters, fifths))
            if isinstance(event, Note)
            else event
            for event in bar
        )
        for bar in part
    )


def _in_signature(diatonic: int, fifths: int) -> Pitch:
    bare = Pitch.from_diatonic(diatonic)
    return bare.altered(signature_alter(fifths, bare.step))
