"""What a question kind is: one record of plain functions, one file each in `kinds/`."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from random import Random
from typing import Any

from msgspec import Struct

from stavewright.questions.criterion import Criterion
from stavewright.questions.documents import Answer, Block, Form, Slip, Step
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.score.stave import Score
from stavewright.syllabus.scope import Scope

RULES = ("per-item", "minus-one-per-fault", "all-or-nothing", "gated")


class Facts(Struct, frozen=True, forbid_unknown_fields=True):
    """What a question is about; each kind has its own small subclass."""


@dataclass(frozen=True, slots=True)
class Draft:
    """What a setter hands over: the facts, and the answer it meant (`expected`, as UK words or a value).

    The expectation is compared with the solver's answer before the question is set, and then thrown away.
    """

    facts: Facts
    expected: str | Value | tuple[Value, ...]
    follows: bool = False


@dataclass(frozen=True, slots=True)
class Posed:
    """A question as it is put: what is printed, and the form of the answer.

    `form` None asks the catalogue to build one choice from the answer, the slips and the neighbours; a few kinds ask
    for two answers and give two forms.
    """

    blocks: tuple[Block, ...]
    form: Form | tuple[Form, ...] | None = None


@dataclass(frozen=True, slots=True)
class Marking:
    """How marks are given, from the closed set RULES; `split` parts an answer into (gate, rest) for "gated".

    For notes: `octave` False forgives the octave, `values` True also compares note values, `stacked` True reads the
    notes as one chord from the lowest up, in whatever order they were written, `heading` True asks for the clef and the
    signature, so that one left out is a fault, `signed` True for the signature alone. For rhythms: `beams` True
    also compares the beaming. For words: `meaning` True reads them as the meaning of a term, in whatever words.
    `besides` True asks the kind's own `faults` even where the notes are right: other things were asked for as well.
    """

    rule: str = "all-or-nothing"
    split: Callable[[Value], tuple[str, str]] | None = None
    octave: bool = True
    values: bool = False
    beams: bool = False
    stacked: bool = False
    heading: bool = False
    signed: bool = False
    meaning: bool = False
    besides: bool = False


def _none(*_: Any) -> tuple[Value, ...]:
    return ()


def _no_tokens(_: Any) -> frozenset[str]:
    return frozenset()


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """One kind of question.

    `forms` gives the response form in each edition, e.g. {"written": "words", "on-screen": "choice"}; a form equal to
    "choice" or "choices" where `native` differs is built from `options`, or from answer + slips + `neighbours`.
    `tell` says a value in words where it is neither words nor music (several picks as one option).
    `faults` counts the faults of a wrong answer from the facts, where comparing it with a right one would count one
    cause twice; None leaves it to the comparison. `report` judges a composed answer criterion by criterion, so that
    any answer that meets them all is right; the most marks of its criteria add up to `marks`, and the teacher confirms
    or changes what it gives. `draw` shows a value as music (for options, model answers and
    scripts). `read` says what facts a typed stave gives, where their shape is not what a teacher would type (a gap in a
    bar); None leaves it to `typed.spreading`. `asks` and `shows` are tokens of what a question asks and what it gives
    away, so that no question of a paper answers another.
    """

    id: str
    topic: str
    since: int
    title: str
    facts: type[Any]
    forms: Mapping[str, str]
    set: Callable[[Scope, Random, Stimulus | None, Melodies | None], Draft | None]
    pose: Callable[[Any, Wording], Posed]
    solve: Callable[[Any], tuple[Answer, ...]]
    slips: Callable[[Any], tuple[Slip, ...]]
    work: Callable[[Any, str], tuple[Step, ...]]
    difficulty: Callable[[Any], float]
    skill: Callable[[Any], str]
    pool: Callable[[Scope], int | None]
    seconds: int
    marking: Marking = Marking()
    marks: int = 1
    extract: bool = False
    draw: Callable[[Any, Value], Score] | None = None
    tell: Callable[[Any, Value], str] | None = None
    given: Callable[[Any, Value], Any] | None = None
    options: Callable[[Any], tuple[Value, ...]] | None = None
    neighbours: Callable[[Any], tuple[Value, ...]] = _none
    faults: Callable[[Any, Value], int | None] | None = None
    report: Callable[[Any, Value], tuple[Criterion, ...]] | None = None
    read: Callable[[Score], Mapping[str, Any] | None] | None = None
    asks: Callable[[Any], frozenset[str]] = _no_tokens
    shows: Callable[[Any], frozenset[str]] = _no_tokens
    methods: tuple[str, ...] = ("usual",)

    def __post_init__(self) -> None:
        if self.marking.rule not in RULES:
            raise ValueError(f"kind {self.id}: marking rule {self.marking.rule!r} is not one of {', '.join(RULES)}")


def answer(value: Value | tuple[Value, ...], text: str, reason: str) -> Answer:
    """A right answer: one value, or one for each response form asked for."""
    return Answer(value if isinstance(value, tuple) else (value,), text, reason)


def slip(name: str, value: Value | tuple[Value, ...], text: str, remedy: str, *, steady: bool = False) -> Slip:
    """The answer of a known wrong rule: one value, or one for each response form asked for."""
    return Slip(name, value if isinstance(value, tuple) else (value,), text, remedy, steady)
