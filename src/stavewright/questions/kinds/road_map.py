"""Find the way through repeats, endings, D.C., D.S. and coda: how many bars are played, and in which order."""

from __future__ import annotations

from itertools import product
from random import Random
from string import ascii_lowercase
from typing import Annotated

from msgspec import Meta

from stavewright.questions.documents import Answer, NumberForm, Option, OrderForm, Slip, StaveBlock, Step, TextBlock
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_document import ScoreDocument
from stavewright.questions.score_mirror import document_of, score_of
from stavewright.questions.setting.roads import LENGTH, offered, pick_road, with_road
from stavewright.questions.showing.extract import spoken_extract
from stavewright.questions.solving.road import Rules, has, played, stretches
from stavewright.questions.values import Value
from stavewright.questions.wording import Wording
from stavewright.syllabus.scope import Scope

_TRIES = 8
_LONGEST = 1990
Number = Annotated[int, Meta(ge=1, le=400)]


class RoadMap(Facts, frozen=True, forbid_unknown_fields=True):
    """The music as it is printed, and the stretches (first and last bar) that are offered to be put in order."""

    music: ScoreDocument
    offered: Annotated[tuple[tuple[Number, Number], ...], Meta(min_length=2, max_length=10)]
    credit: str = ""


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    road = pick_road(scope, rng)
    for _ in range(_TRIES):
        extract = None if melodies is None else melodies.melody(scope, rng, bars=LENGTH)
        if extract is None:
            return None
        score = None if extract.score.anacrusis else with_road(extract.score, road)
        if score is None or len(score.staves) != 1:
            continue
        among = offered(road, rng)
        letters, left = [], list(enumerate(among))
        for stretch in road.stretches:
            place = next(pair for pair in left if pair[1] == stretch)
            left.remove(place)
            letters.append(ascii_lowercase[place[0]])
        count = sum(end - start + 1 for start, end in road.stretches)
        facts = RoadMap(document_of(score), among, extract.credit)
        return Draft(facts, (Value(number=count), Value(order=tuple(letters))))
    return None


def _leaps(facts: RoadMap) -> str:
    """The letters of the sign that leads back ("D.C." or "D.S."), or nothing."""
    bars = facts.music.staves[0].bars
    if any(has(bar, "da-capo") for bar in bars):
        return "D.C."
    return "D.S." if any(has(bar, "dal-segno") for bar in bars) else ""


def _stretch_text(stretch: tuple[int, int], again: bool) -> str:
    start, end = stretch
    return f"{f'bar {start}' if start == end else f'bars {start} to {end}'}{' again' if again else ''}"


def _spoken(facts: RoadMap) -> str:
    """The music in words, and after it the signs that stand at the bar lines."""
    signs: list[str] = []
    for number, bar in enumerate(facts.music.staves[0].bars, 1):
        if bar.repeat_start:
            signs.append(f"A repeat begins at bar {number}.")
        if bar.ending is not None:
            signs.append(f"Bar {number} stands under the number {bar.ending}.")
        if bar.line == "repeat-end":
            signs.append(f"A repeat sign ends bar {number}.")
    said = " ".join(signs)
    music = spoken_extract(score_of(facts.music))
    return f"{music} {said}" if len(music) + len(said) < _LONGEST else f"{len(facts.music.staves[0].bars)} bars. {said}"


def _pose(facts: RoadMap, wording: Wording) -> Posed:
    leap = _leaps(facts)
    rule = f" Repeats are not played again after the {leap}" if leap else ""
    ask = (
        "How many bars are played in all? Then put the stretches that are played in order, by their letters; some are "
        f"not needed. A stretch runs on until the player goes to a bar that is not the next one.{rule}"
    )
    items = tuple(
        Option(ascii_lowercase[at], text=wording.say(_stretch_text(one, facts.offered.index(one) < at)))
        for at, one in enumerate(facts.offered)
    )
    shown = StaveBlock(facts.music, wording.say(_spoken(facts)))
    credit = (TextBlock(facts.credit),) if facts.credit else ()
    asked = TextBlock(wording.say(ask if ask.endswith(".") else f"{ask}."))
    return Posed((asked, shown, *credit), (NumberForm(wording.say("bars")), OrderForm(items)))


def _letters(facts: RoadMap, order: tuple[int, ...]) -> tuple[str, ...] | None:
    """The letters of the stretches of a way, each letter once; None where one of them is not offered."""
    left = dict(enumerate(facts.offered))
    found: list[str] = []
    for stretch in stretches(order):
        place = next((at for at, one in left.items() if one == stretch), None)
        if place is None:
            return None
        del left[place]
        found.append(ascii_lowercase[place])
    return tuple(found)


def _text(order: tuple[int, ...]) -> str:
    said = ", then ".join(_stretch_text(one, again=False) for one in stretches(order))
    return f"{len(order)} bars: {said}"


def _solve(facts: RoadMap) -> tuple[Answer, ...]:
    order = played(facts.music)
    letters = _letters(facts, order)
    if letters is None:
        return ()
    lengths = [end - start + 1 for start, end in stretches(order)]
    sums = " + ".join(str(one) for one in lengths)
    reason = f"In letters: {', '.join(letters)}. {sums} = {len(order)} bars. {' '.join(_signs(facts))}"
    number = Value(number=len(order))
    found = [answer((number, Value(order=letters)), _text(order), reason.strip())]
    for others in product(*_also(facts, order)):
        if others != letters:
            why = f"In letters: {', '.join(others)}. The same stretches: a letter may stand for its twin."
            found.append(answer((number, Value(order=others)), _text(order), why))
    return tuple(found)


