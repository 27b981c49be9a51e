"""Numbers, pitches and note values as MusicXML spells them."""

from __future__ import annotations

from functools import lru_cache

from lxml.etree import _Element as Element

from stavewright.exchange.errors import BadMusicXML, NotUnderstood
from stavewright.exchange.musicxml_names import VALUE_NAMES
from stavewright.theory.duration import MAX_DOTS, TUPLET_NAMES, Duration, Tuplet
from stavewright.theory.pitch import STEPS, Pitch

__all__ = ["duration_of", "pitch_of", "whole_number"]


def whole_number(element: Element, least: int, most: int) -> int:
    """The whole number in an element, between two bounds.

    Raises:
        BadMusicXML: not a whole number, or outside the bounds.
    """
    text = (element.text or "").strip()
    try:
        number = int(text) if len(text) < 12 else most + 1
    except ValueError:
        number = least - 1
    if not least <= number <= most:
        raise BadMusicXML(
            f"{element.tag} is {text[:20]!r}", where=f"line {element.sourceline}", right=f"a number {least} to {most}"
        )
    return number


@lru_cache(maxsize=1024)
def duration_of(kind: str, dots: int, actual: int, normal: int) -> Duration:
    """The note value of a MusicXML type, its dots and its time modification (0, 0 for none).

    Raises:
        NotUnderstood: a type, a number of dots or a tuplet that the score has no place for.

    >>> duration_of("eighth", 0, 3, 2).text
    'triplet quaver'
    """
    value = VALUE_NAMES.get(kind)
    if value is None:
        raise NotUnderstood(f"a note of type {kind[:20]!r}")
    if dots > MAX_DOTS:
        raise NotUnderstood(f"a note with {dots} dots")
    if not actual or actual == normal:
        return Duration(value, dots)
    if actual not in TUPLET_NAMES or not 1 <= normal <= 16:
        raise NotUnderstood(f"a tuplet of {actual} in the time of {normal}")
    return Duration(value, dots, Tuplet(actual, normal))


def pitch_of(element: Element, step: str | None, alter: str | None, octave: str | None) -> Pitch:
    """The pitch that the three parts of a ``pitch`` element name.

    Raises:
        BadMusicXML: a letter, alteration or octave that is none.
        NotUnderstood: a quarter tone, or more than a double sharp or flat.
    """
    letter = (step or "").strip()
    where = f"line {element.sourceline}"
    if len(letter) != 1 or letter not in STEPS:
        raise BadMusicXML(f"step is {letter[:20]!r}", where=where, right="one of C D E F G A B")
    number = (octave or "").strip()
    if len(number) != 1 or not number.isdecimal():
        raise BadMusicXML(f"octave is {number[:20]!r}", where=where, right="a number 0 to 9")
    try:
        change = float(alter or 0)
    except ValueError:
        raise BadMusicXML(f"alter is {(alter or '')[:20]!r}", where=where, right="a number of semitones") from None
    if change not in (-2, -1, 0, 1, 2):
        raise NotUnderstood(f"a note altered by {change:g} semitones")
    return Pitch(letter, int(change), int(number))
