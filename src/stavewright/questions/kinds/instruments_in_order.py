"""Instruments of one family in order, from the highest to the lowest or back."""

from __future__ import annotations

from functools import lru_cache
from itertools import combinations
from random import Random
from string import ascii_lowercase
from typing import Annotated

from msgspec import Meta

from stavewright.questions.documents import Answer, Option, OrderForm, Slip, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_document import Word
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.syllabus.scope import Scope
from stavewright.theory.instrument import instrument

# Each family from the highest to the lowest, as a score has it. Source: common practice.
_ORDERS = {
    "strings": ("violin", "viola", "cello", "double bass"),
    "woodwind": ("piccolo", "flute", "oboe", "clarinet", "bassoon", "contrabassoon"),
    "brass": ("trumpet", "horn", "trombone", "tuba"),
}
# Two whose order the books do not agree on: Gehrkens, Music Notation and Terminology (1914), Appendix B, lets the horn
# go down to B1 and the trombone to E2; the MuseScore 3.2.3 table has F2 and E2. Never set together, either way right.
_DISPUTED = ("horn", "trombone")


class InstrumentsInOrder(Facts, frozen=True, forbid_unknown_fields=True):
    """Instruments in the order they are printed, and whether the lowest comes first.

    Raises:
        BadDocument: not three to eight of one family, or two that reach down equally far or have no known range.
    """

    among: Annotated[tuple[Word, ...], Meta(max_length=8)]
    rising: bool = False

    def __post_init__(self) -> None:
        found = [instrument(name) for name in self.among]
        lows = {one.usual.low.midi for one in found if one.usual is not None}
        if len({one.family for one in found}) != 1 or not 3 <= len(self.among) == len(lows):
            raise BadDocument(
                f"instruments in order: three or more of one family are needed, each with its own lowest note; "
                f"got {', '.join(self.among)}"
            )


@lru_cache(maxsize=1)
def _choices() -> tuple[tuple[str, ...], ...]:
    """Every three or four of a family whose order is beyond doubt, from the highest to the lowest."""
    chosen = [some for family in _ORDERS.values() for size in (3, 4) for some in combinations(family, size)]
    return tuple(some for some in chosen if not set(_DISPUTED) <= set(some))


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    family = rng.choice(sorted(_ORDERS))
    ordered = rng.choice([one for one in _choices() if one[0] in _ORDERS[family]])
    rising = rng.random() < 0.5
    among = list(ordered)
    while tuple(among) in (ordered, ordered[::-1]):
        rng.shuffle(among)
    wanted = ordered[::-1] if rising else ordered
    meant = tuple(ascii_lowercase[among.index(name)] for name in wanted)
    return Draft(InstrumentsInOrder(tuple(among), rising), Value(order=meant))


def _pose(facts: InstrumentsInOrder, wording: Wording) -> Posed:
    options = tuple(Option(letter, text=name) for letter, name in zip(ascii_lowercase, facts.among, strict=False))
    text = f"Put these instruments in order by how low they reach, the {_first(facts)} first."
    return Posed((TextBlock(wording.say(text)),), OrderForm(options))


def _first(facts: InstrumentsInOrder) -> str:
    return "lowest" if facts.rising else "highest"


def _low(name: str) -> int:
    """How deep an instrument sounds: its lowest note, in semitones."""
    usual = instrument(name).usual
    return 0 if usual is None else usual.low.midi


def _order(facts: InstrumentsInOrder) -> tuple[str, ...]:
    letters = ascii_lowercase[: len(facts.among)]
    return tuple(sorted(letters, key=lambda one: _low(_name(facts, one)), reverse=not facts.rising))


def _name(facts: InstrumentsInOrder, letter: str) -> str:
    return facts.among[ascii_lowercase.index(letter)]


def _text(facts: InstrumentsInOrder, order: tuple[str, ...]) -> str:
    return ", ".join(_name(facts, letter) for letter in order)


def _lowest_note(name: str) -> str:
    usual = instrument(name).usual
    return "" if usual is None else f"{usual.low.name.text} {usual.low.octave}"


def _solve(facts: InstrumentsInOrder) -> tuple[Answer, ...]:
    order = _order(facts)
    lows = "; ".join(f"{name}, {_lowest_note(name)}" for name in _text(facts, order).split(", "))
    reason = f"By their lowest notes as they sound: {lows}."
    found = [answer(Value(order=order), _text(facts, order), reason)]
    names = [_name(facts, letter) for letter in order]
    if set(_DISPUTED) <= set(names):
        one, other = (names.index(name) for name in _DISPUTED)
        turned = list(order)
        turned[one], turned[other] = turned[other], turned[one]
        why = f"Books differ on how low the {' and the '.join(_DISPUTED)} reach: either may come first."
        found.append(answer(Value(order=tuple(turned)), _text(facts, tuple(turned)), why))
    return tuple(found)


def _slips(facts: InstrumentsInOrder) -> tuple[Slip, ...]:
    order = _order(facts)
    found: list[Slip] = []

    right = {one.value[0].order for one in _solve(facts)}

    def add(name: str, wrong: tuple[str, ...], remedy: str) -> None:
        if wrong not in right and all(wrong != one.value[0].order for one in found):
            found.append(slip(name, Value(order=wrong), _text(facts, wrong), remedy))

    for at in range(len(order) - 1):
        one, other = _name(facts, order[at]), _name(facts, order[at + 1])
        lower, higher = sorted((one, other), key=_low)
        remedy = f"The {lower} goes down to {_lowest_note(lower)}, the {higher} only to {_lowest_note(higher)}."
        add("neighbours swapped", (*order[:at], order[at + 1], order[at], *order[at + 2 :]), remedy)
    add("began at the wrong end", order[::-1], f"Read the question again: the {_first(facts)} comes first.")
    by_name = tuple(sorted(order, key=lambda letter: _name(facts, letter)))
    look = "Picture the players: mostly, the bigger the instrument, the lower it reaches."
    add("went by the alphabet", by_name, look)
    return tuple(found)


def _work(facts: InstrumentsInOrder, method: str) -> tuple[Step, ...]:
    names = _text(facts, _order(facts)).split(", ")
    last = "highest" if facts.rising else "lowest"
    family = instrument(names[0]).family
    return (
        Step(f"They are all of the {family} family: mostly, the bigger the instrument, the lower it reaches."),
        Step(f"The {_first(facts)} is the {names[0]}, the {last} is the {names[-1]}.", (), f"1 {names[0]}"),
        Step(f"Put the rest between them: {', '.join(names)}.", (), ", ".join(names)),
        Step(f"Check: go back from the {last} to the {_first(facts)}."),
    )


def _difficulty(facts: InstrumentsInOrder) -> float:
    """Strings are the easiest; four instruments are harder than three (common practice)."""
    family = instrument(facts.among[0]).family
    return -0.9 + {"strings": 0.0, "woodwind": 0.4, "brass": 0.3}.get(family, 0.5) + 0.3 * (len(facts.among) - 3)


def _tokens(facts: InstrumentsInOrder) -> frozenset[str]:
    return frozenset(f"instrument:{name}" for name in facts.among)


KIND = Kind(
    id="instruments-in-order",
    topic="instruments",
    since=4,
    title="Instruments from high to low",
    facts=InstrumentsInOrder,
    forms={"written": "order", "on-screen": "order"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"instruments-in-order/{instrument(facts.among[0]).family}",
    pool=lambda scope: 2 * len(_choices()),
    seconds=20,
    marking=Marking("all-or-nothing"),
    asks=_tokens,
    shows=_tokens,
)
