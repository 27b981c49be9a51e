"""Ways of typing numbers, yes or no, and words: keys, clefs, values, times, intervals, terms."""

from __future__ import annotations

import re
from typing import Any, Final

from stavewright.questions.reading import read_words
from stavewright.questions.typed.way import BadTyping, Typing, Way
from stavewright.questions.written import KeyText, NameText, PitchText, StavePlace, ValueName
from stavewright.score.compact.event_text import FIGURES, read_pitch, read_value
from stavewright.score.compact.heading import signature, signature_words
from stavewright.syllabus.meanings import fold
from stavewright.syllabus.terms import all_terms
from stavewright.theory.clef import CLEFS
from stavewright.theory.duration import VALUES, Duration, of_ticks
from stavewright.theory.interval import Interval
from stavewright.theory.key import Key
from stavewright.theory.metre import TimeSignature
from stavewright.theory.pitch import NoteName

_YES: Final = {"yes": True, "y": True, "true": True, "no": False, "n": False, "false": False}
_QUALITIES: Final = {"perfect": "P", "major": "M", "minor": "m", "augmented": "A", "diminished": "d", "any": ""}
_NUMBER: Final = re.compile(r"(-?\d{1,9})(?:st|nd|rd|th|ve)?")
_LINE: Final = re.compile(r"(line|space) ([1-5])")


def _same(value: Any, typing: Typing) -> str:
    return str(value)


def _words(text: str, typing: Typing) -> str:
    return text.strip()


WORDS: Final = Way("words", _words, _same, free=True)


def yes_or_no(name: str) -> Way:
    """A field that is true or not; one called `up` also takes up and down.

    >>> yes_or_no("up").read("down", Typing())
    False
    """
    said = {**_YES, **({"up": True, "down": False} if name == "up" else {}), name: True}

    def read(text: str, typing: Typing) -> bool:
        if text.casefold() not in said:
            raise BadTyping(f"{text!r} is neither yes nor no")
        return said[text.casefold()]

    return Way("up or down" if name == "up" else "yes or no", read, lambda value, _: "yes" if value else "no")


def _read_number(text: str, typing: Typing) -> int:
    found = _NUMBER.fullmatch(text.strip())
    if found is None:
        raise BadTyping(f"{text!r} is no number", right="write it in figures")
    return int(found[1])


NUMBER: Final = Way("a number", _read_number, _same)


def _read_fifths(text: str, typing: Typing) -> int:
    if re.fullmatch(r"-?[0-7]", text):
        return int(text)
    if text[:1].isdigit():
        return signature(text)
    return Key.parse(text).fifths


FIFTHS: Final = Way(
    "a key signature, as 2 sharps, 3 flats or a key",
    _read_fifths,
    lambda value, _: signature_words(value) if -7 <= value <= 7 else str(value),
)


def _read_place(text: str, typing: Typing) -> int:
    found = _LINE.fullmatch(text.strip().casefold())
    if found is not None:
        return 2 * (int(found[2]) - 1) + (found[1] == "space")
    if re.fullmatch(r"-?\d{1,2}", text.strip()):
        return int(text)
    if typing.clef not in CLEFS:
        raise BadTyping(f"{text!r} is no place on a stave", right="write line 2, space 3, or 0 for the bottom line")
    return CLEFS[str(typing.clef)].place(read_pitch(text))


def _write_place(value: Any, typing: Typing) -> str:
    if typing.clef in CLEFS:
        return CLEFS[str(typing.clef)].pitch_at(value).short
    return f"{'space' if value % 2 else 'line'} {value // 2 + 1}" if 0 <= value <= 8 else str(value)


PLACE: Final = Way("a place on the stave: a note such as F4 under the clef, line 2, space 3", _read_place, _write_place)


def _read_ticks(text: str, typing: Typing) -> int:
    if text.strip().isdigit():
        return int(text)
    return sum(0 if one.strip() == "none" else read_value(one.strip()).ticks for one in text.split("+"))


def _write_ticks(value: Any, typing: Typing) -> str:
    if not value:
        return "none"
    parts: list[str] = []
    left = value
    while left:
        best = max((one for one in VALUES if Duration(one).ticks <= left), key=VALUES.index, default=None)
        best = next((one for one in VALUES if Duration(one).ticks <= left), best)
        whole = of_ticks(left)
        if whole is not None:
            return "+".join([*parts, whole.type + "." * whole.dots])
        if best is None or len(parts) > 8:
            return str(value)
        parts.append(best)
        left -= Duration(best).ticks
    return "+".join(parts)


TICKS: Final = Way("a length in values, as crotchet+quaver", _read_ticks, _write_ticks)


