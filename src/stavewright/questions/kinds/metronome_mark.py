"""A metronome mark: what it means, and the mark that gives the same speed with another beat.

How many seconds so many bars last is for training only, where the scope asks for it.
"""

from __future__ import annotations

from random import Random
from typing import Annotated

from msgspec import Meta

from stavewright.questions.documents import Answer, Slip, StaveBlock, Step, TextBlock, WordsForm
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_mirror import document_of
from stavewright.questions.setting.picking import pick
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.score.stave import Bar, Direction, Score, Stave
from stavewright.score.writing import row_of
from stavewright.syllabus.scope import Scope
from stavewright.theory.duration import Duration
from stavewright.theory.metre import TimeSignature
from stavewright.theory.pitch import Pitch

# The numbers on the scale of a metronome that are used most (common practice).
_NUMBERS = (40, 44, 48, 50, 52, 54, 56, 58, 60, 63, 66, 69, 72, 76, 80, 84, 88, 92, 96, 100, 104, 108, 112, 116, 120,
            126, 132, 138, 144, 152, 160, 168, 176, 184, 192, 200)  # fmt: skip
_LOW, _HIGH = 30, 240
_BEATS = ("minim", "crotchet", "quaver")
_DOTTED = ("dotted minim", "dotted crotchet")
_PRINTED = {"minim": "\U0001d157\U0001d165", "crotchet": "\u2669", "quaver": "\u266a"}
_ASKS = ("meaning", "same", "seconds")


class MetronomeMark(Facts, frozen=True, forbid_unknown_fields=True):
    """The beat and the number of a mark, and what is asked of it.

    "meaning": what the mark says; "same": the number that gives the same speed with the beat `other`; "seconds": how
    long `bars` bars in the time signature `time` last.

    Raises:
        BadDocument: the answer would not be a whole number, or there is no such question.
    """

    ask: str
    beat: str
    number: Annotated[int, Meta(ge=1, le=1000)]
    other: str = ""
    time: str = ""
    bars: Annotated[int, Meta(ge=0, le=200)] = 0

    def __post_init__(self) -> None:
        if self.ask not in _ASKS:
            raise BadDocument(f"{self.ask!r} is not asked of a metronome mark: use one of {', '.join(_ASKS)}")
        if Duration.parse(self.beat).type not in _PRINTED:
            raise BadDocument(f"a {self.beat} is no beat of a metronome mark: use one of {', '.join(_PRINTED)}")
        if self.ask == "same" and (self.number * _ticks(self.beat)) % _ticks(self.other):
            raise BadDocument(f"{self.beat} = {self.number} is no whole number of {self.other} beats a minute")
        if self.ask == "seconds" and (not self.bars or _length(self) * 60 % (_ticks(self.beat) * self.number)):
            raise BadDocument(f"{self.bars} bars at {self.beat} = {self.number} do not last whole seconds")


def _ticks(beat: str) -> int:
    return Duration.parse(beat).ticks


def _length(facts: MetronomeMark) -> int:
    return TimeSignature.parse(facts.time).ticks * facts.bars


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    compound = any(time.kind == "compound" for time in scope.time_signatures)
    fresh = _DOTTED[1:] if "6/8" in scope.fresh.get("times", ()) else ()
    beat = pick(rng, _BEATS + (_DOTTED if compound else ()), fresh)
    number = rng.choice(_NUMBERS[:29] if beat in _DOTTED else _NUMBERS)
    draw = rng.random()
    if scope.metronome_seconds and draw < 0.3:
        return _seconds(scope, rng)
    if draw < 0.6 or beat in _DOTTED:
        return Draft(MetronomeMark("meaning", beat, number), f"{number} {beat} beats in a minute")
    times, other = rng.choice([pair for pair in _related(beat) if _LOW <= number * pair[0] <= _HIGH] or [(0.0, "")])
    if not other or number * times != int(number * times):
        return Draft(MetronomeMark("meaning", beat, number), f"{number} {beat} beats in a minute")
    return Draft(MetronomeMark("same", beat, number, other), f"{other} = {int(number * times)}")


def _related(beat: str) -> list[tuple[float, str]]:
    """How many times as many beats of another value go into a minute."""
    place = _BEATS.index(beat)
    return [(2.0 ** (at - place), other) for at, other in enumerate(_BEATS) if at != place]


