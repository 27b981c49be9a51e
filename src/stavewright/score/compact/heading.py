"""The heading of a stave in music text: clef, key, time signature, and a few words."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Final

from stavewright.score.compact.event_text import read_pitch
from stavewright.score.compact.scanning import QUOTED, quoted, unquoted, words
from stavewright.score.stave import Score, Stave
from stavewright.theory.clef import CLEFS
from stavewright.theory.errors import StavewrightError, UnknownKeyError
from stavewright.theory.key import Key
from stavewright.theory.metre import TimeSignature
from stavewright.theory.pitch import Pitch

_HEADING: Final = re.compile(rf"((?:{QUOTED}|[^\"])*?):(?=\s|$)", re.DOTALL)
_SIGNS: Final = re.compile(r"([0-7]) ?(#|b|sharps?|flats?)", re.IGNORECASE)
_COUNTED: Final = re.compile(r"\b([0-7]) (sharps?|flats?)\b", re.IGNORECASE)
_WHOLE_SCORE: Final = ("upbeat", "numbered", "brace", "bracket", "no-ids")
_ONE_STAVE: Final = ("no-clef", "tails")


class HeadingFault(StavewrightError):
    """A heading of music text that cannot be read."""


@dataclass(frozen=True, slots=True)
class Heading:
    """What stands before the notes of a stave. `key` is the key as it was named, None where only signs were."""

    clef: str
    fifths: int | None = None
    key: Key | None = None
    time: TimeSignature | None = None
    name: str = ""
    signs: tuple[Pitch, ...] = ()
    words: frozenset[str] = frozenset()


def part_heading(text: str) -> tuple[str, str]:
    """The heading of a stave and its music, parted at the colon.

    Raises:
        HeadingFault: there is no colon.

    >>> part_heading("treble D: F#4 C#5")
    ('treble D', ' F#4 C#5')
    """
    found = _HEADING.match(text)
    if found is None:
        raise HeadingFault(
            "no heading ends in a colon", right="begin with clef, key and time, as in `treble D 4/4: F#4 C#5`"
        )
    return found[1], text[found.end() :]


def read_heading(text: str) -> Heading:
    """The heading of a stave.

    Raises:
        HeadingFault: with all faults at once.

    >>> heading = read_heading("bass f# 6/8 numbered")
    >>> heading.clef, heading.fifths, heading.time.text
    ('bass', 3, '6/8')
    >>> read_heading("2 sharps treble").fifths
    2
    """
    clef, time, name = "", None, ""
    signs: tuple[Pitch, ...] = ()
    said: set[str] = set()
    left: list[str] = []
    faults: list[str] = []
    counted = _COUNTED.search(text)
    fifths = None if counted is None else signature(counted[0])
    text = _COUNTED.sub("", text)
    for word in words(text):
        low = word.casefold()
        try:
            if low in CLEFS:
                clef = low
            elif low in (*_WHOLE_SCORE, *_ONE_STAVE):
                said.add(low)
            elif low in ("common", "cut") or re.fullmatch(r"\d+/\d+", low):
                time = TimeSignature.parse("C" if low == "common" else "cut C" if low == "cut" else low)
            elif low.startswith("name="):
                name = unquoted(word[5:])
            elif low.startswith("signs="):
                signs = tuple(read_pitch(one) for one in word[6:].split(","))
            elif _SIGNS.fullmatch(low):
                fifths = signature(low)
            elif low not in ("key", "clef", "time", "key:"):
                left.append(word)
        except StavewrightError as fault:
            faults.append(str(fault))
    key = None
    if left:
        try:
            key = Key.parse(" ".join(left).strip(","))
            fifths = key.fifths
        except UnknownKeyError:
            faults.append(
                f"{' '.join(left)!r} is neither clef, key, time signature nor one of "
                f"{', '.join((*_WHOLE_SCORE, *_ONE_STAVE))}"
            )
    if not clef:
        faults.append(f"no clef: begin with one of {', '.join(CLEFS)}")
    if faults:
        raise HeadingFault("; ".join(faults))
    return Heading(clef, fifths, key, time, name, signs, frozenset(said))


def signature(text: str) -> int:
    """The signature that words such as "2 sharps" or "3b" count, sharps up and flats down.

    Raises:
        HeadingFault: it is no count of sharps or flats.

    >>> signature("3 flats"), signature("2#"), signature("0 sharps")
    (-3, 2, 0)
    """
    found = _SIGNS.fullmatch(text.strip())
    if found is None:
        raise HeadingFault(f"{text!r} is no key signature", right="write 2 sharps, 3 flats, or a key")
    count = int(found[1])
    return count if found[2][0] in "#sS" else -count


def signature_words(fifths: int) -> str:
    """A signature as it is typed.

    >>> signature_words(-1), signature_words(0)
    ('1 flat', '0 sharps')
    """
    sign = "flat" if fifths < 0 else "sharp"
    return f"{abs(fifths)} {sign}{'' if abs(fifths) == 1 else 's'}"


def time_word(time: TimeSignature) -> str:
    """A time signature as it is typed: in figures, or "common" or "cut" for the sign."""
    return time.symbol or time.text


def write_heading(stave: Stave, score: Score, said: frozenset[str]) -> str:
    """The heading of a stave; the words of the whole score stand in that of the first one."""
    parts = [stave.clef]
    if stave.fifths is not None:
        parts.append(signature_words(stave.fifths))
    if stave.time is not None:
        parts.append(time_word(stave.time))
    if stave is score.staves[0]:
        parts += ["upbeat"] * score.anacrusis + ["numbered"] * score.numbered
        parts += [score.join] * (score.join != "none")
    parts += ["no-clef"] * (not stave.show_clef) + sorted(said)
    if stave.name:
        parts.append(f"name={quoted(stave.name)}")
    if stave.signs:
        parts.append("signs=" + ",".join(pitch.short for pitch in stave.signs))
    return " ".join(parts) + ":"