def _also(facts: RoadMap, order: tuple[int, ...]) -> list[list[str]]:
    """For each stretch of a way every letter that says it; one that says "again" only if all its bars came before."""
    found: list[list[str]] = []
    heard: set[int] = set()
    for start, end in stretches(order):
        bars = set(range(start, end + 1))
        places = [at for at, one in enumerate(facts.offered) if one == (start, end)]
        found.append([ascii_lowercase[at] for at in (places if bars <= heard else places[:1])])
        heard |= bars
    return found


def _signs(facts: RoadMap) -> list[str]:
    """What each sign on the way asks for."""
    said: list[str] = []
    bars = facts.music.staves[0].bars
    for number, bar in enumerate(bars, 1):
        if bar.line == "repeat-end":
            back = max((at for at in range(1, number + 1) if bars[at - 1].repeat_start), default=1)
            said.append(f"The repeat sign after bar {number} leads back to bar {back}, once.")
        if bar.ending == 1:
            said.append(f"The second time, bar {number} is left out.")
        if has(bar, "da-capo"):
            said.append(f"D.C. after bar {number} leads back to the beginning.")
        if has(bar, "dal-segno"):
            sign = next((at for at, one in enumerate(bars, 1) if has(one, "segno")), 1)
            said.append(f"D.S. after bar {number} leads back to the sign, at bar {sign}.")
    for number, bar in enumerate(bars, 1):
        if has(bar, "fine"):
            said.append(f"Then Fine ends the piece after bar {number}.")
        if has(bar, "to-coda"):
            said.append(f"Then the music leaves bar {number} for the coda.")
    return said


_SLIPS = (
    ("repeats taken again after D.C.", Rules(again=True), "After D.C. or D.S. play straight on, without repeats."),
    ("repeats left out", Rules(repeats=False), "Two dots at a double bar line: go back and play it again."),
    ("went past the Fine", Rules(fine=False), "Fine is Italian for end: after going back, stop there."),
    ("stopped at the Fine the first time", Rules(early=True), "Pass the Fine the first time; stop when you come back."),
    ("did not go back", Rules(jump=False), "D.C. sends you to the beginning, D.S. to the sign."),
    ("both endings each time", Rules(endings=False), "Play the bar under 1 the first time only."),
    ("D.S. taken for D.C.", Rules(segno=False), "D.S. goes back to the sign, not to the beginning."),
    ("went past the coda sign", Rules(coda=False), "After going back, leave at To Coda and go on at the coda."),
    ("each bar once", Rules(repeats=False, jump=False), "Look for dots at the bar lines and for words over the stave."),
)  # fmt: skip


def _slips(facts: RoadMap) -> tuple[Slip, ...]:
    right = played(facts.music)
    found: list[Slip] = []
    for name, rules, remedy in _SLIPS:
        order = played(facts.music, rules)
        letters = _letters(facts, order)
        if order == right or letters is None or any(_text(order) == one.text for one in found):
            continue
        found.append(slip(name, (Value(number=len(order)), Value(order=letters)), _text(order), remedy))
    return tuple(found)


def _work(facts: RoadMap, method: str) -> tuple[Step, ...]:
    order = played(facts.music)
    parts = stretches(order)
    sums = " + ".join(str(end - start + 1) for start, end in parts)
    way = ", then ".join(_stretch_text(one, again=False) for one in parts)
    signs = [Step(said, (), "") for said in _signs(facts)[:3]]
    return (
        *signs,
        Step(f"So the way is: {way}.", (), ", ".join(f"{start}-{end}" for start, end in parts)),
        Step(f"Count the bars of each stretch: {sums} = {len(order)}.", (), f"{sums} = {len(order)}"),
        Step("Check: follow the way once more with a finger on the page.", (), ""),
    )


def _difficulty(facts: RoadMap) -> float:
    """Every leap adds; endings, a sign to go back to and a coda add more (common practice)."""
    bars = facts.music.staves[0].bars
    ways = len(stretches(played(facts.music)))
    more = 0.3 * any(bar.ending for bar in bars) + 0.3 * any(has(bar, "dal-segno") for bar in bars)
    return -1.6 + 0.5 * ways + more + 0.3 * any(has(bar, "coda") for bar in bars)


def _shape(facts: RoadMap) -> str:
    """What kind of way it is, for the pupil's memory."""
    bars = facts.music.staves[0].bars
    if any(has(bar, "coda") for bar in bars):
        return "coda"
    return _leaps(facts) or ("endings" if any(bar.ending for bar in bars) else "repeat")


KIND = Kind(
    id="road-map",
    topic="terms",
    since=1,
    title="The way through the music",
    facts=RoadMap,
    forms={"written": "number", "on-screen": "number"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"road-map/{_shape(facts)}",
    pool=lambda scope: None,
    seconds=75,
    marking=Marking("per-item"),
    marks=3,
    asks=lambda facts: frozenset({f"sign:{_shape(facts)}"}),
)
