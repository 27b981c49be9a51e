"""Showing an extract that questions are asked about: the picture, and the same in words for a listener."""

from __future__ import annotations

from stavewright.questions.documents import Block, StaveBlock, TextBlock
from stavewright.questions.score_document import ScoreDocument
from stavewright.questions.score_mirror import score_of
from stavewright.questions.wording import Wording
from stavewright.score.event import Chord, Event, Note, Rest
from stavewright.score.stave import Bar, Direction, Score, Stave
from stavewright.theory.accidental import sign_text
from stavewright.theory.key import signature_text

_LONGEST = 1900
_WORDS = {"da-capo": "D.C.", "dal-segno": "D.S."}


def extract_blocks(
    extract: ScoreDocument, wording: Wording, *, block: str = "extract", credit: str = ""
) -> tuple[Block, ...]:
    """The picture of the extract, and the line that names its source where there is one."""
    score = score_of(extract)
    shown = StaveBlock(extract, wording.say(spoken_extract(score)), id=block)
    return (shown, TextBlock(credit, id=f"{block}-credit" if block else "")) if credit else (shown,)


def credit_block(credit: str) -> tuple[TextBlock, ...]:
    """The line that names the source of music or words, where there is one.

    >>> credit_block(""), credit_block("A Poet")[0].id
    ((), 'credit')
    """
    return (TextBlock(credit, id="credit"),) if credit else ()


def own_blocks(melody: ScoreDocument, wording: Wording, *, credit: str = "") -> tuple[Block, ...]:
    """The picture of a melody that belongs to one question alone, and the line that names its source."""
    return extract_blocks(melody, wording, block="", credit=credit)


def spoken_extract(score: Score) -> str:
    """What is printed, bar by bar, without naming any key, interval or pattern; a value is said when it changes.

    >>> from stavewright.theory.duration import Duration
    >>> from stavewright.theory.pitch import Pitch
    >>> bar = Bar(((Note(Pitch("D", 0, 5), Duration("minim"), tie=True), Note(Pitch("D", 0, 5), Duration("minim"))),))
    >>> spoken_extract(Score((Stave("treble", (bar,), fifths=1),)))
    'Treble clef, key signature of 1 sharp. 1: minim D 5 tied, D 5.'
    """
    text = " ".join(_stave(score, stave) for stave in score.staves)
    if len(text) <= _LONGEST:
        return text
    headings = " ".join(_heading(stave) for stave in score.staves)
    return f"{headings} {len(score.staves[0].bars)} bars."


def _heading(stave: Stave) -> str:
    time = f", {stave.time.text} time" if stave.time else ""
    signature = f", key signature of {signature_text(stave.fifths)}" if stave.fifths is not None else ""
    name = f"{stave.name}: " if stave.name else ""
    return f"{name}{stave.clef.capitalize()} clef{signature}{time}."


def _stave(score: Score, stave: Stave) -> str:
    bars = [f"{score.bar_number(index) or 'Upbeat'}: {_bar(bar)}." for index, bar in enumerate(stave.bars)]
    return " ".join([_heading(stave), *bars])


def _bar(bar: Bar) -> str:
    said: list[str] = []
    length = ""
    for event in bar.events:
        now = event.duration.name(rest=isinstance(event, Rest))
        said.append(_event(event, "" if now == length else f"{now} "))
        length = now
    for direction in reversed(bar.directions):
        if direction.at < len(said):
            said[direction.at] = f"{_direction(direction)}, {said[direction.at]}"
    if bar.time is not None:
        said.insert(0, f"{bar.time.text} time")
    return ", ".join(said)


def _direction(direction: Direction) -> str:
    return direction.text or _WORDS.get(direction.kind, direction.kind)


def _event(event: Event, length: str) -> str:
    if isinstance(event, Note):
        sign = f" {sign_text(event.accidental)}" if event.accidental else ""
        marks = "".join(f" {mark.replace('-', ' ')}" for mark in event.marks)
        tie = " tied" if event.tie else ""
        grace = f"{event.grace} " if event.grace else ""
        sung = f" “{event.lyric}”" if event.lyric else ""
        return f"{grace}{length}{event.pitch.step}{sign} {event.pitch.octave}{tie}{marks}{sung}"
    if isinstance(event, Chord):
        return length + " and ".join(f"{pitch.step} {pitch.octave}" for pitch in event.pitches)
    return length.strip() or "the same again"
