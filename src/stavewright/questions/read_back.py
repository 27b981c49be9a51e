"""How an answer in words was read, said back in plain words, so that its writer sees it."""

from __future__ import annotations

import re
from collections.abc import Callable
from functools import lru_cache
from typing import Final

from stavewright.questions.asking import answers_of
from stavewright.questions.chord_reading import read_label
from stavewright.questions.documents import Question
from stavewright.questions.naming import OTHER_LETTERS
from stavewright.questions.note_names import in_names, to_english
from stavewright.questions.reading import read_words
from stavewright.questions.values import Value, WrittenNote, WrittenValue
from stavewright.theory.cadence import cadence_text, parse_cadence
from stavewright.theory.chord import ROMANS, ChordLabel
from stavewright.theory.degree import degree_from_name, degree_name
from stavewright.theory.duration import Duration
from stavewright.theory.errors import StavewrightError
from stavewright.theory.interval import Interval
from stavewright.theory.key import Key
from stavewright.theory.metre import TimeSignature
from stavewright.theory.pitch import NoteName

_LONE_KEY: Final = re.compile(r"(?:(?:the )?key (?:of )?)?([A-Ga-g])(#|b|♯|♭|[ -]?sharp|[ -]?flat)?")
_TURNED_KEY: Final = re.compile(r"(major|minor) ([a-g](?: sharp| flat)?)")
_NUMBER: Final = re.compile(r"(\d{1,4})(?:st|nd|rd|th)?")
_NUMBERS: Final = (
    "none", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
)  # fmt: skip
_DEGREE: Final = re.compile(r"(?:the )?(?:degree )?(\d)(?:st|nd|rd|th)?(?: degree)?")
_SIGNS: Final = {
    "sharp": "sharp ", "flat": "flat ", "natural": "natural ", "double-sharp": "double sharp ",
    "flat-flat": "double flat ",
}  # fmt: skip


def _note(text: str, names: str) -> str | None:
    said = _in_english(text, names)
    if said is None:
        return None
    words = read_words(said)
    return NoteName.parse(words).text if re.match(r"[a-g]( |$)", words) else None


def _key(text: str, names: str) -> str | None:
    said = _in_english(text, names)
    if said is None:
        return None
    lone = _LONE_KEY.fullmatch(said.strip(" ."))
    if lone is not None:
        small = (_first_letter(text) if names != "english" else lone[1]).islower()
        return Key.parse(f"{said.strip(' .')[lone.start(1) :]} {'minor' if small else 'major'}").text
    words = read_words(said)
    turned = _TURNED_KEY.fullmatch(words)
    if turned is not None:
        words = f"{turned[2]} {turned[1]}"
    return Key.parse(words).text if re.match(r"[a-g]( (sharp|flat))? (major|minor)$", words) else None


def _first_letter(text: str) -> str:
    return text.strip()[:1]


def _in_english(text: str, names: str) -> str | None:
    return text if names == "english" else to_english(text, names)


def _interval(text: str, names: str) -> str | None:
    words = read_words(text)
    if words in ("8th", "1st"):
        words = f"perfect {words}"
    if not re.match(r"(compound )?(doubly )?(perfect|major|minor|augmented|diminished) \d", words):
        return None
    return Interval.parse(words).text


def _value(text: str, names: str) -> str | None:
    words = read_words(text)
    rest = words.endswith(" rest")
    if words == "rest":
        return None
    return Duration.parse(words.removesuffix(" rest")).name(rest=rest)


def _degree(text: str, names: str) -> str | None:
    words = read_words(text)
    numbered = _DEGREE.fullmatch(words)
    roman = text.strip().upper()
    if numbered is not None:
        return degree_name(int(numbered[1]))
    if roman in ROMANS:
        return degree_name(ROMANS.index(roman) + 1)
    return degree_name(degree_from_name(words))


def _chord(text: str, names: str) -> str | None:
    return ChordLabel.parse(read_label(text)).text


def _cadence(text: str, names: str) -> str | None:
    return cadence_text(parse_cadence(read_words(text).removesuffix(" cadence")))


def _signature(text: str, names: str) -> str | None:
    words = read_words(text)
    return words if re.fullmatch(r"[1-7] (sharps?|flats?)|no sharps or flats", words) else None


def _number(text: str, names: str) -> str | None:
    said = text.strip()
    found = _NUMBER.fullmatch(said)
    if found is not None:
        return str(int(found[1]))
    if said.upper() in ROMANS:
        return str(ROMANS.index(said.upper()) + 1)
    words = said.casefold()
    return str(_NUMBERS.index(words)) if words in _NUMBERS else "0" if words in ("zero", "nothing") else None


