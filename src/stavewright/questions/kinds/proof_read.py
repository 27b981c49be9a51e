"""Proof-read music: in which bars are the faults of notation, and what are they?"""

from __future__ import annotations

from collections.abc import Callable
from random import Random
from typing import Annotated

from msgspec import Meta

from stavewright.questions.documents import Answer, ChoicesForm, Option, PlacesForm, Slip, StaveBlock, Step, TextBlock
from stavewright.questions.errors import BadDocument
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.score_document import ScoreDocument
from stavewright.questions.score_mirror import document_of, score_of
from stavewright.questions.setting.planted_faults import planted
from stavewright.questions.showing.extract import spoken_extract
from stavewright.questions.values import Place, Value
from stavewright.questions.wording import Wording
from stavewright.score.event import Event, Note
from stavewright.score.stave import Score
from stavewright.syllabus.scope import Scope
from stavewright.theory.clef import CLEFS
from stavewright.theory.duration import Duration
from stavewright.theory.key import signature_layout

_COUNT = 2
_MIDDLE = 4
_NUMBERS = {1: "one fault", 2: "two faults", 3: "three faults", 4: "four faults"}
_LETTERS = {"too many": "a", "too few": "b", "stem": "c", "last line": "d", "signature": "e"}
_TEXTS = {
    "too many": "too many beats in the bar",
    "too few": "too few beats in the bar",
    "stem": "a stem that points the wrong way",
    "last line": "a single bar line at the end",
    "signature": "the signs of the key signature in a wrong order",
}
_WHY = {
    "too many": "the values add up to more than the time signature says",
    "too few": "the values add up to less than the time signature says",
    "stem": "a note above the middle line has its stem down, one below it has its stem up",
    "last line": "a piece ends with a thin and a thick line",
    "signature": "sharps stand in the order F C G D A E B, flats the other way round",
}

Found = dict[int, str]


class ProofRead(Facts, frozen=True, forbid_unknown_fields=True):
    """The music as it is printed, and how many faults it has, one a bar at most.

    Raises:
        BadDocument: not one stave with a time signature, or another number of faults.
    """

    music: ScoreDocument
    count: Annotated[int, Meta(ge=1, le=4)]
    credit: str = ""

    def __post_init__(self) -> None:
        if len(self.music.staves) != 1 or self.music.staves[0].time is None or self.music.anacrusis:
            raise BadDocument("proof is read on one stave with a time signature and no upbeat")
        if len(_faults(self, _ticks)) != self.count:
            raise BadDocument(f"{len(_faults(self, _ticks))} bars have a fault, where the question says {self.count}")


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    made = None if melodies is None else planted(scope, rng, melodies, _COUNT)
    if made is None:
        return None
    score, where, credit = made
    places = Value(places=tuple(Place(bar) for bar in sorted(where)))
    letters = Value(choices=tuple(sorted({_LETTERS[name] for name in where.values()})))
    return Draft(ProofRead(document_of(score), _COUNT, credit), (places, letters))


def _score(facts: ProofRead) -> Score:
    return score_of(facts.music)


def _ticks(event: Event) -> int:
    return event.ticks


def _undotted(event: Event) -> int:
    return Duration(event.duration.type, 0, event.duration.tuplet).ticks


def _wrong_stem(event: Event, clef: str) -> bool:
    """Whether a single note has its stem on the wrong side (Gehrkens, 1914, §5: down from the middle line up)."""
    if not isinstance(event, Note) or event.stem is None:
        return False
    place = CLEFS[clef].place(event.pitch)
    return place != _MIDDLE and event.stem != ("up" if place < _MIDDLE else "down")


def _faults(facts: ProofRead, length: Callable[[Event], int]) -> Found:
    """The kind of fault in each bar that has one, every event as long as `length` says."""
    score = _score(facts)
    stave = score.staves[0]
    wanted = stave.time.ticks if stave.time is not None else 0
    found: Found = {}
    for index, bar in enumerate(stave.bars):
        number, total = score.bar_number(index), sum(length(event) for event in bar.events)
        if total != wanted:
            found[number] = "too many" if total > wanted else "too few"
        elif any(_wrong_stem(event, stave.clef) for event in bar.events):
            found[number] = "stem"
        elif index == len(stave.bars) - 1 and bar.line != "final":
            found[number] = "last line"
        elif index == 0 and stave.signs and stave.signs != signature_layout(stave.fifths or 0, CLEFS[stave.clef]):
            found[number] = "signature"
    return found


def _spoken(facts: ProofRead) -> str:
    """The music in words, and what stems, signature and last bar line look like where that is asked."""
    score = _score(facts)
    stave = score.staves[0]
    more = [f"The last bar line is {'a double one' if stave.bars[-1].line == 'final' else 'single'}."]
    if stave.signs:
        more.append(f"The signs of the signature are, from the left: {', '.join(p.step for p in stave.signs)}.")
    rows = []
    for index, bar in enumerate(stave.bars):
        stems = [_stem(event, stave.clef) for event in bar.events if isinstance(event, Note) and event.beam is None]
        if any(stems):
            rows.append(f"bar {score.bar_number(index)}: {', '.join(stem for stem in stems if stem)}")
    if rows:
        more.append(f"The stems of the notes without a beam point so: {'; '.join(rows)}.")
    return " ".join([spoken_extract(score), *more])[:2000]


