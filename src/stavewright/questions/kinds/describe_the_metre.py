"""Describe a metre: simple, compound or irregular, and how many beats are in the bar."""

from __future__ import annotations

from random import Random

from stavewright.questions.documents import Answer, ChoicesForm, Option, Slip, Step, TextBlock
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.setting.picking import pick
from stavewright.questions.showing.time_sign import time_block
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.syllabus.scope import Scope
from stavewright.theory.metre import TimeSignature

SORTS = ("simple", "compound", "irregular")
COUNTS = {2: "duple", 3: "triple", 4: "quadruple", 5: "quintuple", 7: "septuple"}
_LETTERS = dict(
    zip((*SORTS[:2], "duple", "triple", "quadruple", "irregular", "quintuple", "septuple"), "abcdefgh", strict=True)
)
_WORDS = {letter: word for word, letter in _LETTERS.items()}
_REGULAR = ("simple", "compound", "duple", "triple", "quadruple")


class DescribeTheMetre(Facts, frozen=True, forbid_unknown_fields=True):
    """A time signature as printed, and whether irregular metres stand among the picks."""

    time: str
    irregular: bool = False


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    text = pick(rng, scope.times, scope.fresh.get("times", ()))
    irregular = any(time.kind == "irregular" for time in scope.time_signatures)
    row = TimeSignature.parse(text).row
    names = {2: "duple", 3: "triple", 4: "quadruple", 5: "quintuple", 7: "septuple"}
    return Draft(DescribeTheMetre(text, irregular), f"{row.kind} {names[row.count]}")


def _value(sort: str, count: str) -> Value:
    return Value(choices=tuple(sorted((_LETTERS[sort], _LETTERS[count]))))


def _pose(facts: DescribeTheMetre, wording: Wording) -> Posed:
    shown = time_block(TimeSignature.parse(facts.time), wording)
    if wording.form == "choice":
        return Posed((TextBlock("Which words describe this time signature?"), shown))
    words = list(_LETTERS) if facts.irregular else list(_REGULAR)
    ask = "Mark two words that describe this time signature: its kind, and the number of its beats."
    return Posed((TextBlock(wording.say(ask)), shown), ChoicesForm(tuple(Option(_LETTERS[w], w) for w in words), 2))


def _solve(facts: DescribeTheMetre) -> tuple[Answer, ...]:
    time = TimeSignature.parse(facts.time)
    figures = f" It stands for {time.figures}." if time.symbol else ""
    if time.kind == "compound":
        why = f"Its {time.beats} {time.unit_value.text}s go in threes: {time.count} beats, each a {time.beat.text}."
    elif time.kind == "simple":
        why = f"It has {time.count} beats, each a plain {time.beat.text} that divides into two."
    else:
        parts = " or ".join("+".join(map(str, one)) for one in time.groupings[:2])
        why = f"{time.beats} {time.unit_value.text}s make no equal groups: they fall into {parts}."
    said = f"{time.kind} {COUNTS[time.count]}"
    return (answer(_value(time.kind, COUNTS[time.count]), said, why + figures),)


def _slips(facts: DescribeTheMetre) -> tuple[Slip, ...]:
    time = TimeSignature.parse(facts.time)
    count = COUNTS[time.count]
    found: list[Slip] = []

    def add(name: str, sort: str, beats: str, remedy: str) -> None:
        found.append(slip(name, _value(sort, beats), f"{sort} {beats}", remedy))

    threes = "When the upper figure is 6, 9 or 12, divide it by three: that is the number of beats."
    halves = "A beat that is a plain note divides into two: that is simple time. A dotted beat is compound."
    if time.kind == "compound":
        add("kinds mixed up", "simple", count, halves)
        groups = {6: "triple", 9: "triple", 12: "quadruple"}[time.beats]
        add("beats read from the upper figure", "simple", groups, threes)
        add("beats counted wrongly", "compound", COUNTS[3 if time.count != 3 else 2], threes)
    elif time.kind == "simple":
        add("kinds mixed up", "compound", count, halves)
        add(
            "beats read from the lower figure",
            "simple",
            COUNTS[4 if time.count != 4 else 2],
            "The upper figure counts.",
        )
    else:
        nearest = "duple" if time.count == 5 else "triple"
        add("called a regular metre", "simple", nearest, "5 and 7 make no equal groups: the metre is irregular.")
        add("groups taken for compound beats", "compound", nearest, "Its beats are of two lengths: it is irregular.")
        add("beats counted wrongly", "irregular", COUNTS[12 - time.count], "The upper figure counts.")
    return tuple(found)


def _neighbours(facts: DescribeTheMetre) -> tuple[Value, ...]:
    return tuple(_value(sort, count) for sort in SORTS[:2] for count in ("duple", "triple", "quadruple"))


def _work(facts: DescribeTheMetre, method: str) -> tuple[Step, ...]:
    time = TimeSignature.parse(facts.time)
    steps = [Step(f"The sign stands for {time.figures}.", (), time.figures)] if time.symbol else []
    upper = time.beats
    if time.kind == "compound":
        threes = "more than 3, and it divides by three, so the metre is compound"
        steps.append(Step(f"The upper figure is {upper}: {threes}.", (), "compound"))
        steps.append(Step(f"{upper} ÷ 3 = {time.count} beats: {COUNTS[time.count]}.", (), f"{upper} ÷ 3"))
    elif time.kind == "simple":
        steps.append(
            Step(f"The upper figure is {upper}: each beat divides into two, so the metre is simple.", (), "simple")
        )
        steps.append(Step(f"{upper} beats: {COUNTS[time.count]}.", (), str(upper)))
    else:
        steps.append(
            Step(f"The upper figure is {upper}: no equal groups of two or three, so it is irregular.", (), "irregular")
        )
        steps.append(Step(f"{upper} beats: {COUNTS[time.count]}.", (), str(upper)))
    steps.append(Step(f"Check: tap the bar in {time.count} and feel how each beat divides."))
    return tuple(steps)


def _tell(facts: DescribeTheMetre, value: Value) -> str:
    words = [_WORDS.get(letter, "?") for letter in value.choices or ()]
    return " ".join(sorted(words, key=lambda word: word not in SORTS))


def _difficulty(facts: DescribeTheMetre) -> float:
    """Compound time is harder than simple, 3/8 looks compound and is not (common practice)."""
    time = TimeSignature.parse(facts.time)
    return -1.0 + {"simple": 0.0, "compound": 0.6, "irregular": 0.2}[time.kind] + (0.5 if time.text == "3/8" else 0.0)


KIND = Kind(
    id="describe-the-metre",
    topic="metre",
    since=3,
    title="Describe the metre",
    facts=DescribeTheMetre,
    forms={"written": "choices", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"describe-the-metre/{TimeSignature.parse(facts.time).kind}",
    pool=lambda scope: len(scope.times),
    seconds=20,
    marking=Marking("per-item"),
    marks=2,
    neighbours=_neighbours,
    tell=_tell,
    asks=lambda facts: frozenset({f"metre:{facts.time}"}),
)
