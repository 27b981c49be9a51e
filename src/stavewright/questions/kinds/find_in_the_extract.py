"""Find the bars or the note of an extract that have a property which its notes prove."""

from __future__ import annotations

from random import Random
from typing import Annotated

from msgspec import Meta

from stavewright.questions.documents import Answer, PlacesForm, Slip, Step, TextBlock
from stavewright.questions.kind import Draft, Facts, Kind, Marking, Posed, answer, slip
from stavewright.questions.melodies import Melodies, Stimulus
from stavewright.questions.properties import Property
from stavewright.questions.score_document import ScoreDocument
from stavewright.questions.setting.extract_finds import finds
from stavewright.questions.setting.flat_line import flatten
from stavewright.questions.setting.in_hand import in_hand
from stavewright.questions.showing.extract import extract_blocks
from stavewright.questions.showing.find_words import by_notes, search_words
from stavewright.questions.solving.find_slips import UPBEAT, how_to_find, wrong_finds
from stavewright.questions.solving.finders import FINDERS
from stavewright.questions.solving.line import line_of
from stavewright.questions.values import Place, Value
from stavewright.questions.wording import Wording
from stavewright.syllabus.scope import Scope
from stavewright.theory.interval import ordinal

_BARS = 8
# What nearly every melody has comes seldom, what few have comes often (by how often each was fair, 600 melodies).
_OFTEN = 4
_SELDOM = {"loudest": 1, "quietest": 1, "hairpin": 1, "longest": 1, "value": 2, "highest": 2, "lowest": 2}


class FindInTheExtract(Facts, frozen=True, forbid_unknown_fields=True):
    """The extract as it is printed, what is to be found in it, and how many places the question says there are."""

    extract: ScoreDocument
    search: Property
    count: Annotated[int, Meta(ge=1, le=400)] = 1
    block: str = "extract"
    credit: str = ""


def _set(scope: Scope, rng: Random, stimulus: Stimulus | None, melodies: Melodies | None) -> Draft | None:
    found = in_hand(scope, rng, stimulus, melodies, _BARS)
    if found is None:
        return None
    memo = {} if stimulus is None else stimulus.memo
    if "finds" not in memo:
        bars = flatten(found.extract.score)
        memo["finds"] = [] if bars is None else finds(bars, scope)
    fair = memo["finds"]
    if not fair:
        return None
    kinds = sorted({search.about for search, _ in fair})
    (about,) = rng.choices(kinds, [_SELDOM.get(kind, _OFTEN) for kind in kinds])
    search, places = rng.choice([one for one in fair if one[0].about == about])
    return Draft(FindInTheExtract(found.document, search, len(places), found.block, found.credit), Value(places=places))


def _pose(facts: FindInTheExtract, wording: Wording) -> Posed:
    what = "notes" if by_notes(facts.search.about) else "bars"
    blocks = extract_blocks(facts.extract, wording, block=facts.block, credit=facts.credit)
    ask = TextBlock(wording.say(search_words(facts.search, facts.count)))
    return Posed((ask, *blocks), PlacesForm(what, facts.count))


def _found(facts: FindInTheExtract) -> tuple[Place, ...]:
    find = FINDERS.get(facts.search.about)
    return () if find is None else tuple(sorted(find(line_of(facts.extract), facts.search)))


def _text(places: tuple[Place, ...]) -> str:
    if len(places) == 1 and places[0].note is not None:
        return f"bar {places[0].bar}, {ordinal(places[0].note)} note"
    if any(place.note is not None for place in places):
        return "; ".join(_text((place,)) for place in places)
    numbers = [str(place.bar) for place in places]
    if len(numbers) == 1:
        return f"bar {numbers[0]}"
    return f"bars {', '.join(numbers[:-1])} and {numbers[-1]}"


def _solve(facts: FindInTheExtract) -> tuple[Answer, ...]:
    places = _found(facts)
    if not places:
        return ()
    others = "no other note" if by_notes(facts.search.about) else "no other bar"
    reason = f"{how_to_find(facts.search)} That gives {_text(places)} and {others}."
    return (answer(Value(places=places), _text(places), reason),)


def _slips(facts: FindInTheExtract) -> tuple[Slip, ...]:
    wrong = wrong_finds(line_of(facts.extract), facts.search, _found(facts))
    upbeat = "The upbeat is not counted: bar 1 is the first whole bar."
    return tuple(
        slip(
            name,
            Value(places=places),
            _text(places),
            upbeat if name == UPBEAT else how_to_find(facts.search),
        )
        for name, places in wrong
    )


def _work(facts: FindInTheExtract, method: str) -> tuple[Step, ...]:
    places = _found(facts)
    ids: list[str] = []
    for bar in line_of(facts.extract):
        for note in bar.notes:
            if (Place(bar.number) in places or note.place in places) and note.note.id:
                ids.append(note.note.id)
    steps = [Step(how_to_find(facts.search), (), "")]
    if facts.search.bar:
        steps.append(Step(f"Look at bar {facts.search.bar} first, then at each other bar in turn.", (), ""))
    else:
        steps.append(Step("Go through the music bar by bar, and put a small tick where you find it.", (), ""))
    steps.append(Step(f"It is in {_text(places)}.", tuple(ids), "tick"))
    steps.append(Step("Check: count the bars again from the first whole bar.", (), ""))
    return tuple(steps)


_HARD = {
    "sequence": 0.6, "syncopation": 0.5, "interval": 0.5, "largest-leap": 0.3, "same-notes": 0.0, "same-rhythm": 0.2,
    "run-up": 0.0, "run-down": 0.0, "tuplet": -0.3, "held-over": 0.1, "accidental": -0.4, "value": -0.4, "rest": -0.8,
    "hairpin": -0.3, "loudest": -0.4, "quietest": -0.4, "marked": -0.4,
}  # fmt: skip


def _difficulty(facts: FindInTheExtract) -> float:
    """Patterns and intervals are harder to find than signs; two places are harder than one (common practice)."""
    return -0.6 + _HARD.get(facts.search.about, -0.2) + 0.2 * (facts.count - 1)


KIND = Kind(
    id="find-in-the-extract",
    topic="reading",
    since=1,
    title="Find it in the music",
    facts=FindInTheExtract,
    forms={"written": "places", "on-screen": "places"},
    set=_set,
    pose=_pose,
    solve=_solve,
    slips=_slips,
    work=_work,
    difficulty=_difficulty,
    skill=lambda facts: f"find-in-the-extract/{facts.search.about}",
    pool=lambda scope: None,
    seconds=40,
    marking=Marking("per-item"),
    extract=True,
    # One thing is looked for once in an extract while there is anything else: "repeats bar 1" answers "repeats bar 3".
    asks=lambda facts: facts.search.tokens | {f"find:{facts.search.about}"},
)
