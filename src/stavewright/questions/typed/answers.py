"""An answer as a teacher types it, in whatever form the question asks for."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import pairwise
from typing import Any, Final

import msgspec

from stavewright.questions.documents import (
    ChoiceForm,
    ChoicesForm,
    ChordsForm,
    Form,
    NotesForm,
    NumberForm,
    OrderForm,
    PairsForm,
    PlacesForm,
    Question,
    RhythmForm,
    ScoreForm,
)
from stavewright.questions.reading import read_words
from stavewright.questions.score_mirror import document_of
from stavewright.questions.typed.note_ways import WRITTEN_NOTE
from stavewright.questions.typed.row_ways import read_row, write_row
from stavewright.questions.typed.way import BadTyping, Typing
from stavewright.questions.values import Value
from stavewright.score.compact.heading import part_heading, read_heading, signature_words
from stavewright.score.compact.reading import read_music
from stavewright.theory.clef import CLEFS
from stavewright.theory.errors import StavewrightError, together

_NUMBERS: Final = (
    "none", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
)  # fmt: skip
_PLACE: Final = re.compile(r"(?:bar )?(\d{1,4})(?:(?:,? note |:)(\d{1,4}))?")
_PAIR: Final = re.compile(r"(\w{1,40})\s*(?:-|=|with)\s*(\w{1,40})")


def read_answer(question: Question, text: str, likely: Sequence[Value] = ()) -> tuple[Value, ...]:
    """A typed answer as the values that the question asks for; two answers are parted by a semicolon.

    `likely` are values of a right answer: notes typed without a value are taken to have theirs.

    Raises:
        BadTyping: with what each form of answer wants.
    """
    forms = question.response
    parts = [text] if len(forms) == 1 else [part.strip() for part in text.split(";")]
    if len(parts) != len(forms):
        raise BadTyping(
            f"{len(parts)} answers, where the question asks for {len(forms)}", right="part them by a semicolon"
        )
    found: list[Value] = []
    faults: list[str] = []
    for place, (form, part) in enumerate(zip(forms, parts, strict=True)):
        try:
            found.append(_read(form, part.strip(), likely[place] if place < len(likely) else None))
        except (StavewrightError, msgspec.ValidationError) as fault:
            faults.append(str(fault))
    if faults:
        raise BadTyping(f"answer: {together(faults)}")
    return tuple(found)


def _read(form: Form, text: str, likely: Value | None) -> Value:
    if isinstance(form, ChoiceForm):
        return _picked(form, text)
    if isinstance(form, ChoicesForm | OrderForm):
        letters = tuple(text.replace(",", " ").split())
        return Value(order=letters) if isinstance(form, OrderForm) else Value(choices=letters)
    if isinstance(form, NumberForm):
        return _number(text)
    if isinstance(form, NotesForm):
        return _notes(text, likely)
    if isinstance(form, RhythmForm):
        return _rhythm(form, text)
    if isinstance(form, PlacesForm):
        return _places(text)
    if isinstance(form, PairsForm):
        pairs = [_PAIR.fullmatch(one.strip()) for one in text.split(",")]
        if None in pairs:
            raise BadTyping(f"{text!r} joins no pairs", right="write a-3, b-1")
        return Value(pairs=tuple((one[1], one[2]) for one in pairs if one is not None))
    if isinstance(form, ChordsForm):
        return Value(chords=tuple(text.replace(",", " ").split()))
    if isinstance(form, ScoreForm):
        return Value(score=document_of(read_music(text)))
    return Value(words=text)


def _picked(form: ChoiceForm, text: str) -> Value:
    """The option of that letter, or the one with those words; without options the words themselves."""
    if not form.options:
        return Value(words=text)
    letters = {option.id for option in form.options}
    if text in letters:
        return Value(choice=text)
    for option in form.options:
        if option.text and read_words(option.text) == read_words(text):
            return Value(choice=option.id)
    if text.casefold() in letters:
        return Value(choice=text.casefold())
    raise BadTyping(
        f"no option {text!r}", right=f"write one of {', '.join(option.id for option in form.options)} or its words"
    )


def _number(text: str) -> Value:
    said = text.casefold()
    if said in _NUMBERS:
        return Value(number=_NUMBERS.index(said))
    if re.fullmatch(r"-?\d{1,5}", said) is None:
        raise BadTyping(f"{text!r} is no number", right="write it in figures")
    return Value(number=int(said))


def _notes(text: str, likely: Value | None) -> Value:
    """Notes as printed, `F#4:8 G4`, perhaps after a heading `bass 2 sharps:`, perhaps with bar lines."""
    more: dict[str, Any] = {}
    if re.search(r":(\s|$)", text):
        said, text = part_heading(text)
        clef = next((word for word in said.casefold().split() if word in CLEFS), None)
        heading = read_heading(said if clef else f"treble {said}")
        more = {} if clef is None else {"clef": clef}
        more |= {} if heading.fifths is None else {"signature": heading.fifths}
    elif likely is not None and likely.clef is not None:
        more = {"clef": likely.clef}
    usual = next((note.type for note in (likely.notes or ())), None) if likely is not None else None
    row: list[dict[str, Any]] = []
    lines: list[int] = []
    held: dict[str, Any] = {} if usual is None else {"type": usual}
    for word in text.split():
        if word == "|":
            lines.append(len(row))
            continue
        note = WRITTEN_NOTE.read(word, Typing())
        if "type" in note:
            held = {name: note[name] for name in ("type", "dots") if name in note}
        row.append({**held, **note})
    if lines:
        more["bar_lines"] = lines
    return msgspec.convert({"notes": row, **more}, Value)


def _rhythm(form: RhythmForm, text: str) -> Value:
    """Values, `crotchet (8 8) r:4`, with bar lines and a time signature before them; or numbers of bar lines."""
    found = re.match(r"\s*(\d+/\d+|C|cut C):\s", text)
    more: dict[str, Any] = {} if found is None else {"time": found[1]}
    text = text if found is None else text[found.end() :]
    if re.fullmatch(r"[\d\s,]+", text) and form.what == "bar-lines":
        return Value(bar_lines=tuple(int(one) for one in text.replace(",", " ").split()))
    bars = [read_row(part) for part in text.split("|")]
    if len(bars) > 1:
        counts = [len(bar) for bar in bars]
        more["bar_lines"] = [sum(counts[: place + 1]) for place in range(len(bars) - 1)]
    return msgspec.convert({"rhythm": [one for bar in bars for one in bar], **more}, Value)


def _places(text: str) -> Value:
    found = [_PLACE.fullmatch(one.strip().casefold()) for one in re.split(r";|,(?! note)", text)]
    if None in found:
        raise BadTyping(f"{text!r} names no place", right="write bar 3, or bar 3 note 2, parted by commas")
    row = [{"bar": int(one[1])} | ({"note": int(one[2])} if one[2] else {}) for one in found if one is not None]
    return msgspec.convert({"places": row}, Value)


def write_answer(values: Sequence[Value]) -> str:
    """An answer as it would be typed.

    >>> write_answer((Value(order=("c", "a", "b")),))
    'c a b'
    """
    return "; ".join(_written(value) for value in values)


def _written(value: Value) -> str:
    if value.notes is not None:
        notes = [WRITTEN_NOTE.write(msgspec.to_builtins(note), Typing()) for note in value.notes]
        for place in sorted(value.bar_lines or (), reverse=True):
            notes.insert(place, "|")
        signature = None if value.signature is None else signature_words(value.signature)
        heading = " ".join(part for part in (value.clef, signature) if part)
        return (f"{heading}: " if heading else "") + " ".join(notes)
    if value.rhythm is not None:
        return _written_rhythm(value)
    if value.bar_lines is not None:
        return ", ".join(map(str, value.bar_lines))
    if value.places is not None:
        return ", ".join(
            f"bar {one.bar}" + ("" if one.note is None else f" note {one.note}") for one in value.places
        )
    if value.pairs is not None:
        return ", ".join(f"{left}-{right}" for left, right in value.pairs)
    if value.words is not None or value.number is not None or value.choice is not None:
        return str(value.content)
    return " ".join(value.content) if value.score is None else ""


def _written_rhythm(value: Value) -> str:
    row = msgspec.to_builtins(value.rhythm)
    head = f"{value.time}: " if value.time else ""
    if not value.bar_lines:
        return head + write_row(row)
    ends = [0, *value.bar_lines, len(row)]
    return head + " | ".join(write_row(row[start:end]) for start, end in pairwise(ends))
