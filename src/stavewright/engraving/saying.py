"""Answers and marks in the words of the page: what a value says, how marks are given, UK or US words."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from typing import Final

from stavewright.questions.kind import Marking
from stavewright.questions.values import Value, WrittenNote, WrittenValue
from stavewright.questions.wording import us_words

Say = Callable[[str], str]

RULES: Final = {
    "per-item": "Marks are shared out over the items: each right item earns its share.",
    "minus-one-per-fault": "One mark off for each fault, never below 0.",
    "all-or-nothing": "All or nothing.",
    "gated": "The second half counts only when the first half is right.",
}


def sayer(words: str) -> Say:
    """What turns a UK sentence into the reader's words.

    >>> sayer("us")("Look at bar 3."), sayer("uk")("Look at bar 3.")
    ('Look at measure 3.', 'Look at bar 3.')
    """
    return us_words if words == "us" else _as_it_is


def _as_it_is(text: str) -> str:
    return text


_SHORT_NAME: Final = re.compile(r"\b([A-Ga-g])(##|#|bb|b)(?![\w#])")
_SIGNS: Final = {"#": "\u266f", "##": "\U0001d12a", "b": "\u266d", "bb": "\U0001d12b"}


def with_signs(jotting: str) -> str:
    """A jotting with real sharps and flats in its short note names.

    >>> with_signs("F# Bb C, Ib") == "F\u266f B\u266d C, Ib"
    True
    """
    return _SHORT_NAME.sub(lambda found: found.group(1) + _SIGNS[found.group(2)], jotting)


_RESTS_IN_A_ROW: Final = re.compile(r"\b((?:dotted )?\w+ rest)((?:, \1\b)+)")


def counted(text: str) -> str:
    """The same words with equal rests in a row counted, so that a table stays short.

    >>> counted("quaver rest, semiquaver rest, semiquaver rest, semiquaver rest")
    'quaver rest, 3 semiquaver rests'
    """
    return _RESTS_IN_A_ROW.sub(lambda row: f"{1 + row.group(2).count(',')} {row.group(1)}s", text)


def marks_word(marks: int) -> str:
    """So many marks, in words.

    >>> marks_word(1), marks_word(3)
    ('1 mark', '3 marks')
    """
    return f"{marks} mark" if marks == 1 else f"{marks} marks"


def rule_words(marking: Marking, marks: int) -> str:
    """How the marks of a question are given, in one sentence."""
    if marks == 1 and marking.rule in ("all-or-nothing", "minus-one-per-fault"):
        return RULES["all-or-nothing"]
    return RULES[marking.rule]


def together(pairs: Iterable[tuple[str, str]]) -> list[tuple[str, str]]:
    """Answers of one reason side by side: (answers, reason), in the order they came.

    >>> together([("C", "so"), ("common time", "so"), ("4/4", "thus")])
    [('C; common time', 'so'), ('4/4', 'thus')]
    """
    found: dict[str, list[str]] = {}
    for text, reason in pairs:
        here = found.setdefault(reason, [])
        if text not in here:
            here.append(text)
    return [("; ".join(texts), reason) for reason, texts in found.items()]


def value_words(value: Value) -> str:
    """A value in plain words, for answers that are not drawn.

    >>> value_words(Value(number=5)), value_words(Value(choices=("a", "c"))), value_words(Value(pairs=(("a", "3"),)))
    ('5', 'a, c', 'a with 3')
    """
    if value.choice is not None:
        return value.choice
    if value.words is not None:
        return value.words
    if value.number is not None:
        return str(value.number)
    if value.places is not None:
        return ", ".join(
            f"bar {place.bar}" + (f", note {place.note}" if place.note is not None else "") for place in value.places
        )
    if value.pairs is not None:
        return ", ".join(f"{left} with {right}" for left, right in value.pairs)
    for row in (value.choices, value.order, value.chords):
        if row is not None:
            return ", ".join(row)
    if value.notes is not None:
        return " ".join(_note(note) for note in value.notes)
    if value.rhythm is not None:
        heading = f"{value.time}: " if value.time else ""
        return heading + ", ".join(_written(one) for one in value.rhythm)
    if value.bar_lines is not None:
        return "bar lines after notes " + ", ".join(map(str, value.bar_lines))
    return "music"


def _note(note: WrittenNote) -> str:
    signs = {"sharp": "\u266f", "flat": "\u266d", "natural": "\u266e", "double-sharp": "\U0001d12a"}
    sign = "\U0001d12b" if note.accidental == "flat-flat" else signs.get(note.accidental or "", "")
    return f"{note.step}{sign}"


def _written(one: WrittenValue) -> str:
    dots = "dotted " if one.dots else ""
    return f"{dots}{one.type}{' rest' if one.rest else ''}"
