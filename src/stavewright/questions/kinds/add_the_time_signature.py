"""The time signature that one or two bars must have, from their length, their values and their beams."""

from __future__ import annotations

from functools import lru_cache
from random import Random
from typing import Annotated

from msgspec import Meta

from stavewright.questions.documents import Answer, Slip, StaveBlock, Step, TextBlock, WordsForm
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.bars import beamed, pick_time, rhythm_bar
from stavewright.questions.showing.bars import bars_score, event_of
from stavewright.questions.showing.pictures import picture
from stavewright.questions.values import Value, WrittenValue
from stavewright.questions.wording import Wording
from stavewright.score.stave import Score
from stavewright.syllabus.scope import Scope
from stavewright.theory.duration import Duration, of_ticks, total_ticks
from stavewright.theory.metre import TABLE, UNIT_VALUES, TimeSignature
from stavewright.theory.metre_of import FittingTime, MetreOfError, also_written, fitting_all, of_length

_TRIES = 10
_TWO_BARS_SHARE = 0.4
_TWINS = frozenset({TimeSignature(4, 4), TimeSignature(2, 2)})
_SIGNS = {"C": ("common time",), "cut C": ("cut time", "alla breve")}

RowOfValues = Annotated[tuple[WrittenValue, ...], Meta(min_length=1, max_length=24)]
TimeText = Annotated[str, Meta(max_length=5)]


class AddTheTimeSignature(Facts, frozen=True, forbid_unknown_fields=True):
    """One or two full bars as they are printed, and the time signatures that may be answered."""

    bars: Annotated[tuple[RowOfValues, ...], Meta(min_length=1, max_length=4)]
    known: Annotated[tuple[TimeText, ...], Meta(min_length=1, max_length=40)]


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    plain = tuple(dict.fromkeys(TimeSignature.parse(text).plain for text in scope.times))
    for _ in range(_TRIES):
        time = pick_time(scope, rng).plain
        count = 2 if rng.random() < _TWO_BARS_SHARE else 1
        grouping = rng.choice(time.groupings) if time.groupings else None
        rows = [rhythm_bar(scope, rng, time, grouping=grouping, busy=True) for _ in range(count)]
        bars = tuple(beamed(row, time, grouping=grouping) for row in rows)
        played = [
            ([(one, False) for one in row], [value.beam for value in bar]) for row, bar in zip(rows, bars, strict=True)
        ]
        try:
            fits = [fit.time for fit in fitting_all(played, plain)]
        except MetreOfError:
            continue
        if fits[0] == time and (len(fits) == 1 or set(fits) <= _TWINS):
            return Draft(AddTheTimeSignature(bars, tuple(scope.times)), time.figures)
    return None


@lru_cache(maxsize=256)
def _fits(facts: AddTheTimeSignature) -> tuple[FittingTime, ...]:
    """The time signatures that fit: first those a pupil of the level knows, then the others, which are right as well.

    Source: common practice; a pupil who answers beyond the grade and fits the bar is not wrong.
    """
    known = tuple(dict.fromkeys(TimeSignature.parse(text).plain for text in facts.known))
    rows = [([(value.duration, value.rest) for value in bar], [value.beam for value in bar]) for bar in facts.bars]
    found = fitting_all(rows, known)
    others = tuple(time for time in (TimeSignature(*figures) for figures in TABLE) if time not in known)
    try:
        return (*found, *(fitting_all(rows, others) if others else ()))
    except MetreOfError:
        return found


def _solve(facts: AddTheTimeSignature) -> tuple[Answer, ...]:
    found: list[Answer] = []
    known = {TimeSignature.parse(text).plain for text in facts.known}
    for place, fit in enumerate(_fits(facts)):
        reason = f"{fit.reason[0].upper()}{fit.reason[1:]}."
        if place and fit.time not in known:
            reason = f"Also right, though it is met later than {found[0].text}. {reason}"
        elif place:
            reason = f"Also accepted, though the notes are grouped more as in {found[0].text}. {reason}"
        found.append(answer(Value(words=fit.time.figures), fit.time.figures, reason))
        for sign in also_written(fit.time):
            said = (sign.text, *_SIGNS[sign.text])
            found += [answer(Value(words=one), one, f"The sign {sign.text} means {fit.time.figures}.") for one in said]
    return tuple(found)


def _length(facts: AddTheTimeSignature) -> int:
    return total_ticks([value.duration for value in facts.bars[0]])


