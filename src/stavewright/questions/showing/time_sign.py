"""A time signature alone on an empty stave, and how it is said to a listener."""

from __future__ import annotations

from stavewright.questions.documents import StaveBlock
from stavewright.questions.score_mirror import document_of
from stavewright.questions.wording import Wording
from stavewright.score.event import Gap
from stavewright.score.stave import Bar, Score, Stave
from stavewright.theory.duration import Duration
from stavewright.theory.metre import TimeSignature


def time_score(time: TimeSignature) -> Score:
    """An empty stave that begins with the time signature.

    >>> time_score(TimeSignature(3, 4)).staves[0].time.text
    '3/4'
    """
    return Score((Stave("treble", (Bar(((Gap(Duration("crotchet"), "g1"),),), line="none", free=True),), time=time),))


def spoken_time(time: TimeSignature) -> str:
    """What is printed, without what it means: the two figures, or the letter and its stroke.

    >>> spoken_time(TimeSignature(6, 8)), spoken_time(TimeSignature.parse("cut C"))
    ('the figures 6/8, one above the other', 'a letter C with an upright stroke through it')
    """
    if time.symbol == "common":
        return "a letter C"
    if time.symbol == "cut":
        return "a letter C with an upright stroke through it"
    return f"the figures {time.figures}, one above the other"


def time_block(time: TimeSignature, wording: Wording) -> StaveBlock:
    """The picture of a time signature with its text alternative."""
    alt = f"A stave with the treble clef and a time signature, {spoken_time(time)}."
    return StaveBlock(document_of(time_score(time)), wording.say(alt))
