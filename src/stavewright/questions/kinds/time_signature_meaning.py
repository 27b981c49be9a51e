"""What a time signature says: how many beats are in the bar, which value is one beat, what C stands for."""

from __future__ import annotations

from random import Random

from stavewright.questions.documents import Answer, Slip, Step, TextBlock, WordsForm
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.setting.picking import pick
from stavewright.questions.showing.time_sign import time_block
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.syllabus.scope import Scope
from stavewright.theory.duration import Duration
from stavewright.theory.metre import UNIT_VALUES, TimeSignature

ASKED = ("beats", "value", "meaning", "figures")
_NUMBERS = {2: "two", 3: "three", 4: "four", 5: "five", 6: "six", 7: "seven", 9: "nine", 12: "twelve"}
_WRITE = {
    "beats": "How many main beats are in a bar with this time signature?",
    "value": "Which note value lasts one main beat here?",
    "meaning": "What does this time signature mean? Write how many beats of which value are in a bar.",
    "figures": "Which two figures does this sign stand for? Write them like 3/8.",
}
# 7/8 may be felt in three unequal beats, so its "main beats" would be a matter of opinion.
_IRREGULAR = {
    "beats": "How many {unit} beats are in a bar with this time signature?",
    "value": "Which note value does the lower figure of this time signature name?",
}
_PICK = {
    **_WRITE,
    "meaning": "What does this time signature mean?",
    "figures": "Which figures does this sign stand for?",
}


class TimeSignatureMeaning(Facts, frozen=True, forbid_unknown_fields=True):
    """A time signature as printed ("6/8", "C", "cut C") and what is asked of it, one of ASKED.

    Raises:
        BadDocument: another question, or the figures of a signature that is printed in figures.
    """

    time: str
    ask: str

    def __post_init__(self) -> None:
        if self.ask not in ASKED:
            raise BadDocument(f"a time signature is asked for its {', '.join(ASKED)}, not its {self.ask!r}")
        if self.ask == "figures" and TimeSignature.parse(self.time).symbol is None:
            raise BadDocument(f"{self.time} is printed in figures: ask them of C or cut C")


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    text = pick(rng, scope.times, scope.fresh.get("times", ()))
    time = TimeSignature.parse(text)
    ask = rng.choice(ASKED if time.symbol else ASKED[:3])
    meant = {
        "beats": str(time.row.count),
        "value": time.row.beat.text,
        "meaning": time.meaning(),
        "figures": "4/4" if time.symbol == "common" else "2/2",
    }
    return Draft(TimeSignatureMeaning(text, ask), meant[ask])


def _pose(facts: TimeSignatureMeaning, wording: Wording) -> Posed:
    time = TimeSignature.parse(facts.time)
    text = (_PICK if wording.choosing else _WRITE)[facts.ask]
    if time.kind == "irregular":
        text = _IRREGULAR.get(facts.ask, text).format(unit=time.unit_value.text)
    blocks = (TextBlock(wording.say(text)), time_block(time, wording))
    return Posed(blocks, None if wording.choosing else WordsForm("word" if facts.ask != "meaning" else "phrase"))


def _phrase(count: int, beat: Duration) -> str:
    return f"{count} {beat.text} beats in a bar"


def _said(count: int, beat: Duration) -> tuple[str, ...]:
    more = ("beats", "main beats", f"{beat.text} beats", f"{beat.text}s", "beats in a bar")
    return (str(count), _NUMBERS[count], *(f"{count} {what}" for what in more))


def _solve(facts: TimeSignatureMeaning) -> tuple[Answer, ...]:
    time = TimeSignature.parse(facts.time)
    reason = _reason(time)
    if facts.ask == "figures":
        return (answer(Value(words=time.figures), time.figures, reason),)
    if facts.ask == "beats":
        return tuple(answer(Value(words=said), said, reason) for said in _said(time.count, time.beat))
    if facts.ask == "value":
        beat = time.beat.text
        found = [answer(Value(words=said), said, reason) for said in _named(beat)]
        return tuple(found)
    found = []
    pairs = [(time.count, time.beat, reason)]
    if time.kind == "compound":
        also = f"{time.text} also says that {time.beats} {time.unit_value.text}s fill the bar."
        pairs.append((time.beats, time.unit_value, also))
    for count, value, why in pairs:
        beats = (f"{value.text} beats in a bar", f"{value.text} beats") if value == time.beat else ()
        tails = (*beats, f"{value.text}s in a bar", f"{value.text}s")
        found += [answer(Value(words=f"{count} {tail}"), f"{count} {tail}", why) for tail in tails]
    return tuple(found)


def _named(beat: str) -> tuple[str, ...]:
    return (beat, f"{beat}s", f"{beat} note", f"{beat} beat", f"1 {beat}")


def _reason(time: TimeSignature) -> str:
    start = f"{time.text[0].upper()}{time.text[1:]} stands for {time.figures}: " if time.symbol else ""
    unit = time.unit_value.text
    if time.kind == "compound":
        return (
            f"{start}{time.beats} {unit}s fill the bar and go in threes, so there are {time.count} beats, "
            f"each a {time.beat.text}."
        )
    counts = f"upper figure counts {time.count} beats, the lower figure {time.unit} makes each a {unit}."
    return f"{start}{'the' if start else 'The'} {counts}"