def _slips(facts: AddTheTimeSignature) -> tuple[Slip, ...]:
    fits = _fits(facts)
    time = fits[0].time
    right = {fit.time for fit in fits}
    found: list[Slip] = []

    def add(name: str, text: str, remedy: str) -> None:
        if all(text != other.figures for other in right) and all(text != one.text for one in found):
            found.append(slip(name, Value(words=text), text, remedy))

    beats = "Look at how the notes are beamed: in twos for simple time, in threes for compound time."
    if all(value.beam is None for bar in facts.bars for value in bar):
        beats = "Find where each beat begins: does a beat hold two or three of the shorter notes?"
    lower = "Count in one value all through the bar. The lower figure names that value."
    known = {TimeSignature.parse(text).plain for text in facts.known}
    for other in of_length(_length(facts)):
        if other in known and other.kind != time.kind and "irregular" not in (other.kind, time.kind):
            add("right length, wrong kind of beat", other.figures, beats)
    if time.kind == "compound":
        plain = Duration(time.beat.type)
        unit = next(figure for figure, value in UNIT_VALUES.items() if value == plain)
        add("dotted beats taken for plain ones", f"{time.count}/{unit}", beats)
    for unit in (time.unit * 2, time.unit // 2):
        if unit in UNIT_VALUES:
            add("lower figure names the wrong value", f"{time.beats}/{unit}", lower)
    notes = len(facts.bars[0])
    if 2 <= notes <= 12:
        add("counted the notes", f"{notes}/{time.unit}", "A long note counts for more than one. Add up the values.")
    undotted = sum(Duration(value.type).ticks for value in facts.bars[0] if value.tuplet is None)
    whole, left = divmod(undotted, time.unit_value.ticks)
    if not left and whole > 1:
        add("dots not counted", f"{whole}/{time.unit}", "A dot adds half of the note. Count it in.")
    return tuple(found)


def _work(facts: AddTheTimeSignature, method: str) -> tuple[Step, ...]:
    time = _fits(facts)[0].time
    ids = tuple(f"n{number}" for number in range(1, len(facts.bars[0]) + 1))
    total = of_ticks(_length(facts), max_dots=1)
    made = f", as long as a {total.text}" if total is not None else ""
    units = f"{time.beats} {time.unit_value.text}s"
    first = "the bar" if len(facts.bars) == 1 else "the first bar"
    steps = [Step(f"Add up {first}: {units} in all{made}.", ids, units)]
    if time.kind == "compound":
        steps.append(
            Step(f"Look at the groups: the {time.unit_value.text}s go in threes, so a beat is a {time.beat.text}.", ids)
        )
    elif time.kind == "irregular":
        steps.append(Step(f"The groups are of different lengths: this is irregular time, {units} in a bar.", ids))
    else:
        steps.append(
            Step(f"Look at the groups: a beat is a {time.beat.text}, and there are {time.count} of them.", ids)
        )
    steps.append(Step(f"So the upper figure is {time.beats} and the lower figure is {time.unit}.", (), time.figures))
    steps.append(Step(f"Check: count {'the bar' if len(facts.bars) == 1 else 'every bar'} aloud in {time.figures}."))
    return tuple(steps)


def _neighbours(facts: AddTheTimeSignature) -> tuple[Value, ...]:
    right = {fit.time for fit in _fits(facts)}
    time = _fits(facts)[0].time
    near = [(time.beats + step, time.unit) for step in (1, -1, 2)]
    return tuple(
        Value(words=f"{beats}/{unit}")
        for beats, unit in near
        if TABLE.get((beats, unit)) and not any((one.beats, one.unit) == (beats, unit) for one in right)
    )


def _score(facts: AddTheTimeSignature) -> Score:
    number = 0
    bars = []
    for row in facts.bars:
        events = []
        for value in row:
            number += 1
            events.append(event_of(value, f"n{number}"))
        bars.append(events)
    return bars_score(bars, None, free=True)


def _pose(facts: AddTheTimeSignature, wording: Wording) -> Posed:
    these = "this bar" if len(facts.bars) == 1 else "these bars"
    text = f"Which is the time signature of {these}?" if wording.choosing else f"Write the time signature of {these}."
    score = _score(facts)
    shown = StaveBlock(document_of(score), wording.say(picture(score, shapes=True)))
    return Posed((TextBlock(wording.say(text)), shown), None if wording.choosing else WordsForm("word"))


def _difficulty(facts: AddTheTimeSignature) -> float:
    """Compound and irregular time, many notes and irregular groups are harder (common practice)."""
    kind = {"simple": 0.0, "compound": 0.6, "irregular": 0.9}[_fits(facts)[0].time.kind]
    group = 0.3 if any(value.tuplet for bar in facts.bars for value in bar) else 0.0
    return -1.1 + kind + group + 0.08 * len(facts.bars[0])


KIND = Kind(
    id="add-the-time-signature",
    topic="metre",
    since=1,
    title="Add the time signature",
    facts=AddTheTimeSignature,
    forms={"written": "words", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"add-the-time-signature/{_fits(facts)[0].time.kind}",
    pool=lambda scope: None,
    seconds=25,
    marking=Marking("all-or-nothing"),
    neighbours=_neighbours,
)