def _time(text: str, names: str) -> str | None:
    words = read_words(text).removesuffix(" time")
    time = TimeSignature.parse({"common": "c", "cut": "cut c", "cut common": "cut c"}.get(words, words))
    return {"common": "common time", "cut": "cut common time", None: time.text}[time.symbol]


LONGEST: Final = 500
"""Longer words are no answer; a value holds no more either."""

SKILLS: Final[dict[str, Callable[[str, str], str | None]]] = {
    "key": _key, "interval": _interval, "chord": _chord, "degree": _degree, "cadence": _cadence, "value": _value,
    "signature": _signature, "note": _note, "time": _time, "number": _number,
}  # fmt: skip
"""What words can be about, and how they are read then."""


@lru_cache(maxsize=4096)
def read_as(skill: str, text: str, names: str = "english") -> str | None:
    """What a pupil's words mean as an answer of a skill, in plain UK words; None where they are no such answer.

    `names` is the vocabulary of note names: H is B in the German one only.

    >>> read_as("key", "a"), read_as("key", "A"), read_as("interval", "third minor"), read_as("degree", "subdom")
    ('A minor', 'A major', 'minor 3rd', 'subdominant')
    >>> read_as("note", "H"), read_as("note", "H", "german"), read_as("note", "B", "german")
    (None, 'B', 'B flat')
    """
    if len(text) > LONGEST:
        return None
    try:
        return SKILLS[skill](text, names)
    except StavewrightError:
        return None


@lru_cache(maxsize=4096)
def skill_of(model: str, topic: str = "") -> str | None:
    """What a question asks about, judged by its model answer; None where it is words of another sort.

    In the topics of time a capital letter is no note: C is a time signature.

    >>> skill_of("F sharp minor"), skill_of("minor 6th"), skill_of("B flat"), skill_of("slow, unhurried")
    ('key', 'interval', 'note', None)
    """
    for skill in ("key", "interval", "cadence", "signature", "note", "value", "degree", "time"):
        if read_as(skill, model) in (model, f"{model} cadence"):
            return None if skill == "note" and topic in OTHER_LETTERS else skill
    return None


def shown_back(question: Question, value: Value) -> str:
    """How an answer was read, in plain words and in the question's own note names."""
    if value.words is not None:
        return words_back(answers_of(question)[0].text, value.words, question.note_names, question.topic)
    said = _plain(value)
    return f"read as {said}" if said else "read as music"


def words_back(model: str, text: str, names: str = "english", topic: str = "") -> str:
    """How words were read as an answer to the question whose model answer is `model`.

    >>> words_back("A minor", "f#"), words_back("B", "H"), words_back("B", "H", "german")
    ('read as F sharp minor', '“H” is not read as a note', 'read as H')
    """
    skill = skill_of(model, topic)
    if skill is None:
        return f"read as “{read_words(text)}”"
    read = read_as(skill, text, names)
    if read is None:
        article = "an" if skill == "interval" else "a"
        return f"“{text}” is not read as {article} {skill}"
    return f"read as {in_names(read, names)}"


def lone_key(model: str, value: Value) -> Value | None:
    """A key named by its letter alone, a capital for major and a small letter for minor, as the whole key.

    None where the question asks for no key, or more than the letter was written.

    >>> lone_key("A minor", Value(words="a")).words, lone_key("A minor", Value(words="A")).words
    ('A minor', 'A major')
    """
    if value.words is None or _LONE_KEY.fullmatch(value.words.strip(" .")) is None or skill_of(model) != "key":
        return None
    read = read_as("key", value.words)
    return None if read is None else Value(words=read)


def _plain(value: Value) -> str:
    if value.notes is not None:
        heading = f"{value.clef} clef: " if value.clef else ""
        return heading + ", ".join(_written_note(note) for note in value.notes)
    if value.rhythm is not None:
        return ", ".join(_written_value(one) for one in value.rhythm)
    if value.bar_lines is not None:
        return "bar lines after notes " + ", ".join(map(str, value.bar_lines))
    if value.places is not None:
        return ", ".join(f"bar {one.bar}" + (f", note {one.note}" if one.note else "") for one in value.places)
    if value.pairs is not None:
        return ", ".join(f"{left} with {right}" for left, right in value.pairs)
    if value.chords is not None:
        return ", ".join(read_label(one) for one in value.chords)
    if value.choices is not None or value.order is not None:
        return ", ".join(value.content)
    return "" if value.score is not None else str(value.content)


def _written_note(note: WrittenNote) -> str:
    """A note as it stands: its letter, the sign before it, its octave and value."""
    sign = _SIGNS.get(note.accidental or "", "")
    value = "" if note.type is None else f" ({Duration(note.type, note.dots).name()})"
    return f"{note.step} {sign}{note.octave}{value}"


def _written_value(one: WrittenValue) -> str:
    return one.duration.name(rest=one.rest) + (" tied" if one.tie else "")