def _stem(note: Note, clef: str) -> str:
    """Which way a note's stem is printed, nothing for a note without one."""
    if note.duration.type in ("semibreve", "breve"):
        return ""
    return note.stem or ("up" if CLEFS[clef].place(note.pitch) < _MIDDLE else "down")


def _pose(facts: ProofRead, wording: Wording) -> Posed:
    bars = "In which bar is it" if facts.count == 1 else "In which bars are they"
    where = "is one fault" if facts.count == 1 else f"are {_NUMBERS[facts.count]}"
    apart = "" if facts.count == 1 else ", each in a bar of its own"
    ask = f"There {where} of notation in this music{apart}. {bars}? Then mark what is wrong."
    options = tuple(Option(_LETTERS[name], text=wording.say(text)) for name, text in _TEXTS.items())
    credit = (TextBlock(facts.credit),) if facts.credit else ()
    shown = StaveBlock(facts.music, wording.say(_spoken(facts)))
    kinds = len(set(_faults(facts, _ticks).values()))
    forms = (PlacesForm("bars", facts.count), ChoicesForm(options, kinds))
    return Posed((TextBlock(wording.say(ask)), shown, *credit), forms)


def _value(found: Found) -> tuple[Value, Value]:
    places = Value(places=tuple(Place(bar) for bar in sorted(found)))
    return places, Value(choices=tuple(sorted({_LETTERS[name] for name in found.values()})))


def _text(found: Found) -> str:
    return "; ".join(f"bar {bar}: {_TEXTS[name]}" for bar, name in sorted(found.items()))


def _solve(facts: ProofRead) -> tuple[Answer, ...]:
    found = _faults(facts, _ticks)
    reason = "; ".join(f"bar {bar}: {_WHY[name]}" for bar, name in sorted(found.items()))
    return (answer(_value(found), _text(found), f"{reason[0].upper()}{reason[1:]}."),)


def _slips(facts: ProofRead) -> tuple[Slip, ...]:
    right = _faults(facts, _ticks)
    found: list[Slip] = []

    def add(name: str, wrong: Found, remedy: str) -> None:
        wrong = dict(sorted(wrong.items())[: facts.count])
        if wrong and _value(wrong) != _value(right) and all(_value(wrong) != one.value for one in found):
            found.append(slip(name, _value(wrong), _text(wrong), remedy))

    swap = {"too many": "too few", "too few": "too many"}
    add("dots not counted", _faults(facts, _undotted), "A dot adds half of the note. Count it in.")
    sums = {bar: swap.get(name, name) for bar, name in right.items()}
    add("too many and too few mixed", sums, "Count the beats of the bar aloud and compare with the upper figure.")
    bars = {bar: name for bar, name in right.items() if name in swap}
    add("only counted the beats", bars, "Look at stems, bar lines and signature too, not only at the values.")
    signs = {bar: name for bar, name in right.items() if name not in swap}
    add("did not count the beats", signs, "Add up every bar: do the values fill it?")
    add("stopped after the first fault", dict(sorted(right.items())[:1]), "The question says how many there are.")
    return tuple(found)


def _work(facts: ProofRead, method: str) -> tuple[Step, ...]:
    score, right = _score(facts), _faults(facts, _ticks)
    time = score.staves[0].time
    steps = [Step(f"Add up each bar: {time.meaning() if time else 'the time signature'}.", (), "tick")]
    steps.append(Step("Then look at clef and signature, stems, and the last bar line.", (), ""))
    for bar, name in sorted(right.items()):
        ids = tuple(event.id for event in score.staves[0].bars[bar - 1].events if event.id)
        steps.append(Step(f"Bar {bar}: {_TEXTS[name]}; {_WHY[name]}.", ids, _TEXTS[name]))
    steps.append(Step("Check: put every fault right in your head and look once more.", (), ""))
    return tuple(steps)


_HARD = {"too many": 0.0, "too few": 0.0, "stem": 0.3, "last line": 0.4, "signature": 0.5}


def _difficulty(facts: ProofRead) -> float:
    """Bars that do not add up are found first; signs that one does not read are overlooked (common practice)."""
    found = _faults(facts, _ticks)
    return -0.8 + sum(_HARD[name] for name in found.values()) + 0.2 * (len(found) - 1)


KIND = Kind(
    id="proof-read",
    topic="reading",
    since=1,
    title="Proof-reading",
    facts=ProofRead,
    forms={"written": "places", "on-screen": "places"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"proof-read/{' and '.join(sorted(set(_faults(facts, _ticks).values())))}",
    pool=lambda scope: None,
    seconds=75,
    marking=Marking("per-item"),
    marks=4,
)
