"""Write a rhythm that answers a given one; any good answer is right, and the marks are given by criterion.

Six marks: the bars add up (2), the length (1), a long note at the end (1), balance (1), grouping (1).
"""

from __future__ import annotations

import itertools
from random import Random
from typing import Annotated

from msgspec import Meta
from msgspec.structs import replace as changed

from stavewright.composing.rhythm import compose_rhythm
from stavewright.questions.criterion import Criterion, said
from stavewright.questions.documents import Answer, RhythmForm, Slip, StaveBlock, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.bars import beamed
from stavewright.questions.setting.picking import pick
from stavewright.questions.showing.bars import bars_score, event_of, gaps_of
from stavewright.questions.showing.extract import spoken_extract
from stavewright.questions.solving.answering import example_rhythms
from stavewright.questions.solving.rhythm_report import in_bars, report
from stavewright.questions.values import Value, WrittenValue
from stavewright.questions.wording import Wording
from stavewright.score.stave import Score
from stavewright.syllabus.scope import Scope
from stavewright.theory.duration import of_ticks
from stavewright.theory.metre import TimeSignature

_MARKS = 6
_TRIES = 20
_TIMES = ("2/4", "3/4", "4/4", "C", "2/2", "cut C", "3/2", "3/8", "6/8", "12/8")
"""A rhythm is composed in the common metres of a grade: in a rare one the metre is what would be asked."""
_NUMBERS = {2: "two", 4: "four"}
Row = tuple[WrittenValue, ...]


class AnswerTheRhythm(Facts, frozen=True, forbid_unknown_fields=True):
    """The bars that are to be answered by as many, and their time signature.

    Raises:
        BadDocument: not two or four bars, one that does not add up, or a time whose bar is no single note.
    """

    time: str
    bars: Annotated[tuple[Annotated[Row, Meta(max_length=24)], ...], Meta(max_length=4)]

    def __post_init__(self) -> None:
        time = TimeSignature.parse(self.time)
        full = all(sum(value.duration.ticks for value in bar) == time.ticks for bar in self.bars)
        if len(self.bars) not in _NUMBERS or not full or of_ticks(time.ticks) is None:
            raise BadDocument(f"a rhythm to answer has two or four full bars of {self.time}")


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    known = [text for text in _TIMES if text in scope.times]
    time = TimeSignature.parse(pick(rng, known, [text for text in scope.fresh.get("times", ()) if text in known]))
    many = scope.answer_bars
    for _ in range(_TRIES):
        made = compose_rhythm(rng, time=time, bars=2 * many, values=scope.values, dots=min(scope.dots, 1))
        plain = not any(value.tie or value.rest for bar in made.bars for value in bar)
        rows = [beamed([value.duration for value in bar], time) for bar in made.bars]
        question, meant = tuple(rows[:many]), rows[many:]
        if plain and len(set(question)) > 1 and list(question) != meant and len(question[0]) > 1:
            return Draft(AnswerTheRhythm(time.text, question), Value(rhythm=tuple(itertools.chain(*meant))))
    return None


def _time(facts: AnswerTheRhythm) -> TimeSignature:
    return TimeSignature.parse(facts.time)


def _pose(facts: AnswerTheRhythm, wording: Wording) -> Posed:
    time, many = _time(facts), _NUMBERS[len(facts.bars)]
    ask = (
        f"These {many} bars are a question. Write {many} bars of rhythm that answer it: take up the rhythm of one of "
        "its bars, do not copy all of it, and end with a long note."
    )
    count = itertools.count(1)
    rows = [[event_of(value, f"n{next(count)}") for value in bar] for bar in facts.bars]
    shown = bars_score(rows, time)
    empty = bars_score([gaps_of(time.ticks, f"g{at}") for at in range(1, len(facts.bars) + 1)], time, last="final")
    form = RhythmForm("values", document_of(empty), wording.say(f"{many.capitalize()} empty bars to write in."))
    block = StaveBlock(document_of(shown), wording.say(spoken_extract(shown)))
    return Posed((TextBlock(wording.say(ask)), block), form)


def _model(facts: AnswerTheRhythm) -> list[WrittenValue]:
    """The first example, value by value."""
    return list(itertools.chain(*example_rhythms(facts.bars, _time(facts))[0]))


def _text(facts: AnswerTheRhythm, row: list[WrittenValue]) -> str:
    bars = in_bars(row, _time(facts))
    return " | ".join(", ".join(value.duration.name(rest=value.rest) for value in bar) for bar in bars)


def _solve(facts: AnswerTheRhythm) -> tuple[Answer, ...]:
    found = []
    for one in example_rhythms(facts.bars, _time(facts)):
        row = list(itertools.chain(*one))
        reason = f"{said(report(row, facts.bars, _time(facts)))} Any other rhythm that does so is right."
        found.append(answer(Value(rhythm=tuple(row)), _text(facts, row), reason))
    return tuple(found)


def _report(facts: AnswerTheRhythm, value: Value) -> tuple[Criterion, ...]:
    return report(value.rhythm or (), facts.bars, _time(facts))


def _slips(facts: AnswerTheRhythm) -> tuple[Slip, ...]:
    row, time = _model(facts), _time(facts)
    copied = [value for bar in facts.bars for value in bar]
    unit = WrittenValue.of(time.unit_value)
    apart = [changed(value, beam=None) for value in row[:-1]]
    wrong = [
        ("question copied", copied, "An answer is like the question, but it comes to rest: end with a long note."),
        ("last bar left out", row[:-1], f"Count the bars: the answer needs {_NUMBERS[len(facts.bars)]}."),
        ("one value too many", [*row[:-1], unit, row[-1]], f"Add up each bar: {facts.time} has no more room."),
        ("ends with a rest", [*apart, changed(row[-1], rest=True)], "End with a long note that is heard."),
    ]
    return tuple(slip(name, Value(rhythm=tuple(one)), _text(facts, one), remedy) for name, one, remedy in wrong)


def _work(facts: AnswerTheRhythm, method: str) -> tuple[Step, ...]:
    time = _time(facts)
    ids = tuple(f"n{at}" for at in range(1, len(facts.bars[0]) + 1))
    last = _model(facts)[-1].duration.text
    return (
        Step(f"Tap the question. The time signature {time.text} means {time.meaning()}.", (), time.text),
        Step("Begin the answer with the rhythm of a bar of the question.", ids, "same"),
        Step(f"Close with a long note: a {last} is good here.", (), last),
        Step("Beam short notes so that each beat can be seen.", (), ""),
        Step("Check: add up every bar, then tap question and answer one after the other.", (), ""),
    )


def _draw(facts: AnswerTheRhythm, value: Value) -> Score:
    time = _time(facts)
    bars = in_bars(value.rhythm or (), time) or [(WrittenValue("semibreve", rest=True),)]
    rows = [[event_of(one, f"a{at}n{n}") for n, one in enumerate(bar, 1)] for at, bar in enumerate(bars, 1)]
    return bars_score(rows, time, last="final")


KIND = Kind(
    id="answer-the-rhythm",
    topic="composing",
    since=1,
    title="Answer the rhythm",
    facts=AnswerTheRhythm,
    forms={"written": "rhythm"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=lambda facts: -1.0 + 0.2 * len(facts.bars) + (0.4 if _time(facts).kind == "compound" else 0.0),
    skill=lambda facts: f"answer-the-rhythm/{_time(facts).kind}",
    pool=lambda scope: None,
    seconds=180,
    marking=Marking("minus-one-per-fault"),
    marks=_MARKS,
    report=_report,
    draw=_draw,
)