def _slips(facts: TimeSignatureMeaning) -> tuple[Slip, ...]:
    time = TimeSignature.parse(facts.time)
    found: list[Slip] = []

    def add(name: str, text: str, remedy: str) -> None:
        found.append(slip(name, Value(words=text), text, remedy))

    swap = "The upper figure counts. The lower figure names the value: 2 a minim, 4 a crotchet, 8 a quaver."
    threes = "When the upper figure is 6, 9 or 12, three of the short notes make one beat, a dotted note."
    stroke = "Look for the stroke through the C. With it there are two minim beats, without it four crotchets."
    other = TimeSignature.parse("cut C" if time.symbol == "common" else "C")
    if facts.ask == "figures":
        add("C and cut C mixed up", other.figures, stroke)
        add("took the C for three beats", "3/4", stroke)
        add("halved the figures wrongly", "2/4", stroke)
        return tuple(found)
    if time.symbol:
        add("C and cut C mixed up", _asked(other.count, other.beat, facts.ask), stroke)
    if time.kind == "compound":
        if facts.ask != "meaning":
            add("took the lower figure for the beat", _asked(time.beats, time.unit_value, facts.ask), threes)
        plain = Duration(time.beat.type)
        if facts.ask != "beats":
            add("dot left out", _asked(time.count, plain, facts.ask), threes)
            add("beats counted from the upper figure", _asked(time.beats, time.beat, facts.ask), threes)
    swapped = UNIT_VALUES.get(time.beats, Duration("semibreve" if time.beats == 1 else "crotchet"))
    add("figures swapped", _asked(time.unit, swapped, facts.ask), swap)
    if time.kind == "compound" and facts.ask == "meaning":
        add("took the lower figure for the beat", _asked(time.beats, time.unit_value, facts.ask), threes)
    return tuple(found)


def _asked(count: int, value: Duration, ask: str) -> str:
    return {"beats": str(count), "value": value.text, "meaning": _phrase(count, value)}[ask]


def _work(facts: TimeSignatureMeaning, method: str) -> tuple[Step, ...]:
    time = TimeSignature.parse(facts.time)
    steps: list[Step] = []
    if time.symbol:
        what = "C is an old half circle, for" if time.symbol == "common" else "C with a stroke stands for"
        steps.append(Step(f"The sign {what} {time.figures}.", (), time.figures))
    steps.append(
        Step(
            f"The lower figure is {time.unit}: it names the {time.unit_value.text}.",
            (),
            f"{time.unit} = {time.unit_value.text}",
        )
    )
    if time.kind == "compound":
        steps.append(
            Step(
                f"The upper figure is {time.beats}. It is more than 3 and divides by three, "
                f"so the {time.unit_value.text}s go in threes: {time.beats} ÷ 3 = {time.count} beats."
            )
        )
        steps.append(
            Step(f"Three {time.unit_value.text}s make a {time.beat.text}: that is one beat.", (), time.meaning())
        )
    else:
        steps.append(Step(f"The upper figure is {time.beats}: it counts {time.count} beats.", (), time.meaning()))
    steps.append(Step(f"Check: count a bar aloud, 1 to {time.count}, with a {time.beat.text} for each number."))
    return tuple(steps)


def _neighbours(facts: TimeSignatureMeaning) -> tuple[Value, ...]:
    time = TimeSignature.parse(facts.time)
    if facts.ask == "figures":
        return (Value(words="4/2"), Value(words="3/2"))
    if facts.ask == "beats":
        return tuple(Value(words=str(count)) for count in (2, 3, 4, 6, 8) if count != time.unit)
    values = [
        Duration(name, dots) for name in ("minim", "crotchet", "quaver") for dots in (0, int(time.kind == "compound"))
    ]
    counts = (time.count,) if facts.ask == "value" else (time.count, 5 - time.count if time.count < 4 else 3)
    return tuple(Value(words=_asked(count, value, facts.ask)) for value in values for count in counts)


def _difficulty(facts: TimeSignatureMeaning) -> float:
    """Compound beats and signs without figures are harder, the whole meaning harder than a part (common practice)."""
    time = TimeSignature.parse(facts.time)
    kind = {"simple": 0.0, "compound": 0.8, "irregular": 0.3}[time.kind]
    return -1.3 + kind + (0.3 if time.symbol else 0.0) + (0.3 if facts.ask == "meaning" else 0.0)


def _pool(scope: Scope) -> int:
    return sum(4 if time.symbol else 3 for time in scope.time_signatures)


KIND = Kind(
    id="time-signature-meaning",
    topic="metre",
    since=1,
    title="What a time signature means",
    facts=TimeSignatureMeaning,
    forms={"written": "words", "on-screen": "choice"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"time-signature-meaning/{TimeSignature.parse(facts.time).kind}",
    pool=_pool,
    seconds=15,
    marking=Marking("all-or-nothing"),
    neighbours=_neighbours,
    asks=lambda facts: frozenset({f"time:{facts.time}"}),
    shows=lambda facts: frozenset({f"time:{facts.time}"}),
)
