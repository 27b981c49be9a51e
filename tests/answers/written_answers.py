"""Reading the hand-made answers: one TOML file a topic (or several, joined by "and"), an entry a question.

    [[question]]
    kind = "total-value"
    grade = 2
    edition = "written"                  # "written" unless said
    facts = { time = "3/4", ... }        # the facts written out, as a table or, under `json`, as JSON
    answer = "dotted minim"              # the model answer in words: what the person expects
    right = [ { rhythm = "m c", why = "..." } ]
    wrong = [ { rhythm = "m", why = "..." } ]

An answer is one of: words, number, pick (the words of an option) or picks, picture (the option that shows this
answer), notes ("F#4 Gn4", with `type`, default crotchet; "F#4/q." has a value of its own; clef, signature, bar_lines
beside them), rhythm ("c q_ q~ q3", see `questions/rhythms.py`, with `beams`, a digit for each value, bar_lines, time),
places ("2" is bar 2, "2:3" its third note), order ("c a b"), chords ("Ic V"), pairs ("a3 b1"), value (the JSON of a
value), or both: a list of several of these, one for each response form. `bar_lines` may stand alone. In the facts
{ row = "c q_" } is a row of values, and
{ music = "D4/1 F#4/q | ...", time = "4/4", fifths = 2, clef = "treble", anacrusis = false } is a melody (see
`written_music.py`, also for `staves`, in facts and in answers).
"""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import msgspec

from answers.written_music import document, is_music
from questions.rhythms import NAMES, row
from stavewright.questions.asking import ask
from stavewright.questions.catalogue import kind as kind_of
from stavewright.questions.comparing import compare
from stavewright.questions.documents import ChoiceForm, ChoicesForm, Question
from stavewright.questions.kind import Draft
from stavewright.questions.values import Place, Value, WrittenNote

FOLDER = Path(__file__).parent
SIGNS = {"#": "sharp", "b": "flat", "n": "natural", "##": "double-sharp", "x": "double-sharp", "bb": "flat-flat"}
_NOTE = re.compile(r"([A-G])(##|#|bb|b|x|n)?(\d)(?:/(\w+)(\.*))?")


@dataclass(frozen=True)
class Said:
    """One answer and what is said of it."""

    says: Mapping[str, Any]
    why: str


@dataclass(frozen=True)
class Entry:
    """One question written out, its model answer, other right answers and near misses."""

    name: str
    topics: tuple[str, ...]
    question: Question
    answer: str
    right: tuple[Said, ...]
    wrong: tuple[Said, ...]


@cache
def entries() -> tuple[Entry, ...]:
    """Every entry of every file."""
    return tuple(entry for path in sorted(FOLDER.glob("*.toml")) for entry in _entries(path))


def _entries(path: Path) -> Iterator[Entry]:
    for number, table in enumerate(tomllib.loads(path.read_text("utf-8"))["question"], 1):
        kind = kind_of(table["kind"])
        written = table["json"] if "json" in table else json.dumps(_spelt_out(table["facts"]))
        facts = msgspec.json.decode(written, type=kind.facts)
        answers = kind.solve(facts)
        question = ask(
            kind,
            Draft(facts, answers[0].value),
            id=f"q{number}",
            grade=table["grade"],
            edition=table.get("edition", "written"),
            seed=number,
        )
        if question is None:
            raise ValueError(f"{path.name}, question {number} ({kind.id}): it cannot be put in this edition")
        said = {
            which: tuple(Said({k: v for k, v in one.items() if k != "why"}, one["why"]) for one in table.get(which, []))
            for which in ("right", "wrong")
        }
        topics = tuple(path.stem.split("-and-"))
        yield Entry(f"{kind.id}-{number}", topics, question, table["answer"], said["right"], said["wrong"])


def _spelt_out(facts: Any) -> Any:
    """Facts with the short forms for rows and melodies written out."""
    if isinstance(facts, list):
        return [_spelt_out(one) for one in facts]
    if not isinstance(facts, dict):
        return facts
    if "row" in facts and set(facts) <= {"row", "beams"} and isinstance(facts["row"], str):
        return msgspec.to_builtins(row(facts["row"], facts.get("beams", "")))
    if is_music(facts):
        return msgspec.to_builtins(document(facts))
    return {key: _spelt_out(one) for key, one in facts.items()}


def given(question: Question, said: Said) -> tuple[Value, ...]:
    """The answer as the marker gets it, one value for each response form."""
    parts = said.says.get("both", [said.says])
    return tuple(_value(question, index, part) for index, part in enumerate(parts))


def _value(question: Question, index: int, says: Mapping[str, Any]) -> Value:
    more = {key: says[key] for key in ("clef", "signature", "time") if key in says}
    if "bar_lines" in says:
        more["bar_lines"] = tuple(says["bar_lines"])
    if "value" in says:
        return msgspec.convert(says["value"], Value)
    if is_music(says):
        return Value(score=document(says))
    if "words" in says:
        return Value(words=says["words"])
    if "number" in says:
        return Value(number=says["number"])
    if "pick" in says:
        return Value(choice=_letter(question, index, says["pick"]))
    if "picture" in says:
        return Value(choice=_letter(question, index, _value(question, index, says["picture"])))
    if "picks" in says:
        return Value(choices=tuple(_letter(question, index, one) for one in says["picks"]))
    if "notes" in says:
        return Value(notes=tuple(_note(one, says.get("type", "c")) for one in says["notes"].split()), **more)
    if "rhythm" in says:
        return Value(rhythm=row(says["rhythm"], says.get("beams", "")), **more)
    if "places" in says:
        spots = [[int(part) for part in one.split(":")] for one in says["places"].split()]
        return Value(places=tuple(Place(*spot) for spot in spots))
    if "order" in says:
        return Value(order=tuple(says["order"].split()))
    if "chords" in says:
        return Value(chords=tuple(says["chords"].split()))
    if "pairs" in says:
        return Value(pairs=tuple((one[0], one[1:]) for one in says["pairs"].split()))
    return Value(**more)


def _note(text: str, usual: str) -> WrittenNote:
    found = _NOTE.fullmatch(text)
    if found is None:
        raise ValueError(f"{text!r} is not a written note such as F#4 or F#4/q.")
    value = NAMES.get(found[4] or usual)
    sign = SIGNS[found[2]] if found[2] else None
    return WrittenNote(found[1], octave=int(found[3]), type=value, dots=len(found[5] or ""), accidental=sign)


def _letter(question: Question, index: int, wanted: str | Value) -> str:
    form = question.response[index]
    if isinstance(form, ChoiceForm | ChoicesForm):
        for option in form.options:
            if option.text == wanted or (
                isinstance(wanted, Value)
                and option.value is not None
                and compare(option.value, wanted, kind_of(question.kind).marking).same
            ):
                return option.id
    raise ValueError(f"question {question.id} has no option {wanted!r}")
