"""The words of MusicXML beside the words of the score: values, signs, marks, clefs, dynamics."""

from __future__ import annotations

from typing import Final

from stavewright.theory.duration import VALUES

__all__ = [
    "ACCIDENTAL_NAMES",
    "ACCIDENTAL_SIGNS",
    "CLEF_NAMES",
    "CLEF_SIGNS",
    "DYNAMICS",
    "JUMP_WORDS",
    "MARK_ELEMENTS",
    "MARK_NAMES",
    "TYPE_NAMES",
    "VALUE_NAMES",
]

_TYPES: Final = ("breve", "whole", "half", "quarter", "eighth", "16th", "32nd", "64th")

TYPE_NAMES: Final = dict(zip(VALUES, _TYPES, strict=True))
"""MusicXML's name of each note value. Source: MusicXML 4.0, note-type-value."""

VALUE_NAMES: Final = {name: value for value, name in TYPE_NAMES.items()}

ACCIDENTAL_SIGNS: Final = {
    "sharp": "sharp",
    "flat": "flat",
    "natural": "natural",
    "double-sharp": "double-sharp",
    "flat-flat": "flat-flat",
}
"""MusicXML's name of each printed sign. Source: MusicXML 4.0, accidental-value."""

ACCIDENTAL_NAMES: Final = {name: sign for sign, name in ACCIDENTAL_SIGNS.items()} | {"sharp-sharp": "double-sharp"}

CLEF_SIGNS: Final = {"treble": ("G", "2"), "bass": ("F", "4"), "alto": ("C", "3"), "tenor": ("C", "4")}
"""Sign and line of each clef."""

CLEF_NAMES: Final = {place: name for name, place in CLEF_SIGNS.items()}

MARK_ELEMENTS: Final = {
    "staccato": ("articulations", "staccato"),
    "staccatissimo": ("articulations", "staccatissimo"),
    "accent": ("articulations", "accent"),
    "strong-accent": ("articulations", "strong-accent"),
    "tenuto": ("articulations", "tenuto"),
    "breath": ("articulations", "breath-mark"),
    "fermata": ("", "fermata"),
    "arpeggio": ("", "arpeggiate"),
    "up-bow": ("technical", "up-bow"),
    "down-bow": ("technical", "down-bow"),
    "trill": ("ornaments", "trill-mark"),
    "turn": ("ornaments", "turn"),
    "inverted-turn": ("ornaments", "inverted-turn"),
    "mordent": ("ornaments", "mordent"),
    "upper-mordent": ("ornaments", "inverted-mordent"),
}
"""Family and element of each mark on a note. The mordent with the stroke is MusicXML's ``mordent``."""

MARK_NAMES: Final = {element: mark for mark, (_, element) in MARK_ELEMENTS.items()}

DYNAMICS: Final = frozenset(
    (
        *("p", "pp", "ppp", "pppp", "ppppp", "pppppp", "f", "ff", "fff", "ffff", "fffff", "ffffff"),
        *("mp", "mf", "sf", "sfp", "sfpp", "fp", "rf", "rfz", "sfz", "sffz", "fz", "n", "pf", "sfzp"),
    )
)
"""Letters that MusicXML has an element for; other letters are written out."""

JUMP_WORDS: Final = {"fine": "Fine", "da-capo": "D.C.", "dal-segno": "D.S."}
"""What is printed where a jump has no words of its own."""
