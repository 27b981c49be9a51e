"""Dot or tie: tied notes written as one where the metre allows it, and dotted notes written with ties."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import islice, product
from random import Random
from typing import Annotated

from msgspec import Meta

from stavewright.questions.documents import Answer, RhythmForm, Slip, StaveBlock, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.ties import Over, over_dotted, over_tied
from stavewright.questions.showing.barred import barred_score, empty_bars, spoken
from stavewright.questions.showing.pictures import picture
from stavewright.questions.solving.tied import Sound, fewest, rewritten, sounds
from stavewright.questions.values import Value, WrittenValue
from stavewright.questions.wording import Wording
from stavewright.score.stave import Score
from stavewright.syllabus.scope import Scope
from stavewright.theory.duration import Duration, of_ticks, total_ticks
from stavewright.theory.metre import TimeSignature
from stavewright.theory.regroup import as_ties

_TIES_SHARE = 0.35
_MOST_WAYS = 8

Row = tuple[WrittenValue, ...]
Keys = tuple[bool, tuple[Duration, ...], bool]
"""Whether a sound is a rest, its values, and whether a tie leads on."""


class DotOrTie(Facts, frozen=True, forbid_unknown_fields=True):
    """Full bars in one row, and whether ties are to go (`dots`: so many dots at most) or dots (`dots` 0).

    Raises:
        BadDocument: there is no tie to write otherwise, no dot to undo, or the bars are not full.
    """

    time: Annotated[str, Meta(max_length=5)]
    row: Annotated[Row, Meta(min_length=2, max_length=48)]
    dots: Annotated[int, Meta(ge=0, le=2)] = 1

    def __post_init__(self) -> None:
        time = TimeSignature.parse(self.time)
        if sum(one.duration.ticks for one in self.row) % time.ticks:
            raise BadDocument(f"the row does not fill bars of {self.time}: complete the last one")
        if self.dots and not any(one.tie for one in self.row[:-1]):
            raise BadDocument("there is no tie in this row, so there is nothing to write as one note")
        if not self.dots and not any(one.dots and not one.rest for one in self.row):
            raise BadDocument("there is no dotted note in this row, so there is nothing to write with a tie")


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    made: Over | None
    if rng.random() < _TIES_SHARE:
        made, dots = over_dotted(scope, rng), 0
    else:
        made, dots = over_tied(scope, rng), scope.dots
    if made is None:
        return None
    return Draft(DotOrTie(made.time, made.shown, dots), Value(rhythm=made.meant))


def _time(facts: DotOrTie) -> TimeSignature:
    return TimeSignature.parse(facts.time)


def _dotted(facts: DotOrTie) -> list[Sound]:
    return [one for one in sounds(facts.row) if any(d.dots for d in one.durations) and not one.values[0].rest]


def _undone(sound: Sound, *, turned: bool = False) -> list[Duration]:
    """A sound without dots: every dotted note as tied ones, the longest first, or turned round."""
    if sound.values[0].rest:
        return list(sound.durations)
    found: list[Duration] = []
    for one in sound.durations:
        parts = as_ties(one) if one.dots else (one,)
        found += reversed(parts) if turned else parts
    return found


def _models(facts: DotOrTie) -> list[Row]:
    """Every right row, the usual one first."""
    if facts.dots:
        time = _time(facts)
        model = rewritten(facts.row, lambda sound: fewest(sound, time, facts.dots))
        loose = rewritten(facts.row, lambda sound: _over_the_middle(sound, time) or fewest(sound, time, facts.dots))
        return [model] if loose == model else [model, loose]
    places = [one.first for one in _dotted(facts)]
    ways = islice(product((False, True), repeat=len(places)), _MOST_WAYS)
    return [_without_dots(facts, {place for place, turn in zip(places, way, strict=True) if turn}) for way in ways]


def _over_the_middle(sound: Sound, time: TimeSignature) -> tuple[Duration, ...]:
    """The one plain note that many write over the middle of four beats: two beats long, or one in syncopation."""
    beat, length, start = time.beat.ticks, total_ticks(list(sound.durations)), sound.start % time.ticks
    one = of_ticks(length, max_dots=0)
    met = (start, length) in ((beat, 2 * beat), (3 * beat // 2, beat))
    return (one,) if met and time.kind == "simple" and time.count == 4 and one is not None and sound.tied else ()


def _without_dots(facts: DotOrTie, turned: set[int]) -> Row:
    """The row without dots; `turned`: the first notes of the sounds that have the shorter note first."""
    return rewritten(facts.row, lambda one: _undone(one, turned=one.first in turned))


def _solve(facts: DotOrTie) -> tuple[Answer, ...]:
    reason = "A dot adds half of the note: it stands for a tie to the next shorter value."
    if facts.dots:
        kept = any(one.tied for one in sounds(_models(facts)[0]))
        reason = "Tied notes are added up and written as one note"
        reason += ", but not over a bar line, nor where a beat would be hidden." if kept else "."
    model, *others = [(row, spoken(row)) for row in _models(facts)]
    found = [answer(Value(rhythm=model[0]), model[1], reason)]
    why = "The shorter note may come first: both lengths count."
    if facts.dots:
        why = "Many write one note here, though it covers the middle of the bar."
    found += [answer(Value(rhythm=row), text, why) for row, text in others]
    return tuple(found)


def _slips(facts: DotOrTie) -> tuple[Slip, ...]:
    found: list[Slip] = []

    def add(name: str, change: Callable[[Sound], Sequence[Duration]], remedy: str, *, loose: bool = False) -> None:
        row = rewritten(facts.row, change)
        if loose:
            row = tuple(WrittenValue.of(one.duration, rest=one.rest) for one in row)
        if all(Value(rhythm=row) != one.value[0] for one in found):
            found.append(slip(name, Value(rhythm=row), spoken(row), remedy))

    time = _time(facts)
    half = "A dot adds half of the note before it, whatever the beat is."
    if facts.dots:
        add("dot taken for one beat", lambda one: _beat_dot(one, time), half)
        lines = "A note may not run over a bar line, or over the middle of a bar of four beats: there the tie stays."
        add("joined over a bar line or a beat", _joined, lines)
        add("second note left out", lambda one: one.durations[:1], "A tie adds the second note: count both.")
        add("a dot for every tie", _dot_each, half)
        add("ties left as they were", lambda one: one.durations, "Add up each pair of tied notes first.")
        return tuple(found)
    beat = Duration(time.beat.type)
    add("dot taken for one beat", lambda one: _with_second(one, lambda _: beat), half)
    add("tied to its own value", lambda one: _with_second(one, lambda value: value), half)
    add(
        "dot left out", lambda one: [Duration(d.type) for d in one.durations], "The dot lasts too: tie another note on."
    )
    add("ties left out", _undone, "Without a tie the second note is played again.", loose=True)
    return tuple(found)


def _beat_dot(sound: Sound, time: TimeSignature) -> Sequence[Duration]:
    first, *others = sound.durations
    if [one.ticks for one in others] == [Duration(time.beat.type).ticks] and not first.dots:
        return (Duration(first.type, 1),)
    return sound.durations


def _joined(sound: Sound) -> Sequence[Duration]:
    one = of_ticks(total_ticks(list(sound.durations)), max_dots=2)
    return sound.durations if one is None else (one,)


def _dot_each(sound: Sound) -> Sequence[Duration]:
    longest = max(sound.durations, key=lambda one: one.ticks)
    return (Duration(longest.type, min(2, len(sound.values) - 1)),) if sound.tied else sound.durations


def _with_second(sound: Sound, second: Callable[[Duration], Duration]) -> list[Duration]:
    found: list[Duration] = []
    for one in sound.durations:
        plain = Duration(one.type)
        found += [plain, second(plain)] if one.dots and not sound.values[0].rest else [one]
    return found


def _faults(facts: DotOrTie, value: Value) -> int | None:
    """Sounds that are not written as in the nearest right row; None where there are more sounds or fewer.

    Where dots are to go, any plain notes that are tied together and add up to the dotted one are right.
    """
    given = [_keys(one) for one in sounds(value.rhythm or ())]
    wrong: list[int] = []
    for row in _models(facts):
        right = [_keys(one) for one in sounds(row)]
        if len(right) != len(given):
            return None
        free = [bool(not facts.dots and one in _dotted(facts)) for one in sounds(facts.row)]
        wrong.append(
            sum(a != b and not (may and _adds_up(a, b)) for a, b, may in zip(given, right, free, strict=True))
        )
    return min(wrong)


def _adds_up(given: Keys, right: Keys) -> bool:
    """Whether tied notes without dots last as long as they should."""
    plain = not any(one.dots or one.tuplet for one in given[1])
    return plain and (given[0], given[2]) == (right[0], right[2]) and total_ticks(given[1]) == total_ticks(right[1])


def _keys(sound: Sound) -> Keys:
    return (sound.values[0].rest, sound.durations, sound.values[-1].tie)


def _sum(parts: Sequence[Duration]) -> str:
    return " + ".join(one.text for one in parts)


def _work(facts: DotOrTie, method: str) -> tuple[Step, ...]:
    if not facts.dots:
        steps = [Step("A dot adds half of the note: write that half as a note of its own and tie it on.")]
        for one in _dotted(facts)[:3]:
            said = _sum(_undone(one))
            steps.append(Step(f"{_capital(_sum(one.durations))} = {said}.", one.ids, said))
        steps.append(Step(f"Check: count both rows. {_check(_time(facts))}"))
        return tuple(steps)
    time = _time(facts)
    beats = f"A bar of {time.text} has {time.count} {time.beat.text} beats. Mark the bar lines and beats."
    steps = [Step(beats, (), time.text)]
    for one in [one for one in sounds(facts.row) if one.tied][:3]:
        new = fewest(one, time, facts.dots)
        said = f"{_sum(one.durations)} = {_sum(new)}"
        if len(new) == 1:
            steps.append(Step(f"{_capital(said)}.", one.ids, new[0].text))
        else:
            why = "a bar line stands inside" if _over_line(one, time) else "one note would hide a beat"
            steps.append(Step(f"{_capital(_sum(one.durations))}: {why}, so a tie stays.", one.ids, "tie stays"))
    steps.append(Step(f"Check: count both rows. {_check(time)}"))
    return tuple(steps)


def _over_line(sound: Sound, time: TimeSignature) -> bool:
    return sound.start % time.ticks + total_ticks(list(sound.durations)) > time.ticks


def _capital(text: str) -> str:
    return text[0].upper() + text[1:]


def _check(time: TimeSignature) -> str:
    return f"Has every bar {time.count} {time.beat.text} beats?"


def _draw(facts: DotOrTie, value: Value) -> Score:
    return barred_score(value.rhythm or (), _time(facts))


def _pose(facts: DotOrTie, wording: Wording) -> Posed:
    time = _time(facts)
    score = barred_score(facts.row, time)
    shown = StaveBlock(document_of(score), wording.say(picture(score, shapes=True)))
    if facts.dots:
        ways = "with as few notes as the time signature allows, dotted ones where they fit"
        ask = f"Write this rhythm again {ways}. Tie notes only where you must."
        pick = f"Which picture shows this rhythm {ways}?"
    else:
        ask = "Write this rhythm again without dots. Use ties, and change nothing in the sound."
        pick = "Which picture shows this rhythm with ties in place of dots?"
    if wording.choosing:
        return Posed((TextBlock(wording.say(pick)), shown))
    given = document_of(empty_bars(time, len(score.staves[0].bars)))
    room = wording.say(f"Empty bars in {time.text} time to write in.")
    return Posed((TextBlock(wording.say(ask)), shown), RhythmForm("values", given, room))


def _difficulty(facts: DotOrTie) -> float:
    """Ties that must stay, double dots, and beats other than crotchets are harder (common practice)."""
    time = _time(facts)
    kept = sum(one.tied for one in sounds(_models(facts)[0])) if facts.dots else 0
    twice = sum(one.dots > 1 for one in (*facts.row, *_models(facts)[0]))
    return -0.9 + 0.4 * min(kept, 2) + 0.3 * min(twice, 2) + (0.3 if time.beat != Duration("crotchet") else 0.0)


KIND = Kind(
    id="dot-or-tie",
    topic="values",
    since=2,
    title="Dots and ties",
    facts=DotOrTie,
    forms={"written": "rhythm", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"dot-or-tie/{'dots' if facts.dots else 'ties'}",
    pool=lambda scope: None,
    seconds=60,
    marking=Marking("minus-one-per-fault"),
    marks=2,
    draw=_draw,
    faults=_faults,
)