def _seconds(scope: Scope, rng: Random) -> Draft | None:
    beats = {"2/4": 2, "3/4": 3, "4/4": 4}
    time = rng.choice(sorted(beats))
    number = rng.choice((40, 60, 120))
    bars = 2 * rng.randint(2, 8)
    facts = MetronomeMark("seconds", "crotchet", number, "", time, bars)
    return Draft(facts, f"{beats[time] * bars * 60 // number} seconds")


def _pose(facts: MetronomeMark, wording: Wording) -> Posed:
    look = "Look at the mark above the stave."
    if facts.ask == "meaning":
        text = f"{look} {'Which is its meaning?' if wording.choosing else 'Write what it means.'}"
    elif facts.ask == "same":
        which = f"mark with {facts.other} beats"
        ask = f"Which {which} gives the same speed?" if wording.choosing else f"Write the {which} of the same speed."
        text = f"{look} {ask}"
    else:
        end = "Choose the answer." if wording.choosing else "Write the number of seconds."
        text = f"{look} The piece is in {facts.time} time. How long do {facts.bars} bars last? {end}"
    alt = f"A stave with the treble clef and three notes; above it stands the mark {facts.beat} = {facts.number}."
    shown = StaveBlock(document_of(_marked(facts)), wording.say(alt))
    return Posed((TextBlock(wording.say(text)), shown), None if wording.choosing else WordsForm("phrase"))


def _marked(facts: MetronomeMark) -> Score:
    """Three notes with the mark above the stave."""
    beat = Duration.parse(facts.beat)
    mark = f"{_PRINTED[beat.type]}{'.' * beat.dots} = {facts.number}"
    row = row_of([Pitch("G", 0, 4), Pitch("A", 0, 4), Pitch("B", 0, 4)], "crotchet")
    bar = Bar((row,), line="none", free=True, directions=(Direction("tempo", 0, mark, above=True),))
    return Score((Stave("treble", (bar,)),))


def _minute(facts: MetronomeMark, beat: str) -> int:
    """How many beats of a value go into a minute at this speed."""
    return facts.number * _ticks(facts.beat) // _ticks(beat)


def _lasts(facts: MetronomeMark) -> int:
    """How many seconds the bars last."""
    return _length(facts) * 60 // (_ticks(facts.beat) * facts.number)


def _solve(facts: MetronomeMark) -> tuple[Answer, ...]:
    beat, number = facts.beat, facts.number
    if facts.ask == "meaning":
        usual = f"{number} {beat} beats in a minute"
        reason = f"The note is the beat, the number says how many go into a minute: {usual}."
        return tuple(answer(Value(words=one), one, reason) for one in (usual, f"{number} {beat}s in a minute"))
    if facts.ask == "same":
        there = _minute(facts, facts.other)
        text = f"{facts.other} = {there}"
        reason = f"{number} {beat} beats take as long as {there} {facts.other} beats, so both fill one minute."
        short = answer(Value(words=str(there)), str(there), f"{reason} The number alone says it.")
        said = f"{there} {facts.other} beats in a minute"
        spoken = answer(Value(words=said), said, f"{reason} That is what the mark says.")
        return (answer(Value(words=text), text, reason), short, spoken)
    lasts = _lasts(facts)
    beats = _length(facts) // _ticks(beat)
    reason = f"{facts.bars} bars hold {beats} {beat} beats; at {number} a minute they last {lasts} seconds."
    return (
        answer(Value(words=f"{lasts} seconds"), f"{lasts} seconds", reason),
        answer(Value(words=str(lasts)), str(lasts), f"{reason} The number alone says it."),
    )