def _read_clef(text: str, typing: Typing) -> str:
    name = text.strip().casefold().removesuffix(" clef")
    if name not in CLEFS:
        raise BadTyping(f"{text!r} is no clef", right=f"write one of {', '.join(CLEFS)}")
    return name


CLEF: Final = Way(f"a clef: {', '.join(CLEFS)}", _read_clef, _same)
PITCH: Final = Way("a note as it sounds, such as F#4 (middle C is C4)", lambda t, _: read_pitch(t.strip()).short, _same)
KEY: Final = Way("a key, such as F sharp minor, f# or Bb major", lambda t, _: Key.parse(t).text, _same)
NOTE_NAME: Final = Way("a note name, such as F# or B flat", lambda t, _: NoteName.parse(t).text, _same)


def _read_time(text: str, typing: Typing) -> str:
    time = TimeSignature.parse({"common": "C", "cut": "cut C"}.get(text.strip(), text))
    return time.text


TIME: Final = Way("a time signature, such as 6/8, C or cut C", _read_time, _same)


def _read_value(text: str, typing: Typing) -> str:
    found = Duration.parse(FIGURES.get(text.strip(), text))
    if found.dots or found.tuplet:
        raise BadTyping(f"{text!r} has a dot", right="name the plain value here; dots have a field of their own")
    return found.type


VALUE: Final = Way("a value, such as crotchet, quarter or 4", _read_value, _same)
DOTTED: Final = Way("a value with its dots, such as dotted crotchet", lambda t, _: Duration.parse(t).text, _same)
CHORD: Final = Way("a chord, such as IV or Ib", _words, _same)
INTERVAL: Final = Way(
    "an interval, such as m3 or major 2nd", lambda text, _: Interval.parse(read_words(text)).short, _same
)


def _read_quality(text: str, typing: Typing) -> str:
    return _QUALITIES.get(text.strip().casefold(), text.strip())


QUALITY: Final = Way(
    f"a quality: {', '.join(_QUALITIES)}",
    _read_quality,
    lambda value, _: {short: word for word, short in _QUALITIES.items()}.get(value, value),
)


def _read_term(text: str, typing: Typing) -> str:
    if "|" in text:
        return text.strip()
    found = [one for one in all_terms() if fold(text) in (fold(one.term), *map(fold, one.other))]
    if not found:
        raise BadTyping(f"no term {text.strip()!r} is known", right="`docs/terms.md` lists them")
    if len(found) > 1:
        raise BadTyping(f"{text.strip()!r} is {len(found)} terms", right=f"write {' or '.join(o.key for o in found)}")
    return found[0].key


TERM: Final = Way("a term, such as adagio", _read_term, _same)


def one_of(pattern: str) -> tuple[str, ...]:
    """The words that a closed pattern of words allows; nothing where it is another pattern.

    >>> one_of("^(up|down)$"), one_of("^[A-G]$")
    (('up', 'down'), ())
    """
    found = re.fullmatch(r"\^?\(([\w ,|-]+)\)(?:\\Z|\$)", pattern)
    return tuple(found[1].split("|")) if found else ()


def closed(options: tuple[str, ...]) -> Way:
    """One word of a closed set, whatever its case."""

    def read(text: str, typing: Typing) -> str:
        wanted = text.strip().casefold()
        for one in options:
            if one.casefold() in (wanted, wanted.replace(" ", "-")):
                return one
        raise BadTyping(f"{text.strip()!r} is not one of {', '.join(options)}")

    return Way(f"one of {', '.join(options)}", read, _same)


def _pattern(alias: Any) -> str:
    return str(alias.__metadata__[0].pattern)


BY_PATTERN: Final = {
    _pattern(KeyText): KEY,
    _pattern(NameText): NOTE_NAME,
    _pattern(PitchText): PITCH,
    _pattern(ValueName): VALUE,
}
"""Words that are recognised by the pattern of their type."""

VERSE: Final = Way(
    "lines of verse, parted by /; syllables by hyphens as the kind says",
    lambda text, _: [line.strip() for line in text.split("/")],
    lambda lines, _: " / ".join(lines),
    free=True,
)
BY_NAME: Final = {
    "key": KEY, "concert": KEY, "time": TIME, "known": TIME, "clef": CLEF, "beat": DOTTED, "interval": INTERVAL,
    "quality": QUALITY, "term": TERM, "terms": TERM, "fifths": FIFTHS, "ticks": TICKS, "pickup": TICKS,
}  # fmt: skip
"""Fields that are recognised by their name, where their type says only that they are words or a number."""

_PLACE_META: Final[Any] = StavePlace
PLACE_BOUNDS: Final = (_PLACE_META.__metadata__[0].ge, _PLACE_META.__metadata__[0].le)
"""By these bounds a number is known to be a place on the stave."""