def _slips(facts: MetronomeMark) -> tuple[Slip, ...]:
    found: list[Slip] = []

    def add(name: str, text: str, remedy: str) -> None:
        found.append(slip(name, Value(words=text), text, remedy))

    beat, number = facts.beat, facts.number
    if facts.ask == "meaning":
        look = f"Look at the note in the mark: it is a {beat}, and it is the beat."
        for plain in (beat.removeprefix("dotted "), "crotchet", "quaver"):
            if plain != beat:
                add("beat unit ignored", f"{number} {plain} beats in a minute", look)
                break
        add("took the minute for a second", f"{number} {beat} beats in a second", "A metronome counts in minutes.")
        add("took it for a number of bars", f"{number} bars in a minute", "The number counts beats, not bars.")
        add("took it for a length", f"{number} {beat} beats in the piece", "It gives the speed, not the length.")
    elif facts.ask == "same":
        look = f"How many {facts.other}s are as long as one {beat}? Multiply or divide by that."
        other, there = facts.other, _minute(facts, facts.other)
        add("beat unit ignored", f"{other} = {number}", look)
        turned = number * number // there
        add("multiplied where it divides, or the other way", f"{other} = {turned}", look)
        add("doubled or halved once too often", f"{other} = {there // 2 if there < number else there * 2}", look)
    else:
        lasts = _lasts(facts)
        add("counted bars for beats", f"{max(1, facts.bars * 60 // number)} seconds", "Count the beats of one bar.")
        add("took one second for each beat", f"{_length(facts) // _ticks(beat)} seconds", "The number is a minute's.")
        add("divided the wrong way", f"{max(1, lasts * number // 60 * number // 60)} seconds", "60 seconds, not 1.")
    return tuple(found)


def _neighbours(facts: MetronomeMark) -> tuple[Value, ...]:
    if facts.ask == "meaning":
        others = [one for one in _BEATS if one not in (facts.beat, "crotchet")]
        return tuple(Value(words=f"{facts.number} {one} beats in a minute") for one in others)
    if facts.ask == "same":
        there = _minute(facts, facts.other)
        return tuple(Value(words=f"{facts.other} = {there + step}") for step in (-10, 10, 20))
    return tuple(Value(words=f"{_lasts(facts) + step} seconds") for step in (2, 6, 10))


def _work(facts: MetronomeMark, method: str) -> tuple[Step, ...]:
    beat, number = facts.beat, facts.number
    if facts.ask == "meaning":
        return (
            Step(f"The note before the equals sign is the beat: a {beat}.", (), beat),
            Step(f"The number says how many of them go into a minute: {number}.", (), f"{number} a minute"),
            Step(f"So: {number} {beat} beats in a minute."),
            Step(f"Check: {number} is {_speed(number)} one a second, since a minute has 60 seconds."),
        )
    if facts.ask == "same":
        there = _minute(facts, facts.other)
        longer, shorter = sorted((beat, facts.other), key=_ticks, reverse=True)
        times = _ticks(longer) // _ticks(shorter)
        how = f"multiply: {number} x {times}" if there > number else f"divide: {number} by {times}"
        return (
            Step(f"A {longer} is as long as {times} {shorter}s.", (), f"1 = {times}"),
            Step(f"There are {'more' if there > number else 'fewer'} {facts.other}s in a minute, so {how}."),
            Step(f"That gives {facts.other} = {there}.", (), str(there)),
            Step("Check: shorter beats always have the larger number."),
        )
    beats = _length(facts) // _ticks(beat)
    return (
        Step(f"Count the beats: {facts.bars} bars of {facts.time} hold {beats} {beat}s.", (), f"{beats} beats"),
        Step(f"{number} beats take 60 seconds.", (), f"{number} = 60 s"),
        Step(f"So {beats} beats take {beats} x 60 / {number} = {_lasts(facts)} seconds.", (), f"{_lasts(facts)} s"),
        Step("Check: at 60 a minute each beat would take one second."),
    )


def _speed(number: int) -> str:
    return "exactly" if number == 60 else "slower than" if number < 60 else "faster than"


def _difficulty(facts: MetronomeMark) -> float:
    """To say what a mark means is easy; to change the beat is harder, seconds hardest (common practice)."""
    base = {"meaning": -1.3, "same": 0.2, "seconds": 0.8}[facts.ask]
    return base + (0.3 if "dotted" in facts.beat else 0.0)


KIND = Kind(
    id="metronome-mark",
    topic="terms",
    since=1,
    title="Metronome marks",
    facts=MetronomeMark,
    forms={"written": "words", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"metronome-mark/{facts.ask}",
    pool=lambda scope: None,
    seconds=25,
    marking=Marking("all-or-nothing", meaning=True),
    neighbours=_neighbours,
    asks=lambda facts: frozenset({"term:metronome mark"}),
    shows=lambda facts: frozenset({"term:metronome mark"}),
)
